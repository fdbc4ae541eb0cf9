"""What is heard of a stroke: how hard it is hit, the grace strokes before it, the strokes in its time.

The loudness of accents and ghost strokes and the spacing of grace strokes are common practice, no
source; a player hears an accent well above and a ghost stroke well below the plain ones.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from ..pattern.bar import Bar
from ..pattern.stroke import Dynamic, Ornament, Stroke
from ..pattern.swell import Swell, loudness_at
from ..pattern.swing import Swing, swung

TICKS = 4 * 3360
"""Ticks of a whole note: every grid, and half of every slot, comes out whole."""

VELOCITIES = {Dynamic.GHOST: 36, Dynamic.PLAIN: 84, Dynamic.ACCENT: 118}
"""How hard a stroke is hit, as a MIDI velocity of 1 to 127."""

_SOFTEST = Fraction(2, 5)
"""How hard a stroke is hit where a swell is softest, beside what is written (our own figure)."""

_GRACES = {Ornament.FLAM: 1, Ornament.DRAG: 2}
_GRACE_VELOCITY = 40
_GRACE_SPACING = 0.035
"""Seconds from a grace stroke to the next stroke, where the tempo leaves the time."""

_SECOND_OF_DOUBLE = 0.88
"""How hard the rebound of a double stroke is beside its first."""

_BUZZ_SPACING = 0.035
"""Seconds between the rebounds of a pressed stick."""

_BUZZ_LONGEST = 0.4
"""Seconds after which a pressed stick lies still."""


@dataclass(frozen=True, slots=True, order=True)
class Hit:
    """One sound: when and for how long, in ticks; which General MIDI key, and how hard."""

    tick: int
    key: int
    velocity: int
    length: int


def ticks(time: Fraction) -> int:
    """A time in whole notes as ticks."""
    return round(time * TICKS)


def velocity_of(dynamic: Dynamic, loudness: Fraction = Fraction(1)) -> int:
    """How hard a stroke is hit, as a MIDI velocity of 1 to 127.

    `loudness` is from 0, where a swell is soft, to 1, as loud as written.
    """
    return round(VELOCITIES[dynamic] * (_SOFTEST + (1 - _SOFTEST) * loudness))


def hits_of(bar: Bar, swing: Swing | None, tick: float, swells: tuple[Swell, ...] = ()) -> Iterator[Hit]:
    """Everything that is heard of a bar or of a pickup, counted from its barline; `swells` likewise.

    `tick` is how many seconds one tick lasts. A grace stroke on the first beat has a negative time.
    """
    times = [ticks(time) for time in swung(bar, swing)]
    for slot, onset, begin, end in zip(bar.slots, bar.onsets, times, times[1:], strict=False):
        for stroke in slot:
            velocity = velocity_of(stroke.dynamic, loudness_at(swells, onset))
            yield from _heard(stroke, velocity, begin, end - begin, tick)


def _heard(stroke: Stroke, velocity: int, begin: int, length: int, tick: float) -> Iterator[Hit]:
    """A stroke with its ornament; `begin` and `length` of its slot in ticks."""
    key = stroke.sound.midi
    match stroke.ornament:
        case Ornament.DIDDLE:
            half = length // 2
            yield Hit(begin, key, velocity, half)
            yield Hit(begin + half, key, round(velocity * _SECOND_OF_DOUBLE), length - half)
        case Ornament.BUZZ:
            yield from _buzz(Hit(begin, key, velocity, length), tick)
        case Ornament.FLAM | Ornament.DRAG:
            graces = _GRACES[stroke.ornament]
            spacing = min(round(_GRACE_SPACING / tick), length // (graces + 1))
            softer = min(_GRACE_VELOCITY, velocity - 4)
            for number in range(graces, 0, -1):
                yield Hit(begin - number * spacing, key, softer, spacing)
            yield Hit(begin, key, velocity, length)
        case None:
            yield Hit(begin, key, velocity, length)


def _buzz(stroke: Hit, tick: float) -> Iterator[Hit]:
    """A pressed stroke: rebounds that follow fast and die away over its slot."""
    lasts = min(stroke.length, round(_BUZZ_LONGEST / tick))
    rebounds = max(3, round(lasts * tick / _BUZZ_SPACING))
    for number in range(rebounds):
        begin, end = lasts * number // rebounds, lasts * (number + 1) // rebounds
        velocity = round(stroke.velocity * (1 - 0.7 * number / rebounds))
        yield Hit(stroke.tick + begin, stroke.key, velocity, end - begin)
