"""The click: which beats of a bar it marks, and with what sound."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from ..pattern.meter import Meter
from .strokes import Hit, ticks

# The wood blocks of General MIDI's percussion key map: no sound of the kit is taken for them.
HIGH_BLOCK, LOW_BLOCK = 76, 77

_DOWNBEAT, _BEAT, _BETWEEN = (HIGH_BLOCK, 105), (LOW_BLOCK, 90), (LOW_BLOCK, 50)
_LENGTH = ticks(Fraction(1, 32))


def clicks_of(meter: Meter, start: int = 0) -> Iterator[Hit]:
    """The clicks of one bar that begins at a tick: on its beats, the first of them higher.

    Where a tempo counts eighths, as in 7/8, those between the beats click softly too.
    """
    beats = [sum(meter.beats[:number], Fraction(0)) for number in range(len(meter.beats))]
    step = min(meter.tempo_unit, *meter.beats)
    for number in range(int(meter.length / step)):
        time = number * step
        if time == 0:
            key, velocity = _DOWNBEAT
        else:
            key, velocity = _BEAT if time in beats else _BETWEEN
        yield Hit(start + ticks(time), key, velocity, _LENGTH)
