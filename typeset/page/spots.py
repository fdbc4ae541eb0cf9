"""Where exercises stand on a map: columns, levels, and lanes for those that would touch."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ..compose.book import Chapter, Exercise
from ..compose.curriculum import Volume
from .faces import width_of
from .setting import Setting, points

_LEAST_LEVELS = 4
"""So many levels are shown even where no exercise is that hard."""

USUAL_SMALL = 8.0
"""The size of small type, in points, that the lengths of a map are given for; with larger type they grow."""

AXIS, _GAP = 8.0, 5.0
"""Millimetres for the levels' numbers on the left, and between two columns."""

_NARROWEST = 0.35
"""The narrowest column, against the widest one."""

RADIUS = 1.8
"""A dot's usual radius in points."""

_LOOSEST = 1.7
"""How much lanes spread where a level has room, against lanes that nearly touch."""

_LABELS = (6.5, 6.0, 5.5, 5.0)
"""The sizes of the numbers under the dots, in points: the largest for which there is room."""


@dataclass(frozen=True, slots=True)
class Spot:
    """An exercise's place, in points; `label` is the size of its number, 0 where that has no room."""

    exercise: Exercise
    x: float
    y: float
    radius: float
    is_practised: bool
    label: float


@dataclass(frozen=True, slots=True)
class Plot:
    """Where so many levels stand: from y `top`, the upper end of the highest, down to `bottom`, in points."""

    top: float
    bottom: float
    levels: int

    @property
    def band(self) -> float:
        """The height of one level."""
        return (self.bottom - self.top) / self.levels

    def middle(self, level: int) -> float:
        """The middle of a level."""
        return self.bottom - (level - 0.5) * self.band


def scale_of(setting: Setting) -> float:
    """How much larger than usual the lengths of a map are, as its small type is."""
    return setting.style.type.small / USUAL_SMALL


def radius_of(setting: Setting) -> float:
    """A dot's radius in points; it grows more slowly than type, so that crowds stay apart."""
    return float(RADIUS * scale_of(setting) ** 0.5)


def levels_of(volumes: Sequence[Volume]) -> int:
    """How many levels a map shows: up to the hardest exercise of its books."""
    return max([_LEAST_LEVELS, *(one.level for volume in volumes for one in volume.book.exercises)])


@dataclass(frozen=True, slots=True)
class Column:
    """A book's column: from x `left`, `width` points wide; `step` from one exercise to the next."""

    volume: Volume
    left: float
    width: float

    @property
    def step(self) -> float:
        """From one exercise to the next; a chapter is set off by as much again."""
        return self.width / max(1, _slots(self.volume))

    def places(self) -> Iterator[tuple[Chapter, int | None, float, float]]:
        """Each chapter that has exercises, the term it is practised in, and where it begins and ends."""
        x = self.left
        for chapter, term in zip(self.volume.book.chapters, self.volume.terms, strict=True):
            if chapter.exercises:
                end = x + self.step * len(chapter.exercises)
                yield chapter, term, x, end
                x = end + self.step


def columns_of(volumes: Sequence[Volume], setting: Setting) -> tuple[Column, ...]:
    """A column for each book, as wide as its exercises ask for."""
    most = max(map(_slots, volumes))
    shares = [max(_slots(volume), _NARROWEST * most, 1) for volume in volumes]
    gap, x = points(_GAP), points(AXIS) * scale_of(setting)
    room = setting.measure - x - gap * (len(volumes) - 1)
    columns: list[Column] = []
    for volume, share in zip(volumes, shares, strict=True):
        width = room * share / sum(shares)
        columns.append(Column(volume, x, width))
        x += width + gap
    return tuple(columns)


def _slots(volume: Volume) -> int:
    """How many places a book's exercises take up, with one between chapters."""
    counts = [len(chapter.exercises) for chapter in volume.book.chapters if chapter.exercises]
    return sum(counts) + max(0, len(counts) - 1)


def spots_of(column: Column, plot: Plot, setting: Setting) -> tuple[Spot, ...]:
    """Where a book's exercises stand: in their order from left to right, on the height of their levels.

    Exercises of one level that would touch stand on lanes over and under each other. Where there are too few
    lanes for everyone's number, only those are numbered that have room under their dots.
    """
    places = [
        (exercise, start + column.step * (index + 0.5), term is not None)
        for chapter, term, start, _ in column.places()
        for index, exercise in enumerate(chapter.exercises)
    ]
    label, lane, lanes = _dealt(places, plot, setting)
    lane = max(lane, min(_LOOSEST * lane, plot.band * 0.8 / (max(lanes, default=0) + 1)))
    # A numbered dot stands a little high in its lane, so that dot and number together are in the middle.
    high, radius = label / 2, radius_of(setting)
    spots = tuple(
        Spot(one, x, plot.middle(one.level) - high - _offset(number) * lane, radius, is_practised, label)
        for (one, x, is_practised), number in zip(places, lanes, strict=True)
    )
    return spots if label else _numbered_where_free(spots, setting)


def _numbered_where_free(spots: Sequence[Spot], setting: Setting) -> tuple[Spot, ...]:
    """The spots, of which those are numbered whose numbers touch no dot and no other number."""
    size, font = _LABELS[-1] * scale_of(setting), setting.letters.regular
    taken = [(one.x - one.radius, one.y - one.radius, one.x + one.radius, one.y + one.radius) for one in spots]
    numbered: list[Spot] = []
    for spot in spots:
        half, top = width_of(spot.exercise.number, font, size) / 2 + 1, spot.y + spot.radius + 0.3
        box = (spot.x - half, top, spot.x + half, top + size)
        is_free = not any(_overlap(box, other) for other in taken)
        numbered.append(replace(spot, label=size) if is_free else spot)
        taken += [box] if is_free else []
    return tuple(numbered)


_Box = tuple[float, float, float, float]
"""Left, top, right, bottom."""


def _overlap(one: _Box, other: _Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


_Place = tuple[Exercise, float, bool]


def _dealt(places: Sequence[_Place], plot: Plot, setting: Setting) -> tuple[float, float, list[int]]:
    """The size of the numbers, the height of a lane, and the lane of each exercise."""
    font, scale = setting.letters.regular, scale_of(setting)
    dot = 2 * radius_of(setting)
    for label in (size * scale for size in _LABELS):
        lane = dot + label + 2.5 * scale
        widths = [max(dot, width_of(one.number, font, label)) + 2 * scale for one, _, _ in places]
        lanes = _lanes(places, widths, _most_lanes(plot.band, lane))
        if lanes is not None:
            return label, lane, lanes
    lane = dot + 0.8
    narrow = [dot + 0.6] * len(places)
    return 0.0, lane, _lanes(places, narrow, _most_lanes(plot.band, lane), crowd=True) or []


def _most_lanes(band: float, lane: float) -> int:
    """How many lanes a level has room for: an odd number, so that one is in the middle."""
    return max(1, (int(band / lane) - 1) // 2 * 2 + 1)


def _offset(lane: int) -> int:
    """Lanes count from the middle: one over it, one under it, two over it ..."""
    return (lane + 1) // 2 * (1 if lane % 2 else -1)


def _lanes(
    places: Sequence[_Place], widths: Sequence[float], most: int, *, crowd: bool = False
) -> list[int] | None:
    """The lane of each exercise, the nearest to the middle that is free.

    Where there are too few lanes: None, or with `crowd` the lane that has been free for longest.
    """
    ends: dict[int, list[float]] = {}
    lanes: list[int] = []
    for (exercise, x, _), width in zip(places, widths, strict=True):
        taken = ends.setdefault(exercise.level, [float("-inf")] * most)
        free = [number for number, end in enumerate(taken) if end <= x - width / 2 + 0.01]
        if not free and not crowd:
            return None
        lane = free[0] if free else taken.index(min(taken))
        taken[lane] = x + width / 2
        lanes.append(lane)
    return lanes
