"""Stacking: parts that stand under or beside one another, and what belongs together on a page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from .breaking import Piece
from .marks import Mark, moved
from .refusals import DoesNotFit
from .setting import Setting, points

_LOOSER = 1.2
"""How much the white between parts may grow where a page is filled, against what it is."""


@dataclass(frozen=True, slots=True)
class Part:
    """Marks from their top left corner, and how tall they are, in points."""

    marks: tuple[Mark, ...]
    height: float

    def over(self, other: Part, gap: float) -> Part:
        """This part with another under it."""
        return Part((*self.marks, *moved(other.marks, 0, self.height + gap)), self.height + gap + other.height)

    def beside(self, other: Part, right: float) -> Part:
        """This part with another that begins `right` points to the right of it, their tops level."""
        return Part((*self.marks, *moved(other.marks, right)), max(self.height, other.height))


def pile(parts: Sequence[Part], gap: float) -> Part:
    """Parts under one another, `gap` points apart, as one; of no height where there are none."""
    whole, *others = parts or [Part((), 0.0)]
    for part in others:
        whole = whole.over(part, gap)
    return whole


def level(parts: Sequence[Part], step: float) -> Part:
    """Parts beside one another, their tops level and `step` points from one left end to the next."""
    whole, *others = parts
    for column, part in enumerate(others, start=1):
        whole = whole.beside(part, column * step)
    return whole


def stacked(name: str, parts: Sequence[Part], between: float, setting: Setting) -> tuple[Piece, ...]:
    """Parts from the top, `between` points apart, with the white of an exercise under them.

    They are parted only where together they are taller than a page.

    Raises DoesNotFit where a part alone is taller than a page.
    """
    look = setting.style.exercises
    space, stretch = points(look.space), points(max(0.0, look.most_space - look.space))
    if max(setting.rounded(part.height) for part in parts) > setting.depth:
        raise DoesNotFit(f"{name}: its words and a line of music are taller than a page; use fewer words")
    pieces = [
        Piece(setting.rounded(part.height), part.marks, between, between * _LOOSER, tied=True) for part in parts
    ]
    return (*pieces[:-1], replace(pieces[-1], after=space, stretch=stretch, tied=False))
