"""Beats, bars and patterns: music set in time. Frozen values, nothing else."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property, lru_cache
from itertools import accumulate, chain

from .grid import Grid, divide
from .meter import Meter
from .stroke import SILENCE, Slot, Stroke
from .swell import Swell
from .value import Value


@dataclass(frozen=True, slots=True)
class Beat:
    """A beat's length as a fraction of a whole note, and its even slots."""

    length: Fraction
    slots: tuple[Slot, ...]

    @property
    def slot_length(self) -> Fraction:
        """One slot as a fraction of a whole note."""
        return self.length / len(self.slots)


Shape = tuple[tuple[int, int, int], ...]
"""Each beat's length, as top and bottom of a fraction of a whole note, and its number of slots."""


class _Time:
    """When the slots of a bar come, whatever is played in them: one for all bars made from one another."""

    def __init__(self, meter: Meter, beats: tuple[Beat, ...]) -> None:
        self.meter = meter
        self.beats = beats

    @cached_property
    def lead(self) -> Fraction:
        return self.meter.length - sum((beat.length for beat in self.beats), Fraction(0))

    @cached_property
    def onsets(self) -> tuple[Fraction, ...]:
        onsets: list[Fraction] = []
        start = self.lead
        for beat in self.beats:
            step = beat.slot_length
            onsets += [start + index * step for index in range(len(beat.slots))]
            start += beat.length
        return tuple(onsets)

    @cached_property
    def slot_lengths(self) -> tuple[Fraction, ...]:
        lengths: list[Fraction] = []
        for beat in self.beats:
            lengths += [beat.slot_length] * len(beat.slots)
        return tuple(lengths)

    @cached_property
    def shortest(self) -> Fraction:
        return min(beat.slot_length for beat in self.beats)

    @cached_property
    def shape(self) -> Shape:
        return tuple((beat.length.numerator, beat.length.denominator, len(beat.slots)) for beat in self.beats)


@dataclass(frozen=True)
class Bar(Value):
    """A bar: its meter and its beats, which fill it exactly; in a pickup they fill its end alone."""

    meter: Meter
    beats: tuple[Beat, ...]

    def __hash__(self) -> int:
        return self._hash

    @cached_property
    def _hash(self) -> int:
        return hash((self.meter, self.beats))

    @cached_property
    def _time(self) -> _Time:
        return _Time(self.meter, self.beats)

    @property
    def lead(self) -> Fraction:
        """What a pickup lacks at its beginning, as a fraction of a whole note; 0 in a whole bar."""
        return self._time.lead

    @property
    def length(self) -> Fraction:
        """How long it lasts, as a fraction of a whole note."""
        return self.meter.length - self.lead

    @cached_property
    def slots(self) -> tuple[Slot, ...]:
        """All slots of the bar in order."""
        return tuple(chain.from_iterable([beat.slots for beat in self.beats]))

    @property
    def onsets(self) -> tuple[Fraction, ...]:
        """When each slot begins, as a fraction of a whole note from the barline."""
        return self._time.onsets

    @property
    def slot_lengths(self) -> tuple[Fraction, ...]:
        """How long each slot lasts, as a fraction of a whole note."""
        return self._time.slot_lengths

    @property
    def shortest(self) -> Fraction:
        """How long its shortest slots last, likewise."""
        return self._time.shortest

    @property
    def shape(self) -> Shape:
        """How its beats are divided: alike in bars that differ in what is played alone."""
        return self._time.shape

    def with_slots(self, slots: Sequence[Slot]) -> Bar:
        """The same bar holding other slots, as many as it has."""
        beats: list[Beat] = []
        start = 0
        for beat in self.beats:
            end = start + len(beat.slots)
            beats.append(Beat(beat.length, tuple(slots[start:end])))
            start = end
        made = Bar(self.meter, tuple(beats))
        # What is known of its time need not be worked out again.
        vars(made)["_time"] = self._time
        return made


@dataclass(frozen=True)
class Pattern(Value):
    """An exercise's music: one bar after the other, and what is played before the first.

    A pickup is not among the bars, and its slots are not among the slots. `endings` says how many bars
    each ending has: they are the last of the bars, one ending after the other, and on each pass the next
    of them follows what comes before. `swells` lie over the bars in order and do not overlap.
    """

    bars: tuple[Bar, ...]
    pickup: Bar | None = None
    endings: tuple[int, ...] = ()
    swells: tuple[Swell, ...] = ()

    @property
    def every_bar(self) -> tuple[Bar, ...]:
        """The bars, and before them the pickup where there is one."""
        return (self.pickup, *self.bars) if self.pickup else self.bars

    @property
    def body(self) -> int:
        """How many bars come before the endings: all of them where there are none."""
        return len(self.bars) - sum(self.endings)

    def turns(self, times: int | None = None) -> tuple[tuple[int, ...], ...]:
        """For each ending the passes, from 1, on which it is played, out of so many.

        As many as there are endings where that is not said. Of more passes the first ending takes those that
        are over; of fewer, the first endings get none.
        """
        count = len(self.endings)
        times = times or count
        taken = [max(0, count - times + turn) for turn in range(times)]
        return tuple(
            tuple(turn for turn, ending in enumerate(taken, start=1) if ending == number) for number in range(count)
        )

    def passes(self, times: int | None = None) -> tuple[tuple[int, ...], ...]:
        """For each pass the numbers of its bars, from 0; once through, or once to each ending, where not said."""
        through = tuple(range(self.body))
        if not self.endings:
            return (through,) * (times or 1)
        ended: dict[int, tuple[int, ...]] = {}
        start = self.body
        for size, turns in zip(self.endings, self.turns(times), strict=True):
            ended |= dict.fromkeys(turns, (*through, *range(start, start + size)))
            start += size
        return tuple(ended[turn] for turn in sorted(ended))

    @cached_property
    def course(self) -> tuple[int, ...]:
        """The numbers of the bars, from 0, as they are played until the end."""
        return tuple(number for numbers in self.passes() for number in numbers)

    @property
    def played(self) -> tuple[Bar, ...]:
        """The bars as they are played until the end."""
        return tuple(self.bars[number] for number in self.course) if self.endings else self.bars

    @cached_property
    def slots(self) -> tuple[Slot, ...]:
        """All slots of all bars in order."""
        return tuple(chain.from_iterable([bar.slots for bar in self.bars]))

    def swells_over(self, number: int) -> tuple[Swell, ...]:
        """The swells, wholly or in part, over a bar by its number from 0, counted from its barline."""
        if not self.swells:
            return ()
        begins, ends = self.barlines[number], self.barlines[number + 1]
        return tuple(swell.moved(-begins) for swell in self.swells if swell.start < ends and swell.end >= begins)

    @property
    def length(self) -> Fraction:
        """The whole length as a fraction of a whole note."""
        return self.barlines[-1]

    @property
    def strokes(self) -> Iterator[Stroke]:
        """Every stroke in order of time, those of the pickup too."""
        return (stroke for bar in self.every_bar for slot in bar.slots for stroke in slot)

    @cached_property
    def barlines(self) -> tuple[Fraction, ...]:
        """When each bar begins, and the last ends, as a fraction of a whole note from the first barline."""
        return tuple(accumulate((bar.meter.length for bar in self.bars), initial=Fraction(0)))

    @cached_property
    def onsets(self) -> tuple[Fraction, ...]:
        """When each slot begins, likewise."""
        return tuple(
            start + onset for start, bar in zip(self.barlines, self.bars, strict=False) for onset in bar.onsets
        )

    def with_slots(self, slots: Sequence[Slot]) -> Pattern:
        """The same bars holding other slots, as many as they have."""
        bars: list[Bar] = []
        start = 0
        for bar in self.bars:
            size = len(bar.slots)
            bars.append(bar.with_slots(slots[start : start + size]))
            start += size
        return Pattern(tuple(bars), self.pickup, self.endings, self.swells)


def bars_in_words(count: int) -> str:
    """A number of bars as a message says it."""
    return "1 bar" if count == 1 else f"{count} bars"


@lru_cache(maxsize=256)
def empty_bar(meter: Meter, grid: Grid) -> Bar:
    """A silent bar of a meter on a grid. Raises GridError where the two do not go together."""
    return Bar(meter, tuple(Beat(length, (SILENCE,) * count) for length, count in divide(meter, grid)))


def pickup_bar(meter: Meter, grid: Grid, slots: Sequence[Slot]) -> Bar:
    """The end of a bar that holds these slots. Raises ValueError where they would fill a bar or more."""
    whole = empty_bar(meter, grid)
    if len(slots) >= len(whole.slots):
        raise ValueError(f"a pickup is shorter than a bar, and {len(slots)} slots fill one of {meter}")
    missing = len(whole.slots) - len(slots)
    beats: list[Beat] = []
    for beat in whole.beats:
        kept = len(beat.slots) - min(missing, len(beat.slots))
        missing -= len(beat.slots) - kept
        if kept:
            beats.append(Beat(kept * beat.slot_length, beat.slots[:kept]))
    return Bar(meter, tuple(beats)).with_slots(slots)
