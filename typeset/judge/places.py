"""The place of a slot as an author writes it."""

from __future__ import annotations

from ..pattern.bar import Pattern
from ..pattern.counts import Place, counts_of


def place_at(pattern: Pattern, bar: int, slot: int) -> Place:
    """The place of a slot, both counted from 0; it names its bar when there are several.

    Bar -1 is the pickup, which has no number.
    """
    whole = pattern.pickup if bar < 0 and pattern.pickup else pattern.bars[bar]
    count = counts_of(whole)[slot]
    nth = count.nth if count.syllable is None else None
    return Place(count.number, count.syllable or "", nth, bar + 1 if bar >= 0 and len(pattern.bars) > 1 else None)
