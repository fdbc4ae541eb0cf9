"""Pieces that are longer than an exercise can be, cut into parts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ..pattern.draft import MOST_BARS
from ..pattern.order import LONGEST
from .piece import Piece
from .swells import swells_within

CUT_AFTER = 32
"""Bars of a part; an exercise of more than about two pages is not practised as one."""


def cut(piece: Piece) -> Iterator[Piece]:
    """The piece, or where it has more bars or slots than an exercise can have its parts, but for silent ones."""
    if len(piece.bars) <= MOST_BARS and sum(len(bar.slots) for bar in piece.bars) <= LONGEST:
        yield piece
        return
    for start in range(0, len(piece.bars), CUT_AFTER):
        bars = piece.bars[start : start + CUT_AFTER]
        if any(notes for bar in bars for notes in bar.slots):
            title = f"{piece.title}, bars {start + 1} to {start + len(bars)}"
            pickup = None if start else piece.pickup
            swells = swells_within(piece.swells, piece.bars, start, start + len(bars))
            yield replace(
                piece, title=title, bars=bars, loops=False, times=None, pickup=pickup, endings=(), swells=swells
            )
