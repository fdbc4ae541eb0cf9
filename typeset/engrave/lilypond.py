"""Running LilyPond: one process for many blocks, each a book of its own."""

from __future__ import annotations

import math
import os
import re
import shutil
import subprocess
import tempfile
from collections.abc import Iterable, Sequence
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
# middle line and from there to the bottom, enough for a high cymbal under beam, accent and tuplet number.
_MARGIN = 2.0
_ABOVE, _BELOW = 11.0, 8.0

# What a page is short of whole points, for cairo rounds up.
_ROUNDING = 0.01

_STYLES = {
    Head.NORMAL: "default",
    Head.CROSS: "cross",
    Head.DIAMOND: "diamond",
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
    space = staff_height / 4
    papers = [paper_of(sheet, space) for sheet in sheets]
    text = _header(staff_height) + "".join(
        _book(f"block{index}", sheet, paper) for index, (sheet, paper) in enumerate(zip(sheets, papers, strict=True))
    )
    with tempfile.TemporaryDirectory(prefix="shedbook-") as folder:
        report = _run(text, Path(folder))
        inks = {found[1]: tuple(float(number) for number in found.groups()[1:]) for found in _REPORT.finditer(report)}
        proofs = []
        for index, paper in enumerate(papers):
            left, low, right, high = inks[f"block{index}"]
            ink = (left * POINTS, paper.height + low * POINTS, right * POINTS, paper.height + high * POINTS)
            proofs.append(Proof((Path(folder) / f"block{index}.pdf").read_bytes(), paper, ink))
    return tuple(proofs)


def _run(text: str, folder: Path) -> str:
    source = folder / "blocks.ly"
    source.write_text(text, encoding="utf-8")
    environment = {**os.environ, **_ENVIRONMENT}
    try:
        done = subprocess.run(
            [str(engraver()), *_OPTIONS, source.name],
            cwd=folder, env=environment, capture_output=True, text=True, timeout=_LONGEST_RUN, check=False,
        )  # fmt: skip
    except OSError as error:
        raise OutsideError(f"LilyPond could not be started: {error}") from error
    except subprocess.TimeoutExpired as error:
        raise OutsideError(f"LilyPond was given up after {_LONGEST_RUN} seconds; try again with --jobs 1") from error
    if done.returncode != 0:
        raise OutsideError(f"LilyPond failed; its last words: {done.stderr.strip()[-500:] or 'none'}")
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
        raise OutsideError("there is no engraver: install LilyPond 2.24 (pip install lilypond==2.24.3, or so that `lilypond` is on PATH)")
    return Path(found)


@cache
def engraver_version() -> str:
    """What tells one engraver from another without starting it: the package's version, or the program's size and date."""
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
