"""The place of a slot as an author writes it, remembered for every shape of bar."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from ..pattern.bar import Bar, Beat, Pattern
from ..pattern.counts import Place, counts_of
from ..pattern.meter import Meter
from ..pattern.stroke import SILENCE

_Shape = tuple[tuple[int, int, int], ...]


def place_at(pattern: Pattern, bar: int, slot: int) -> Place:
    """The place of a slot, both counted from 0; it names its bar when there are several.

    Bar -1 is the pickup, which has no number.
    """
    whole = pattern.pickup if bar < 0 and pattern.pickup else pattern.bars[bar]
    shape = tuple((beat.length.numerator, beat.length.denominator, len(beat.slots)) for beat in whole.beats)
    number, syllable, nth = _counts(whole.meter, shape)[slot]
    return Place(number, syllable, nth, bar + 1 if bar >= 0 and len(pattern.bars) > 1 else None)


@lru_cache(maxsize=512)
def _counts(meter: Meter, shape: _Shape) -> tuple[tuple[int, str, int | None], ...]:
    """Number, syllable and place from the number (None where there is a syllable) of each slot."""
    bar = Bar(meter, tuple(Beat(Fraction(top, bottom), (SILENCE,) * slots) for top, bottom, slots in shape))
    return tuple(
        (count.number, "", count.nth) if count.syllable is None else (count.number, count.syllable, None)
        for count in counts_of(bar)
    )
