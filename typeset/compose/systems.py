"""Breaks an exercise's bars into systems: how wide a quarter is, and which bars share a line."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from math import floor

from ..pattern.bar import Bar, Pattern
from ..pattern.grid import QUARTER
from ..style.model import Spacing
from .book import METER_ROOM, REPEAT_ROOM, Ending, System

# A line holds up to eight quarters, two bars of 4/4, before anything crowds (our own figure).
_ROOMIEST = 8


class TooWide(ValueError):
    """A bar that does not fit the style's measure, even at the narrowest slot that it allows."""


def break_into_systems(pattern: Pattern, plays_on: bool, spacing: Spacing) -> tuple[System, ...]:
    """The systems of an exercise, from the first bar to the last.

    All systems of an exercise have quarters of one width, and all exercises of the same meter and
    density have the same, so that counts stand under each other down a page. Raises TooWide.
    """
    room = spacing.measure - spacing.lead - spacing.tail - _repeat_inside(pattern.pickup, plays_on)
    quarter, lines = _lines(pattern, room, spacing)
    return _systems(lines, quarter, plays_on, spacing, pattern.pickup)


def half_line(pattern: Pattern, plays_on: bool, spacing: Spacing) -> tuple[System, ...] | None:
    """One bar on half a line, so that two exercises can share it; None where it would be crowded."""
    if len(pattern.bars) != 1 or pattern.pickup or not spacing.side_by_side:
        return None
    bar = pattern.bars[0]
    room = (spacing.measure - spacing.gap) / 2 - spacing.lead - spacing.tail
    quarter = floor(1000 * room / float(_quarters([bar]))) / 1000
    if quarter * float(min(bar.slot_lengths) / QUARTER) < spacing.least_slot:
        return None
    return _systems([[bar]], quarter, plays_on, spacing)


def _systems(
    lines: Sequence[Sequence[Bar]],
    quarter: float,
    plays_on: bool,
    spacing: Spacing,
    pickup: Bar | None = None,
) -> tuple[System, ...]:
    systems: list[System] = []
    meter = None
    for number, line in enumerate(lines):
        meters_at = []
        for index, bar in enumerate(line):
            if bar.meter != meter:
                meters_at.append(index)
            meter = bar.meter
        is_last = number == len(lines) - 1
        before = pickup if number == 0 else None
        music = quarter * float(_quarters(line) + _upbeat(before)) + _inner_meters(line)
        music += _repeat_inside(before, plays_on)
        systems.append(
            System(
                bars=tuple(line),
                quarter=quarter,
                lead=spacing.lead,
                width=round(spacing.lead + music + spacing.tail, 4),
                meters_at=tuple(meters_at),
                opens_repeat=plays_on and number == 0,
                ending=(Ending.REPEAT if plays_on else Ending.FINAL) if is_last else Ending.BAR,
                pickup=before,
            )
        )
    return tuple(systems)


def _lines(pattern: Pattern, room: float, spacing: Spacing) -> tuple[float, Sequence[Sequence[Bar]]]:
    """The width of a quarter in millimetres, and the bars of each line."""
    bars, upbeat = pattern.bars, _upbeat(pattern.pickup)
    densest = min(length for bar in bars for length in bar.slot_lengths)
    longest = max(_quarters([bar]) for bar in bars)
    limits = sorted({_fill(bar, _ROOMIEST) for bar in bars} | {_ROOMIEST}, reverse=True)
    limits += [limit for limit in _fewer(longest, _ROOMIEST) if limit < limits[-1]]
    for limit in limits:
        if limit < longest:
            continue
        lines = _fill_lines(bars, limit)
        widest = max([_quarters(line) for line in lines] + [_fill(bar, limit) for bar in bars])
        quarter = floor(1000 * (room - max(map(_inner_meters, lines))) / float(widest + upbeat)) / 1000
        if quarter * float(densest / QUARTER) >= spacing.slot:
            return quarter, lines
    lines = _fill_lines(bars, longest)
    quarter = floor(1000 * (room - max(map(_inner_meters, lines))) / float(longest + upbeat)) / 1000
    slot = quarter * float(densest / QUARTER)
    if slot < spacing.least_slot:
        bar = max(bars, key=lambda bar: len(bar.slots))
        raise TooWide(
            f"a bar of {bar.meter} with {len(bar.slots)} slots does not fit this style's width: each would "
            f"get {slot:.1f} mm, and {spacing.least_slot:g} mm is the least; take a coarser grid, a shorter "
            "meter or a style with a wider measure"
        )
    return quarter, lines


def _quarters(bars: Sequence[Bar]) -> Fraction:
    return sum((bar.meter.length for bar in bars), Fraction(0)) / QUARTER


def _upbeat(pickup: Bar | None) -> Fraction:
    """The quarters of a pickup."""
    return pickup.length / QUARTER if pickup else Fraction(0)


def _repeat_inside(pickup: Bar | None, plays_on: bool) -> float:
    """The room that a repeat takes which opens after a pickup, in millimetres."""
    return REPEAT_ROOM if pickup and plays_on else 0.0


def _inner_meters(line: Sequence[Bar]) -> float:
    """The room that meters inside a line take, in millimetres."""
    return METER_ROOM * sum(bar.meter != before.meter for before, bar in pairwise(line))


def _fill(bar: Bar, limit: Fraction | int) -> Fraction:
    """The quarters that whole bars like this one fill, up to a limit, but at least one bar."""
    length = _quarters([bar])
    return length * max(1, int(limit // length))


def _fewer(length: Fraction, limit: int) -> list[Fraction]:
    """Whole bars of this length, from the most that fit down to one, as quarters."""
    return [length * count for count in range(int(limit // length), 0, -1)]


def _fill_lines(bars: Sequence[Bar], limit: Fraction | int) -> list[list[Bar]]:
    lines: list[list[Bar]] = [[]]
    for bar in bars:
        if lines[-1] and _quarters([*lines[-1], bar]) > limit:
            lines.append([])
        lines[-1].append(bar)
    return lines
