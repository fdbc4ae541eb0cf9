"""The code beside an exercise that leads a phone's camera to its recording (QR Code, ISO/IEC 18004)."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import groupby
from typing import Any

from ..compose.book import Exercise
from .marks import Begins, Code, Link, Mark, Role, moved
from .setting import Setting, points
from .stack import Part

_QUIET = 4
"""Modules of white round a code (ISO/IEC 18004)."""

_LEAST_MODULE = 0.4
"""Millimetres: finer ones are lost on some printers and phones. Common practice, no source."""

_BEFORE = 4.0
"""Millimetres between a code and the words before it."""

_LEVEL = "M"
"""A code that can be read with 15 % of it gone."""

_DIGIT = re.compile(r"\d")


@dataclass(frozen=True, slots=True)
class RecordingCode:
    """A code in the upper right corner of an exercise, and the white that has to stay round it, in points.

    Of that white `width` and `height` hold what the style does not leave there anyway, on the right and above.
    """

    marks: tuple[Mark, ...]
    width: float
    height: float
    quiet: float

    @property
    def room(self) -> float:
        """What it takes of a line of words, with the white before it."""
        return self.width + max(self.quiet, points(_BEFORE))


def recording_code(exercise: Exercise, setting: Setting) -> RecordingCode | None:
    """The code of an exercise's recording; none where there is none, or the style leaves codes out."""
    look = setting.style.exercises
    if exercise.recording is None or not look.recordings:
        return None
    count, dark = _modules(exercise.recording)
    side = points(max(look.code, count * _LEAST_MODULE))
    quiet = side / count * _QUIET
    beside = min(points(setting.style.spacing.gap), setting.margin)
    right, above = (max(0.0, quiet - white) for white in (beside, points(look.space)))
    says = setting.words.say("exercise.recording", address=exercise.recording)
    marks = (
        Begins(Role.FIGURE, says=says),
        Code(0, 0, side / count, dark),
        Link(0, 0, side, side, exercise.recording, outside=True),
        Begins(Role.TEXT),
    )
    return RecordingCode(moved(marks, 0, above), side + right, side + above, quiet)


def least_head(code: RecordingCode | None, staff: float, room: float, gap: float) -> float:
    """How tall the head beside a code is at least, so that a staff `gap` under it keeps out of its white."""
    if code is None or staff + code.quiet + code.width <= room:
        return 0.0
    return code.height + max(0.0, code.quiet - gap)


def with_codes(part: Part, codes: Sequence[RecordingCode | None], room: float, step: float) -> Part:
    """A part with the code of each column at the right end of its frame of `room` points, `step` apart."""
    for column, code in enumerate(codes):
        if code:
            part = part.beside(Part(code.marks, code.height + code.quiet), column * step + room - code.width)
    return part


def _modules(address: str) -> tuple[int, tuple[tuple[int, int, int], ...]]:
    """How many modules a code of an address has to a side, and its runs of dark ones."""
    code = _code_of(address)
    code.makeImpl(False, _mask(_DIGIT.sub("0", address)))
    runs: list[tuple[int, int, int]] = []
    for row, modules in enumerate(code.modules):
        column = 0
        for dark, run in groupby(map(bool, modules)):
            count = len(list(run))
            if dark:
                runs.append((row, column, count))
            column += count
    return code.getModuleCount(), tuple(runs)


@cache
def _mask(address: str) -> int:
    """The best of the eight masks; to find it takes as long as twenty codes, so a book's addresses share one."""
    return int(_code_of(address).getBestMaskPattern())


def _code_of(address: str) -> Any:
    from reportlab.graphics.barcode.qr import QrCodeWidget

    code = QrCodeWidget(address, barLevel=_LEVEL).qr
    code.version = code.calculate_version()
    return code
