"""Running LilyPond: one process for many blocks, each a book of its own."""

from __future__ import annotations

import math
import os
import re
import shutil
import subprocess
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib import metadata, resources
from pathlib import Path

from ..pattern.sound import SOUNDS, Head, Sound
from ..problem import OutsideError

POINTS = 72 / 25.4
"""Points in a millimetre."""

_OPTIONS = ("-dbackend=cairo", "--pdf", "-dno-point-and-click", "--loglevel=ERROR")
_LONGEST_RUN = 600
"""Seconds after which a run is given up."""

# Guile's collector takes three quarters of a run (measured: 5.3 s against 1.3 s for 40 systems of two
# bars); without it a system costs 4 MB, so batches are kept small instead.
_ENVIRONMENT = {"GC_DONT_GC": "1", "LC_ALL": "C"}

# The page around a staff: millimetres left and right of it, and staff spaces from the page's top to the
# middle line and from there to the bottom, enough for a splash under beams, circle, accent and tuplet number.
_MARGIN = 2.0
_ABOVE, _BELOW = 16.0, 12.0

# What a page is short of whole points, for cairo rounds up.
_ROUNDING = 0.01

_STYLES = {
    Head.NORMAL: "default",
    Head.CROSS: "cross",
    Head.DIAMOND: "harmonic-mixed",
    Head.TRIANGLE: "do",
    Head.SLASHED: "shed-slashed",
    Head.CIRCLED_CROSS: "xcircle",
}

_REPORT = re.compile(r"^shed (\S+) (\S+) (\S+) (\S+) (\S+)$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Sheet:
    """What one block is set from: LilyPond's text of its music, and how wide that is in millimetres."""

    music: str
    width: float


@dataclass(frozen=True, slots=True)
class Paper:
    """The page of a sheet in points, whole ones, as cairo rounds to those; `middle` is the staff's middle
    line from the page's bottom, `left` the staff's left end from the page's left."""

    width: int
    height: int
    left: float
    middle: float


@dataclass(frozen=True, slots=True)
class Proof:
    """What came back: a PDF whose last page is the block, and the ink's box there in points."""

    pdf: bytes
    paper: Paper
    ink: tuple[float, float, float, float]


def paper_of(sheet: Sheet, staff_space: float) -> Paper:
    """The page that a sheet is set on; `staff_space` in millimetres."""
    width = math.ceil((sheet.width + 2 * _MARGIN) * POINTS)
    height = math.ceil((_ABOVE + _BELOW) * staff_space * POINTS)
    return Paper(width, height, _MARGIN * POINTS, height - _ABOVE * staff_space * POINTS)


def set_sheets(sheets: Sequence[Sheet], staff_height: float) -> tuple[Proof, ...]:
    """Set many sheets in one run of LilyPond; `staff_height` in millimetres.

    Raises OutsideError when there is no LilyPond, or it fails.
    """
    papers = [paper_of(sheet, staff_height / 4) for sheet in sheets]
    text = _header(staff_height)
    for index, (sheet, paper) in enumerate(zip(sheets, papers, strict=True)):
        text += _book(f"block{index}", sheet, paper)
    try:
        with tempfile.TemporaryDirectory(prefix="shedbook-") as name:
            folder = Path(name)
            report = _run(text, folder)
            inks = {found[1]: _numbers(found) for found in _REPORT.finditer(report)}
            return tuple(
                Proof((folder / f"block{index}.pdf").read_bytes(), paper, _box(inks[f"block{index}"], paper))
                for index, paper in enumerate(papers)
            )
    except OSError as error:
        raise OutsideError(f"LilyPond's files could not be written or read: {error}") from error
    except KeyError as error:
        raise OutsideError(f"LilyPond left out {error}; is it version 2.24?") from error


def _numbers(found: re.Match[str]) -> tuple[float, float, float, float]:
    left, low, right, high = (float(number) for number in found.groups()[1:])
    return left, low, right, high


def _box(ink: tuple[float, float, float, float], paper: Paper) -> tuple[float, float, float, float]:
    """From millimetres, measured from the page's upper left corner, to points from its lower left one."""
    left, low, right, high = (number * POINTS for number in ink)
    return left, paper.height + low, right, paper.height + high


def _run(text: str, folder: Path) -> str:
    """Run LilyPond in a folder of its own; what it prints is the report of staff.ily."""
    source = folder / "blocks.ly"
    source.write_text(text, encoding="utf-8")
    command = [str(engraver()), *_OPTIONS, source.name]
    environment = {**os.environ, **_ENVIRONMENT}
    try:
        done = subprocess.run(
            command, cwd=folder, env=environment, capture_output=True, encoding="utf-8", timeout=_LONGEST_RUN
        )
    except subprocess.TimeoutExpired as error:
        raise OutsideError(f"LilyPond was given up after {_LONGEST_RUN} seconds") from error
    if done.returncode != 0:
        words = done.stderr.strip()[-500:] or "none"
        raise OutsideError(f"LilyPond failed; its last words: {words}")
    return done.stdout


@cache
def engraver() -> Path:
    """LilyPond's program: the one from the package `lilypond`, else the one on PATH.

    Raises OutsideError when there is neither.
    """
    try:
        import lilypond
    except ImportError:
        found = shutil.which("lilypond")
    else:
        found = str(lilypond.executable())
    if not found:
        raise OutsideError(
            "there is no engraver: install LilyPond 2.24 with `pip install lilypond==2.24.3`, "
            "or by hand, so that `lilypond` is on PATH"
        )
    return Path(found)


@cache
def engraver_version() -> str:
    """What tells one engraver from another, without starting it.

    The package's version, or the size and date of the program on PATH.
    """
    try:
        return metadata.version("lilypond")
    except metadata.PackageNotFoundError:
        about = engraver().stat()
        return f"{engraver()} {about.st_size} {about.st_mtime_ns}"


def _header(staff_height: float) -> str:
    return (
        '\\version "2.24.0"\n'
        f"#(set-global-staff-size {staff_height * POINTS * 72.27 / 72:.6f})\n"
        f"#(define shed-above {_ABOVE})\n{_style_table()}\n"
        f"{staff_settings()}\n"
        f"\\paper {{ \\shedPaper left-margin = {_MARGIN}\\mm }}\n"
    )


def staff_settings() -> str:
    """LilyPond's text of how a staff is set."""
    return resources.files(__package__).joinpath("staff.ily").read_text(encoding="utf-8")


def _style_table() -> str:
    """LilyPond's table of drums, from our table of sounds: name, head, script, staff place."""
    rows = " ".join(_style_row(sound) for sound in SOUNDS.values())
    return f"#(define shed-drums (alist->hash-table '({rows})))"


def _style_row(sound: Sound) -> str:
    script = "open" if sound.open else "#f"
    return f"({sound.drum} {_STYLES[sound.head]} {script} {sound.place})"


def _book(name: str, sheet: Sheet, paper: Paper) -> str:
    return (
        f'\\book {{ \\bookOutputName "{name}" \\paper {{ paper-width = {(paper.width - _ROUNDING) / POINTS:.6f}\\mm'
        f" paper-height = {(paper.height - _ROUNDING) / POINTS:.6f}\\mm line-width = {sheet.width:.4f}\\mm }}\n"
        f'\\bookpart {{ \\shedGlyphs }} \\bookpart {{ \\paper {{ shed-name = "{name}" }} {sheet.music} }} }}\n'
    )
