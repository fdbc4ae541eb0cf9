"""Breaks an exercise's bars into systems: how wide a quarter is, and which bars share a line."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import floor

from ..pattern.bar import Bar, Pattern
from ..style.music import Spacing
from .engraving import Ending, System
from .music import Line, Music, eighths_of, in_quarters

# A line holds up to sixteen eighths, two bars of 4/4, before anything crowds (our own figure).
_ROOMIEST = 16

# Sixteenths and eighths, in quarters.
_SLOTS = (0.25, 0.5)

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
    music = _music(pattern, plays_on, spacing, times)
    music, quarter, lines = _lines(music, spacing.measure - spacing.lead - spacing.tail, spacing)
    return tuple(_systems(music, lines, quarter, spacing))


def half_line(pattern: Pattern, plays_on: bool, spacing: Spacing) -> tuple[System, ...] | None:
    """One bar on half a line, so that two exercises can share it; None where it would be crowded."""
    if len(pattern.bars) != 1 or pattern.pickup:
        return None
    line = Line(0, pattern.bars)
    room = (spacing.measure - spacing.gap) / 2 - spacing.lead - spacing.tail
    quarter = floor(1000 * room / line.quarters) / 1000
    music = _music(pattern, plays_on, spacing)
    narrowest = quarter * in_quarters(pattern.bars[0].shortest)
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
    line = Line(0, pattern.bars)
    densest = in_quarters(pattern.bars[0].shortest)
    room = spacing.measure - spacing.lead - spacing.tail
    quarter = min(room / line.quarters, _SPREAD * spacing.slot / densest)
    music = _music(pattern, plays_on, spacing)
    return tuple(_systems(music, [line], floor(1000 * quarter) / 1000, spacing))


def _music(pattern: Pattern, plays_on: bool, spacing: Spacing, times: int | None = None) -> Music:
    """Music to be broken in a style: its finest slots are those that leave a full line its comfortable width."""
    quarter = 2 * (spacing.measure - spacing.lead - spacing.tail) / _ROOMIEST
    finest = next((length for length in _SLOTS if quarter * length >= spacing.slot), 1.0)
    return Music(pattern, plays_on, spacing.staff_space, finest, times)


def _systems(music: Music, lines: Sequence[Line], quarter: float, spacing: Spacing) -> Iterator[System]:
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


def _lines(music: Music, room: float, spacing: Spacing) -> tuple[Music, float, Sequence[Line]]:
    """The music, tight where it has to be, the width of a quarter in millimetres, and the bars of each line."""
    bars = music.pattern.bars
    densest = in_quarters(min(bar.shortest for bar in bars))
    longest = max(bar.meter.eighths for bar in bars)
    limits = sorted({_fill(bar, _ROOMIEST) for bar in bars} | {_ROOMIEST}, reverse=True)
    limits += [limit for limit in _fewer(longest, _ROOMIEST) if limit < limits[-1]]
    for limit in limits:
        if limit < longest:
            continue
        lines = _fill_lines(music, limit)
        widest = max([line.eighths for line in lines] + [_fill(bar, limit) for bar in bars])
        barlines = max(_fill(bar, limit) // bar.meter.eighths for bar in bars) - 1
        quarter = _quarter(music, lines, widest, barlines, room)
        if quarter * densest >= spacing.slot and not music.is_crowded(quarter):
            return music, quarter, lines
    lines = _fill_lines(music, longest)
    quarter = _quarter(music, lines, longest, 0, room)
    if quarter * densest < spacing.least_slot:
        music = replace(music, tight=True)
        quarter = _quarter(music, lines, longest, 0, room)
    slot = quarter * densest
    if slot < spacing.least_slot:
        bar = max(bars, key=lambda bar: len(bar.slots))
        raise TooWide(
            f"a bar of {bar.meter} with {len(bar.slots)} slots does not fit this style's width: each would "
            f"get {slot:.1f} mm, and {spacing.least_slot:g} mm is the least; take a coarser grid, a shorter "
            "meter or a style with a wider measure"
        )
    return music, quarter, lines


def _quarter(music: Music, lines: Sequence[Line], widest: int, barlines: int, room: float) -> float:
    """The width of a quarter where the widest line has so many eighths, rounded down to a thousandth of a mm.

    A full line has so many barlines, whether or not this exercise fills one. Where quarters become narrower, what
    stands at barlines needs more room, until both agree.
    """
    quarter, wider = float("inf"), 0.0
    while quarter != wider:
        wider = quarter
        taken = max(music.signs(line) + sum(music.eases(line, wider)) for line in lines)
        taken = max(taken, barlines * music.ease_of_heads(wider))
        quarter = floor(1000 * (room - taken) / music.with_upbeat(widest)) / 1000
    return quarter


def _fill(bar: Bar, limit: int) -> int:
    """The eighths that whole bars like this one fill, up to a limit, but at least one bar."""
    length = bar.meter.eighths
    return length * max(1, limit // length)


def _fewer(length: int, limit: int) -> list[int]:
    """Whole bars of this length, from the most that fit down to one, as eighths."""
    return [length * count for count in range(limit // length, 0, -1)]


def _fill_lines(music: Music, limit: int) -> list[Line]:
    """The bars in lines of up to so many eighths. An ending that fits in a line is not broken."""
    lines = [Line(0, ())]
    for piece in _pieces(music, limit):
        if lines[-1].bars and lines[-1].eighths + eighths_of(piece) > limit:
            lines.append(Line(lines[-1].end, ()))
        lines[-1] = Line(lines[-1].first, (*lines[-1].bars, *piece))
    return lines


def _pieces(music: Music, limit: int) -> Iterator[tuple[Bar, ...]]:
    """What a line takes whole: each bar of the body, and each ending, or its bars where it is too long."""
    bars = music.pattern.bars
    yield from ((bar,) for bar in bars[: music.pattern.body])
    for start, end in music.endings:
        if eighths_of(bars[start:end]) <= limit:
            yield bars[start:end]
        else:
            yield from ((bar,) for bar in bars[start:end])
