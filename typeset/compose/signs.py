"""Signs that some books use and some do not, each on a few notes: endings, pickups, swells, tuplets."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from fractions import Fraction

from ..pattern.bar import Bar, Beat, pickup_bar
from ..pattern.grid import Grid
from ..pattern.limb import Limb
from ..pattern.meter import Meter
from ..pattern.sound import SNARE
from ..pattern.stroke import Slot, Stroke
from .book import Exercise, Sign
from .engraving import REPEAT_ROOM, Ending, Hairpin, System, Volta

_LEAD, _TAIL = 6.5, 1.2
"""Staff spaces before the first note, where the clef stands, and after the last slot."""

_QUARTER = Fraction(1, 4)
_NOTE: Slot = (Stroke(Limb.RIGHT, SNARE),)
_TWO = Meter(2, 4, (1, 1))


def signs_of(exercises: Iterable[Exercise], staff_space: float) -> tuple[Sign, ...]:
    """The signs that these exercises use, on a staff whose lines are so many millimetres apart."""
    exercises = tuple(exercises)
    return tuple(
        Sign(kind, drawn(staff_space)) for kind, (is_used, drawn) in _SIGNS.items() if any(map(is_used, exercises))
    )


def _endings(space: float) -> System:
    quarter, lead = 4.2 * space, (_LEAD + 1.4) * space
    bars = tuple(_bar(((_NOTE,),)) for _ in range(3))
    return System(
        bars,
        quarter,
        lead,
        lead + 3 * quarter + REPEAT_ROOM,
        opens_repeat=True,
        ending=Ending.FINAL,
        voltas=(Volta(1, 1, "1.", repeats=True), Volta(2, 1, "2.", repeats=False)),
    )


def _pickup(space: float) -> System:
    quarter = 3.6
    made = _system(space, quarter, [_bar(((_NOTE,), (_NOTE,)))])
    upbeat = pickup_bar(_TWO, Grid.of("quarters"), [_NOTE])
    return replace(made, pickup=upbeat, width=made.width + quarter * space)


def _swell(space: float) -> System:
    made = _system(space, 5.0, [_bar(((_NOTE, _NOTE), (_NOTE, _NOTE)))])
    return replace(made, hairpins=(Hairpin(Fraction(0), Fraction(3, 8), Fraction(0), Fraction(1)),))


def _tuplet(space: float) -> System:
    return _system(space, 6.0, [_bar(((_NOTE, _NOTE, _NOTE),))])


def _same(space: float) -> System:
    bar = _bar(((_NOTE,), (_NOTE,)))
    return replace(_system(space, 2.6, [bar, bar]), same=(1,))


def _bar(beats: tuple[tuple[Slot, ...], ...]) -> Bar:
    """A bar of quarters, each divided as it says."""
    meter = Meter(len(beats), 4, (1,) * len(beats))
    return Bar(meter, tuple(Beat(_QUARTER, slots) for slots in beats))


def _system(space: float, quarter: float, bars: list[Bar]) -> System:
    """Bars on a staff of their own; a quarter is so many staff spaces wide."""
    count = float(sum((bar.length for bar in bars), Fraction(0)) / _QUARTER)
    return System(tuple(bars), quarter * space, _LEAD * space, (_LEAD + count * quarter + _TAIL) * space)


def _beats(exercise: Exercise) -> Iterator[Beat]:
    return (beat for bar in exercise.pattern.every_bar for beat in bar.beats)


def _has_tuplets(exercise: Exercise) -> bool:
    """True where a beat is divided otherwise than by halves."""
    denominators = {beat.slot_length.denominator for beat in _beats(exercise)}
    return any(number & (number - 1) for number in denominators)


_SIGNS: dict[str, tuple[Callable[[Exercise], bool], Callable[[float], System]]] = {
    "tuplet": (_has_tuplets, _tuplet),
    "same-bar": (lambda one: any(system.same for system in one.systems), _same),
    "pickup": (lambda one: one.pattern.pickup is not None, _pickup),
    "endings": (lambda one: bool(one.pattern.endings), _endings),
    "swell": (lambda one: bool(one.pattern.swells), _swell),
}
"""Each sign with the exercises that use it, and how it is shown."""
