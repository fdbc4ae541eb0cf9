"""What is to be broken into systems: an exercise's bars in lines, and what that needs to know of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import pairwise

from ..pattern.bar import Bar, Pattern
from ..pattern.grid import QUARTER
from .engraving import METER_ROOM, REPEAT_ROOM, Hairpin, Volta
from .reach import (
    HALF_BARLINE,
    HALF_REPEAT,
    HEADS_AT_BARLINE,
    LEAST_AIR,
    LEAST_IN_TIGHT_LINES,
    room_at_barline,
    room_between,
)


@dataclass(frozen=True, slots=True)
class Line:
    """Bars that stand in one line; `first` is the number of the first of them, from 0."""

    first: int
    bars: tuple[Bar, ...]

    @property
    def end(self) -> int:
        """The number of the bar after its last."""
        return self.first + len(self.bars)

    @property
    def eighths(self) -> int:
        """How long its bars are together."""
        return eighths_of(self.bars)

    @property
    def quarters(self) -> float:
        """How many quarters that is."""
        return self.eighths / 2


@dataclass(frozen=True)
class Music:
    """What is to be broken, and what that needs to know of it.

    `staff_space` is in millimetres; `finest` are the shortest slots, in quarters, of which a full line has bars. In
    `tight` lines barlines have no more room than they must.
    """

    pattern: Pattern
    plays_on: bool
    staff_space: float
    finest: float
    times: int | None = None
    tight: bool = False

    @property
    def repeats(self) -> bool:
        """True where it opens with a repeat sign."""
        return self.plays_on or bool(self.pattern.endings)

    @cached_property
    def endings(self) -> tuple[tuple[int, int], ...]:
        """From which bar to before which each ending goes."""
        starts: list[int] = [self.pattern.body]
        for size in self.pattern.endings:
            starts.append(starts[-1] + size)
        return tuple(pairwise(starts))

    @cached_property
    def closings(self) -> frozenset[int]:
        """The bars before which a repeat closes."""
        return frozenset(end for _, end in self.endings[:-1])

    def with_upbeat(self, eighths: int) -> float:
        """So many eighths and the pickup, in quarters."""
        pickup = self.pattern.pickup
        return float(Fraction(eighths, 2) + pickup.length / QUARTER) if pickup else eighths / 2

    def signs(self, line: Line) -> float:
        """The room that meters and repeat signs inside a line take, in millimetres."""
        meters = sum(bar.meter != before.meter for before, bar in pairwise(line.bars))
        repeats = sum(line.first < bar < line.end for bar in self.closings)
        opens = line.first == 0 and self.pattern.pickup is not None and self.repeats
        return METER_ROOM * meters + REPEAT_ROOM * (repeats + opens)

    def is_crowded(self, quarter: float) -> bool:
        """True where neighbours in a bar would touch, a quarter being so many millimetres wide."""
        return any(quarter * length < room * self.staff_space for length, room in self._neighbours)

    @cached_property
    def _neighbours(self) -> tuple[tuple[float, float], ...]:
        """The length of each beat's slots in quarters, and the most room that one and its neighbour need."""
        found: list[tuple[float, float]] = []
        for bar in self.pattern.every_bar:
            slots, start = bar.slots, 0
            for beat in bar.beats:
                end = start + len(beat.slots)
                rooms = map(room_between, slots[start:end], slots[start + 1 : end + 1])
                found.append((in_quarters(beat.slot_length), max(rooms, default=0.0)))
                start = end
        return tuple(found)

    def ease_of_heads(self, quarter: float, slot: float = 1.0) -> float:
        """The room that heads need at a barline besides a slot's, which is so many quarters long.

        On a coarser grid it is that of the finest, so that barlines stand under each other down a page.
        """
        if self.tight:
            return 0.0
        apart = quarter * min(slot, self.finest)
        return round(max(0.0, HEADS_AT_BARLINE * self.staff_space - apart), 3)

    def eases(self, line: Line, quarter: float) -> tuple[float, ...]:
        """The room that is needed at the barlines of a line; nothing where none is."""
        pickup = self.pattern.pickup
        bars = (pickup, *line.bars) if pickup and line.first == 0 else line.bars
        air = LEAST_IN_TIGHT_LINES if self.tight else LEAST_AIR
        eases = [0.0]
        for number, (before, bar) in enumerate(pairwise(bars), start=line.end - len(bars) + 1):
            repeats = self.repeats if number == 0 else number in self.closings
            slot = in_quarters(before.beats[-1].slot_length)
            apart = quarter * slot + REPEAT_ROOM * repeats
            half = HALF_REPEAT if repeats else HALF_BARLINE
            needed = room_at_barline(before.slots[-1], bar.slots[0], half, air) * self.staff_space
            least = 0.0 if repeats else self.ease_of_heads(quarter, slot)
            eases.append(max(least, round(needed - apart, 3)))
        return tuple(eases) if any(eases) else ()

    def voltas(self, line: Line) -> Iterator[Volta]:
        """The brackets over a line."""
        for turns, (start, end) in zip(self.pattern.turns(self.times), self.endings, strict=True):
            first, last = max(start, line.first), min(end, line.end)
            if first < last:
                label = _label(turns) if first == start else ""
                yield Volta(first - line.first, last - first, label, last in self.closings)

    def hairpins(self, line: Line) -> Iterator[Hairpin]:
        """The signs of swells over a line."""
        if not self.pattern.swells:
            return
        begins, ends = self.pattern.barlines[line.first], self.pattern.barlines[line.end]
        for swell in self.pattern.swells:
            start, end = max(swell.start, begins), min(swell.end, ends)
            if start < end:
                yield Hairpin(start - begins, end - begins, swell.loudness(start), swell.loudness(end))

    def same(self, line: Line) -> Iterator[int]:
        """The bars of a line that are the one before once more, no louder and no softer, in the same ending."""
        starts = {start for start, _ in self.endings}
        for index, (before, bar) in enumerate(pairwise(line.bars), start=1):
            number = line.first + index
            if bar == before and number not in starts and not self._swells_around(number):
                yield index

    def _swells_around(self, number: int) -> bool:
        """True where a swell lies over a bar, by its number from 0, or over the one before."""
        return any(self.pattern.swells_over(bar) for bar in (number - 1, number))


def _label(turns: Sequence[int]) -> str:
    """How passes are numbered over an ending: `1.`, `1.2.`, `1.–3.`; nothing where it is never reached."""
    if len(turns) > 2:
        return f"{turns[0]}.–{turns[-1]}."
    return "".join(f"{turn}." for turn in turns)


def in_quarters(length: Fraction) -> float:
    """A length, as a fraction of a whole note, in quarters."""
    return 4 * length.numerator / length.denominator


def eighths_of(bars: Sequence[Bar]) -> int:
    """How many eighths some bars last together."""
    return sum([bar.meter.eighths for bar in bars])
