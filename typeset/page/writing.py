"""A line for the reader to write on: faint rules under the slots, far enough apart for a pencil."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ..compose.engraving import System
from .lines import Kind
from .marks import Mark, Rule
from .setting import Setting, points

_ROW = 6.6
"""Millimetres from rule to rule: room for a letter written by hand."""

_SHARE = 0.72
"""How much of a slot's width its rule takes,"""

_WIDEST = 6.0
"""and the most it takes, in millimetres."""


@dataclass(frozen=True, slots=True)
class WritingLine:
    """Room for one line's letters; `wanted` holds how many each slot asks for, one over the other."""

    kind: Kind
    wanted: tuple[int, ...]
    ink: float

    @property
    def height(self) -> float:
        """From the top of the room for the first letters to the lowest rule, in points."""
        return points(_ROW) * max(self.wanted, default=0)

    def marks(self, middles: Sequence[float], top: float, scale: float) -> Iterable[Mark]:
        """A rule for every letter, round the middle of its slot."""
        room = min((right - left for left, right in pairwise(middles)), default=points(_WIDEST))
        half = min(room * _SHARE, points(_WIDEST)) / 2
        for middle, letters in zip(middles, self.wanted, strict=True):
            for row in range(letters):
                y = top + points(_ROW) * (row + 1)
                yield Rule(middle - half, y, middle + half, y, 0.6, self.ink)

    def scale(self, middles: Sequence[float]) -> float:
        """Rules fit between any neighbours."""
        return 1.0


def writing_line(kind: Kind, system: System, setting: Setting) -> WritingLine:
    """Room for the letters of every stroke, or for a count in every slot."""
    slots = [slot for bar in system.every_bar for slot in bar.slots]
    if kind == "counting":
        wanted = tuple(1 for _ in slots)
    elif setting.style.lines.together == "joined":
        wanted = tuple(min(1, len(slot)) for slot in slots)
    else:
        wanted = tuple(map(len, slots))
    return WritingLine(kind, wanted, setting.style.greys.rule)
