"""An exercise as times in seconds: what sounds when, and which slot is reached when. No file, no other program."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import accumulate

from ..compose.book import Exercise
from ..pattern.bar import Bar
from ..pattern.swell import Swell
from ..pattern.swing import Swing, swing_of, swung
from .click import clicks_of
from .performance import Performance, tempos_of
from .strokes import TICKS, Hit, hits_of, ticks


@dataclass(frozen=True, slots=True)
class Sounding:
    """A sound: when, in seconds, on which General MIDI key, and how hard, from 1 to 127."""

    time: float
    key: int
    velocity: int


@dataclass(frozen=True, slots=True)
class Reached:
    """A slot of the exercise that is reached at a time in seconds; slots count from 0, a pickup's come first."""

    time: float
    slot: int


@dataclass(frozen=True, slots=True)
class Stretch:
    """Some music that is played through: what sounds in it, the clicks beside it, the slots that it passes.

    Everything is counted from its beginning, and it `lasts` so many seconds. A grace stroke before the first
    beat has a negative time.
    """

    drums: tuple[Sounding, ...]
    clicks: tuple[Sounding, ...]
    reached: tuple[Reached, ...]
    lasts: float


@dataclass(frozen=True, slots=True)
class Rounds:
    """An exercise at a tempo: a count-in of one bar with the pickup at its end, the pickup alone, and one round.

    Without a pickup that lasts no time. A round is once through the exercise, or as often as its endings ask for.
    """

    tempo: int
    count_in: Stretch
    pickup: Stretch
    round: Stretch


def rounds_of(exercise: Exercise, performance: Performance) -> Rounds:
    """An exercise as it is played once at its first tempo, swung as it is asked for."""
    pattern = exercise.pattern
    (tempo, *_) = tempos_of(exercise, performance)
    # So many seconds for one tick of a whole note.
    second = 60 / tempo / float(exercise.tempo_unit) / TICKS
    swing = swing_of(exercise.feel, performance.swing)
    starts = tuple(accumulate((len(bar.slots) for bar in pattern.every_bar), initial=0))
    first = pattern.bars[0].meter
    count_in, alone = _Playing(second, swing), _Playing(second, swing)
    if pattern.pickup:
        count_in.strike(pattern.pickup, 0, ())
        alone.pick_up(pattern.pickup)
    count_in.click(first.length, tuple(clicks_of(first)))
    around = _Playing(second, swing)
    ahead = 1 if pattern.pickup else 0
    for numbers in pattern.passes(exercise.times if pattern.endings else None):
        for number in numbers:
            bar = pattern.bars[number]
            around.strike(bar, starts[number + ahead], pattern.swells_over(number))
            around.click(bar.meter.length, tuple(clicks_of(bar.meter)))
    return Rounds(tempo, count_in.done(), alone.done(), around.done())


@dataclass
class _Playing:
    """What has been played so far, in ticks, one of which lasts a `second` part; it is only ever added to."""

    second: float
    swing: Swing | None
    now: int = 0
    drums: list[Hit] = field(default_factory=list)
    clicks: list[Hit] = field(default_factory=list)
    reached: list[tuple[int, int]] = field(default_factory=list)

    def strike(self, bar: Bar, slot: int, swells: tuple[Swell, ...]) -> None:
        """Play a bar, whose first slot has that number, from where we are; time does not go on."""
        hits = hits_of(bar, self.swing, self.second, swells)
        self.drums += (replace(hit, tick=self.now + hit.tick) for hit in hits)
        times = swung(bar, self.swing)[:-1]
        self.reached += ((self.now + ticks(time), slot + index) for index, time in enumerate(times))

    def pick_up(self, pickup: Bar) -> None:
        """Play a pickup by itself; time goes on to the first barline."""
        self.now -= ticks(pickup.meter.length - pickup.length)
        self.strike(pickup, 0, ())
        self.now += ticks(pickup.meter.length)

    def click(self, length: Fraction, hits: tuple[Hit, ...]) -> None:
        """Click through a bar; time goes on to its end."""
        self.clicks += (replace(hit, tick=self.now + hit.tick) for hit in hits)
        self.now += ticks(length)

    def done(self) -> Stretch:
        """All that was played, in seconds."""
        return Stretch(
            drums=tuple(self._sounding(sorted(self.drums))),
            clicks=tuple(self._sounding(self.clicks)),
            reached=tuple(Reached(tick * self.second, slot) for tick, slot in self.reached),
            lasts=self.now * self.second,
        )

    def _sounding(self, hits: list[Hit]) -> Iterator[Sounding]:
        for hit in hits:
            yield Sounding(hit.tick * self.second, hit.key, hit.velocity)
