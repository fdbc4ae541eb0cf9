"""Breaks an exercise's bars into systems: how wide a quarter is, and which bars share a line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import pairwise
from math import floor

from ..pattern.bar import Bar, Pattern
from ..pattern.grid import QUARTER
from ..style.model import Spacing
from .book import METER_ROOM, REPEAT_ROOM, Ending, Hairpin, System, Volta
from .reach import HALF_BARLINE, HALF_REPEAT, room_at_barline, room_between

# A line holds up to sixteen eighths, two bars of 4/4, before anything crowds (our own figure).
_ROOMIEST = 16

# How far a bar that has a line to itself is spread: its slots are at most so many comfortable ones wide (our own).
_SPREAD = 2.5


class TooWide(ValueError):
    """A bar that does not fit the style's measure, even at the narrowest slot that it allows."""


def break_into_systems(
    pattern: Pattern, plays_on: bool, spacing: Spacing, times: int | None = None
) -> tuple[System, ...]:
    """The systems of an exercise, from the first bar to the last.

    All systems of an exercise have quarters of one width, and all exercises of the same meter and
    density have the same, so that counts stand under each other down a page. `times` is how often an
    exercise with endings is played. Raises TooWide.
    """
    music = _Music(pattern, plays_on, spacing.staff_space, times)
    quarter, lines = _lines(music, spacing.measure - spacing.lead - spacing.tail, spacing)
    return tuple(_systems(music, lines, quarter, spacing))


def half_line(pattern: Pattern, plays_on: bool, spacing: Spacing) -> tuple[System, ...] | None:
    """One bar on half a line, so that two exercises can share it; None where it would be crowded."""
    if len(pattern.bars) != 1 or pattern.pickup:
        return None
    line = _Line(0, pattern.bars)
    room = (spacing.measure - spacing.gap) / 2 - spacing.lead - spacing.tail
    quarter = floor(1000 * room / line.quarters) / 1000
    music = _Music(pattern, plays_on, spacing.staff_space)
    narrowest = quarter * _in_quarters(pattern.bars[0].shortest)
    if narrowest < spacing.shared_slot or music.is_crowded(quarter):
        return None
    return tuple(_systems(music, [line], quarter, spacing))


def lone_line(pattern: Pattern, plays_on: bool, spacing: Spacing) -> tuple[System, ...] | None:
    """One bar that has a line to itself: on half of it, with words beside it, or spread along all of it.

    None for what is not one bar.
    """
    halved = half_line(pattern, plays_on, spacing)
    if halved or len(pattern.bars) != 1 or pattern.pickup:
        return halved
    line = _Line(0, pattern.bars)
    densest = _in_quarters(pattern.bars[0].shortest)
    room = spacing.measure - spacing.lead - spacing.tail
    quarter = min(room / line.quarters, _SPREAD * spacing.slot / densest)
    music = _Music(pattern, plays_on, spacing.staff_space)
    return tuple(_systems(music, [line], floor(1000 * quarter) / 1000, spacing))


@dataclass(frozen=True, slots=True)
class _Line:
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
        return _eighths(self.bars)

    @property
    def quarters(self) -> float:
        """How many quarters that is."""
        return self.eighths / 2


@dataclass(frozen=True)
class _Music:
    """What is to be broken, and what that needs to know of it; `staff_space` in millimetres."""

    pattern: Pattern
    plays_on: bool
    staff_space: float
    times: int | None = None

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

    def signs(self, line: _Line) -> float:
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
        """The length of each beat's slots in quarters, and the most room that one of them and its neighbour need."""
        found: list[tuple[float, float]] = []
        for bar in self.pattern.every_bar:
            slots, start = bar.slots, 0
            for beat in bar.beats:
                end = start + len(beat.slots)
                rooms = map(room_between, slots[start:end], slots[start + 1 : end + 1])
                found.append((_in_quarters(beat.slot_length), max(rooms, default=0.0)))
                start = end
        return tuple(found)

    def eases(self, line: _Line, quarter: float) -> tuple[float, ...]:
        """The room that ornaments and parentheses need at the barlines of a line; nothing where none do."""
        pickup = self.pattern.pickup
        bars = (pickup, *line.bars) if pickup and line.first == 0 else line.bars
        eases = [0.0]
        for number, (before, bar) in enumerate(pairwise(bars), start=line.end - len(bars) + 1):
            repeats = self.repeats if number == 0 else number in self.closings
            apart = quarter * _in_quarters(before.beats[-1].slot_length) + REPEAT_ROOM * repeats
            half = HALF_REPEAT if repeats else HALF_BARLINE
            needed = room_at_barline(before.slots[-1], bar.slots[0], half) * self.staff_space
            eases.append(round(max(0.0, needed - apart), 3))
        return tuple(eases) if any(eases) else ()

    def voltas(self, line: _Line) -> Iterator[Volta]:
        """The brackets over a line."""
        for turns, (start, end) in zip(self.pattern.turns(self.times), self.endings, strict=True):
            first, last = max(start, line.first), min(end, line.end)
            if first < last:
                label = _label(turns) if first == start else ""
                yield Volta(first - line.first, last - first, label, last in self.closings)

    def hairpins(self, line: _Line) -> Iterator[Hairpin]:
        """The signs of swells over a line."""
        begins, ends = self.pattern.barlines[line.first], self.pattern.barlines[line.end]
        for swell in self.pattern.swells:
            start, end = max(swell.start, begins), min(swell.end, ends)
            if start < end:
                yield Hairpin(start - begins, end - begins, swell.loudness(start), swell.loudness(end))

    def same(self, line: _Line) -> Iterator[int]:
        """The bars of a line that are the one before once more, no louder and no softer, in the same ending."""
        starts = {start for start, _ in self.endings}
        for index, (before, bar) in enumerate(pairwise(line.bars), start=1):
            number = line.first + index
            swells = self.pattern.swells_over(number - 1) + self.pattern.swells_over(number)
            if bar == before and number not in starts and not swells:
                yield index


def _label(turns: Sequence[int]) -> str:
    """How passes are numbered over an ending: `1.`, `1.2.`, `1.–3.`; nothing where it is never reached."""
    if len(turns) > 2:
        return f"{turns[0]}.–{turns[-1]}."
    return "".join(f"{turn}." for turn in turns)


def _systems(music: _Music, lines: Sequence[_Line], quarter: float, spacing: Spacing) -> Iterator[System]:
    meter = None
    for line in lines:
        meters_at = []
        for index, bar in enumerate(line.bars):
            if bar.meter != meter:
                meters_at.append(index)
            meter = bar.meter
        is_first, is_last = line is lines[0], line is lines[-1]
        eases = music.eases(line, quarter)
        room = music.signs(line) + sum(eases)
        quarters = music.with_upbeat(line.eighths) if is_first else line.quarters
        width = spacing.lead + quarter * quarters + room + spacing.tail
        ending = Ending.REPEAT if line.end in music.closings else Ending.BAR
        yield System(
            bars=line.bars,
            quarter=quarter,
            lead=spacing.lead,
            width=round(width, 4),
            meters_at=tuple(meters_at),
            opens_repeat=music.repeats and is_first,
            ending=(Ending.REPEAT if music.plays_on else Ending.FINAL) if is_last else ending,
            pickup=music.pattern.pickup if is_first else None,
            voltas=tuple(music.voltas(line)),
            hairpins=tuple(music.hairpins(line)),
            same=tuple(music.same(line)),
            eases=eases,
        )


def _lines(music: _Music, room: float, spacing: Spacing) -> tuple[float, Sequence[_Line]]:
    """The width of a quarter in millimetres, and the bars of each line."""
    bars = music.pattern.bars
    densest = _in_quarters(min(bar.shortest for bar in bars))
    longest = max(bar.meter.eighths for bar in bars)
    limits = sorted({_fill(bar, _ROOMIEST) for bar in bars} | {_ROOMIEST}, reverse=True)
    limits += [limit for limit in _fewer(longest, _ROOMIEST) if limit < limits[-1]]
    for limit in limits:
        if limit < longest:
            continue
        lines = _fill_lines(music, limit)
        widest = max([line.eighths for line in lines] + [_fill(bar, limit) for bar in bars])
        quarter = _quarter(music, lines, widest, room)
        if quarter * densest >= spacing.slot and not music.is_crowded(quarter):
            return quarter, lines
    lines = _fill_lines(music, longest)
    quarter = _quarter(music, lines, longest, room)
    slot = quarter * densest
    if slot < spacing.least_slot:
        bar = max(bars, key=lambda bar: len(bar.slots))
        raise TooWide(
            f"a bar of {bar.meter} with {len(bar.slots)} slots does not fit this style's width: each would "
            f"get {slot:.1f} mm, and {spacing.least_slot:g} mm is the least; take a coarser grid, a shorter "
            "meter or a style with a wider measure"
        )
    return quarter, lines


def _quarter(music: _Music, lines: Sequence[_Line], widest: int, room: float) -> float:
    """The width of a quarter where the widest line has so many eighths, rounded down to a thousandth of a millimetre.

    Where quarters become narrower, ornaments at barlines need more room, until both agree.
    """
    quarter, wider = float("inf"), 0.0
    while quarter != wider:
        wider = quarter
        taken = max(music.signs(line) + sum(music.eases(line, wider)) for line in lines)
        quarter = floor(1000 * (room - taken) / music.with_upbeat(widest)) / 1000
    return quarter


def _in_quarters(length: Fraction) -> float:
    """A length, as a fraction of a whole note, in quarters."""
    return 4 * length.numerator / length.denominator


def _eighths(bars: Sequence[Bar]) -> int:
    return sum([bar.meter.eighths for bar in bars])


def _fill(bar: Bar, limit: int) -> int:
    """The eighths that whole bars like this one fill, up to a limit, but at least one bar."""
    length = bar.meter.eighths
    return length * max(1, limit // length)


def _fewer(length: int, limit: int) -> list[int]:
    """Whole bars of this length, from the most that fit down to one, as eighths."""
    return [length * count for count in range(limit // length, 0, -1)]


def _fill_lines(music: _Music, limit: int) -> list[_Line]:
    """The bars in lines of up to so many eighths. An ending that fits in a line is not broken."""
    lines = [_Line(0, ())]
    for piece in _pieces(music, limit):
        if lines[-1].bars and lines[-1].eighths + _eighths(piece) > limit:
            lines.append(_Line(lines[-1].end, ()))
        lines[-1] = _Line(lines[-1].first, (*lines[-1].bars, *piece))
    return lines


def _pieces(music: _Music, limit: int) -> Iterator[tuple[Bar, ...]]:
    """What a line takes whole: each bar of the body, and each ending, or its bars where it is too long."""
    bars = music.pattern.bars
    yield from ((bar,) for bar in bars[: music.pattern.body])
    for start, end in music.endings:
        if _eighths(bars[start:end]) <= limit:
            yield bars[start:end]
        else:
            yield from ((bar,) for bar in bars[start:end])
