"""Running LilyPond: one process for many blocks, each a book of its own."""

from __future__ import annotations

import errno
import math
import os
import re
import shutil
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from importlib import resources
from pathlib import Path

from ..compose.reach import BETWEEN_GRACES, GRACE
from ..pattern.sound import SOUNDS, Head, Sound
from ..problem import OutsideError
from .running import Ended, Engravers, Limits, has_room, minimal_environment, working_folder

POINTS = 72 / 25.4
"""Points in a millimetre."""

_OPTIONS = ("-dbackend=cairo", "--pdf", "-dno-point-and-click", "--loglevel=ERROR")
_SOURCE = "blocks.ly"

# What a run may take: so much, and so much more for each thousand letters of music. (Measured on a busy machine: 1
# to 2 s to start and 0.1 s for a system of a thousand letters; 330 MB of address space and 2.5 MB for each.)
_STALL, _STALL_A_THOUSAND = 30.0, 5.0
_MEMORY, _MEMORY_A_THOUSAND = 1_000_000_000, 10_000_000

# Guile's collector takes three quarters of a run (measured: 5.3 s against 1.3 s for 40 systems of two
# bars); without it a system costs 4 MB, so batches are kept small instead.
_ENVIRONMENT = minimal_environment(GC_DONT_GC="1", LC_ALL="C")

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

# A page among the objects of cairo's PDF.
_PAGE = re.compile(rb"/Type /Page\b")

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
    """What came back: a PDF, the number of the page that is the block, and the ink's box there in points.

    Pages are counted from 0; -1 is the last. The page may be wider than the paper.
    """

    pdf: bytes
    page: int
    paper: Paper
    ink: tuple[float, float, float, float]


def paper_of(sheet: Sheet, staff_space: float) -> Paper:
    """The page that a sheet is set on; `staff_space` in millimetres."""
    width = math.ceil((sheet.width + 2 * _MARGIN) * POINTS)
    height = math.ceil((_ABOVE + _BELOW) * staff_space * POINTS)
    return Paper(width, height, _MARGIN * POINTS, height - _ABOVE * staff_space * POINTS)


@dataclass(frozen=True, slots=True)
class Setting:
    """What came of a run: a proof for each sheet, or None where there was no whole one.

    Where one is missing, `fault` says what went wrong; the run `hung` where it was given up.
    """

    proofs: tuple[Proof | None, ...]
    fault: str
    hung: bool


def set_sheets(sheets: Sequence[Sheet], staff_height: float, engravers: Engravers | None = None) -> Setting:
    """Set many sheets in one run of LilyPond, one after the other; `staff_height` in millimetres.

    Raises OutsideError when there is no LilyPond, or no room for its files, and Stopped.
    """
    papers = [paper_of(sheet, staff_height / 4) for sheet in sheets]
    names = [f"block{index}" for index in range(len(sheets))]
    text = _header(staff_height) + "".join(map(_book, names, sheets, papers))
    with _run(text, limits_of(sheets), engravers or Engravers()) as (folder, ended):
        inks = {found[1]: _numbers(found) for found in _REPORT.finditer(ended.said)}
        proofs = tuple(
            _proof(folder / f"{name}.pdf", paper, inks.get(name)) for name, paper in zip(names, papers, strict=True)
        )
        if None in proofs and not has_room(folder):
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
    return Setting(proofs, ended.fault or "it left something out; is it version 2.24?", ended.hung)


@contextmanager
def _run(text: str, limits: Limits, engravers: Engravers) -> Iterator[tuple[Path, Ended]]:
    """One run of LilyPond: the folder of what it made, and how it ended."""
    command = [str(engraver()), *_OPTIONS, _SOURCE]
    with working_folder() as folder:
        (folder / _SOURCE).write_text(text, encoding="utf-8")
        try:
            ended = engravers.run(command, folder, _ENVIRONMENT, limits)
        except OSError as error:
            raise OutsideError(f"LilyPond at {command[0]} cannot be started: {error.strerror}") from error
        yield folder, ended


def session_command(source: str) -> tuple[list[str], Mapping[str, str]]:
    """What starts a LilyPond that sets batch after batch, and its environment. Raises OutsideError."""
    return [str(engraver()), *_OPTIONS, source], _ENVIRONMENT


def session_text() -> str:
    """What such a LilyPond is given first; it waits for `session_size` in it."""
    return _settings("(string->number ((@ (ice-9 rdelim) read-line)))") + _shipped("session.ily")


def session_size(staff_height: float) -> str:
    """The line that tells it how high a staff is; `staff_height` in millimetres."""
    return f"{staff_height * POINTS * 72.27 / 72:.6f}"


def batch_text(name: str, sheets: Sequence[Sheet], staff_height: float) -> str:
    """A batch as one book: a page of all glyphs, and one as wide as the widest for each sheet."""
    papers = [paper_of(sheet, staff_height / 4) for sheet in sheets]
    size = Paper(max(paper.width for paper in papers), papers[0].height, papers[0].left, papers[0].middle)
    parts = (_part(f"{name}-{index}", sheet) for index, sheet in enumerate(sheets))
    return f"{_book_of(name, size)}\n\\bookpart {{ \\shedGlyphs }}\n{''.join(parts)}}}\n"


def proofs_of(file: Path, name: str, sheets: Sequence[Sheet], staff_height: float, said: str) -> list[Proof] | None:
    """The proofs of a batch out of its PDF and what LilyPond printed; None where anything is missing."""
    pdf = file.read_bytes() if file.is_file() else b""
    inks = {found[1]: _numbers(found) for found in _REPORT.finditer(said)}
    names = [f"{name}-{index}" for index in range(len(sheets))]
    if not _is_whole(pdf) or len(_PAGE.findall(pdf)) != len(sheets) + 1 or not inks.keys() >= set(names):
        return None
    papers = [paper_of(sheet, staff_height / 4) for sheet in sheets]
    return [
        Proof(pdf, page, paper, _box(inks[name], paper))
        for page, (name, paper) in enumerate(zip(names, papers, strict=True), start=1)
    ]


def limits_of(sheets: Sequence[Sheet]) -> Limits:
    """What setting these sheets may take, by the length of their music: many times what it does take."""
    longest, whole = (size([len(sheet.music) for sheet in sheets]) / 1000 for size in (max, sum))
    return Limits(
        stall=_STALL + _STALL_A_THOUSAND * longest,
        seconds=math.ceil(_STALL + _STALL_A_THOUSAND * whole),
        memory=_MEMORY + math.ceil(_MEMORY_A_THOUSAND * whole),
    )


def _proof(file: Path, paper: Paper, ink: tuple[float, float, float, float] | None) -> Proof | None:
    """What was set; None where it is missing, or was broken off."""
    if ink is None or not file.is_file():
        return None
    pdf = file.read_bytes()
    return Proof(pdf, -1, paper, _box(ink, paper)) if _is_whole(pdf) else None


def _is_whole(pdf: bytes) -> bool:
    """Whether a PDF was written to its end; a disk may have been full."""
    return pdf.rstrip().endswith(b"%%EOF")


def _numbers(found: re.Match[str]) -> tuple[float, float, float, float]:
    left, low, right, high = (float(number) for number in found.groups()[1:])
    return left, low, right, high


def _box(ink: tuple[float, float, float, float], paper: Paper) -> tuple[float, float, float, float]:
    """From millimetres, measured from the page's upper left corner, to points from its lower left one."""
    left, low, right, high = (number * POINTS for number in ink)
    return left, paper.height + low, right, paper.height + high


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


def _header(staff_height: float) -> str:
    return _settings(session_size(staff_height))


def _settings(size: str) -> str:
    """How everything is set, on a staff of a size in TeX's points, which is a Scheme expression."""
    return (
        '\\version "2.24.0"\n'
        f"#(set-global-staff-size {size})\n"
        f"#(define shed-above {_ABOVE})\n{_style_table()}\n"
        f"#(define shed-before-head {GRACE})\n#(define shed-between-graces {BETWEEN_GRACES})\n"
        f"{staff_settings()}\n"
        f"\\paper {{ \\shedPaper left-margin = {_MARGIN}\\mm }}\n"
    )


def staff_settings() -> str:
    """LilyPond's text of how a staff is set."""
    return _shipped("staff.ily")


def _shipped(name: str) -> str:
    return resources.files(__package__).joinpath(name).read_text(encoding="utf-8")


def _style_table() -> str:
    """LilyPond's table of drums, from our table of sounds: name, head, script, staff place."""
    rows = " ".join(_style_row(sound) for sound in SOUNDS.values())
    return f"#(define shed-drums (alist->hash-table '({rows})))"


def _style_row(sound: Sound) -> str:
    script = "open" if sound.open else "#f"
    return f"({sound.drum} {_STYLES[sound.head]} {script} {sound.place})"


def _book(name: str, sheet: Sheet, paper: Paper) -> str:
    return f"{_book_of(name, paper)} \\bookpart {{ \\shedGlyphs }} {_part(name, sheet)}}}\n"


def _part(name: str, sheet: Sheet) -> str:
    """A page with a sheet's music, reported by a name."""
    return f'\\bookpart {{ \\paper {{ shed-name = "{name}" line-width = {sheet.width:.4f}\\mm }} {sheet.music} }}\n'


def _book_of(name: str, paper: Paper) -> str:
    """The beginning of a book on such paper, into a file of a name."""
    return (
        f'\\book {{ \\bookOutputName "{name}" \\paper {{ paper-width = {(paper.width - _ROUNDING) / POINTS:.6f}\\mm'
        f" paper-height = {(paper.height - _ROUNDING) / POINTS:.6f}\\mm }}"
    )
