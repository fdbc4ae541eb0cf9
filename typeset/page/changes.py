"""Marks at the notes that differ from the exercise they grew out of."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from ..compose.engraving import System
from .marks import Mark, Rule
from .setting import Setting, points

_LENGTH, _THICK = 0.62, 0.19
"""How long and how thick a bar under a count is, in ems of the counts: a shape that no note head has."""

_APART = 1.0
"""How far under the letters it stands, in millimetres."""

_OVER = 0.9
"""How far a band reaches out over its letters, in millimetres."""


def changes_by_system(systems: Sequence[System], changed: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """The changed slots of an exercise, from 0, as slots of each of its systems; a pickup's come before them."""
    first = 0
    for system in systems:
        before = len(system.pickup.slots) if system.pickup else 0
        count = sum(len(bar.slots) for bar in system.bars)
        yield tuple(before + slot - first for slot in changed if first <= slot < first + count)
        first += count


def change_marks(
    changed: Sequence[float], middles: Sequence[float], top: float, foot: float, setting: Setting
) -> tuple[tuple[Mark, ...], float]:
    """Marks round those middles as the style has them, and where the system ends with them.

    `top` and `foot` are the upper and the lower end of the letters under the staff, or of the staff where
    there are none.
    """
    style = setting.style
    if not changed or style.exercises.changes == "none":
        return (), foot
    if style.exercises.changes == "mark":
        reach, thick = style.type.count * _LENGTH / 2, style.type.count * _THICK
        y = foot + points(_APART) + thick / 2
        return tuple(Rule(x - reach, y, x + reach, y, thick, style.greys.text) for x in changed), y + thick / 2
    width = min((right - left for left, right in pairwise(middles)), default=points(5))
    over = points(_OVER)
    ink = style.greys.tint
    return tuple(Rule(x, top - over, x, foot + over, width, ink) for x in changed), foot + over
