"""Outlines as Bézier curves, in any unit, y counted upwards: circles, straight-sided and rounded shapes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import cos, hypot, radians, sin

from ..marks import Curve, Point

_QUARTER = 0.5522847498
"""The handles of a quarter circle, in radii: 4/3 (√2 - 1)."""


@dataclass(frozen=True, slots=True)
class Pen:
    """How a shape is drawn: the line's thickness in points and its ink, and the ink inside of it.

    `fill` 0 is paper, which covers what lies below; None lets that show.
    """

    thickness: float
    ink: float = 100.0
    fill: float | None = 0.0


def circle(x: float, y: float, radius: float, pen: Pen) -> Curve:
    """A circle round x, y."""
    r, k = radius, radius * _QUARTER
    points = (
        (x + r, y),
        *((x + r, y + k), (x + k, y + r), (x, y + r)),
        *((x - k, y + r), (x - r, y + k), (x - r, y)),
        *((x - r, y - k), (x - k, y - r), (x, y - r)),
        *((x + k, y - r), (x + r, y - k), (x + r, y)),
    )
    return Curve(points, pen.thickness, pen.ink, pen.fill)


def line(corners: Sequence[Point], thickness: float, ink: float = 100.0) -> Curve:
    """A line through some corners."""
    return Curve(tuple(_straight(corners)), thickness, ink)


def polygon(corners: Sequence[Point], pen: Pen, rounding: float = 0.0) -> Curve:
    """A closed shape with straight sides, its corners cut by arcs that begin so far before them."""
    ring = [corners[-1], *corners, corners[0]]
    points: list[Point] = []
    for before, corner, after in zip(ring, ring[1:], ring[2:], strict=False):
        start, end = _towards(corner, before, rounding), _towards(corner, after, rounding)
        points += _side(points[-1], start)[1:] if points else [start]
        points += [between(start, corner, _QUARTER), between(end, corner, _QUARTER), end]
    points += _side(points[-1], points[0])[1:]
    return Curve(tuple(points), pen.thickness, pen.ink, pen.fill)


def box(x: float, y: float, width: float, height: float, pen: Pen, rounding: float = 0.0) -> Curve:
    """A box round its middle."""
    w, h = width / 2, height / 2
    return polygon([(x - w, y - h), (x + w, y - h), (x + w, y + h), (x - w, y + h)], pen, rounding)


def board(start: Point, end: Point, near: float, far: float, pen: Pen, rounding: float = 0.0) -> Curve:
    """A board from its start, `near` wide, to its end, `far` wide."""
    across = hypot(end[0] - start[0], end[1] - start[1])
    dx, dy = -(end[1] - start[1]) / across, (end[0] - start[0]) / across
    corners = [
        *((start[0] + side * near / 2 * dx, start[1] + side * near / 2 * dy) for side in (1, -1)),
        *((end[0] + side * far / 2 * dx, end[1] + side * far / 2 * dy) for side in (-1, 1)),
    ]
    return polygon(corners, pen, rounding)


def around(x: float, y: float, radius: float, count: int, first: float = 0.0) -> Iterator[tuple[float, Point]]:
    """So many places spread evenly round a circle: their angles in degrees, and where they are."""
    for number in range(count):
        angle = first + 360 * number / count
        yield angle, at_angle(x, y, radius, angle)


def at_angle(x: float, y: float, radius: float, angle: float) -> Point:
    """The place at an angle in degrees on a circle, counted from the right, against the clock."""
    return x + radius * cos(radians(angle)), y + radius * sin(radians(angle))


def between(start: Point, end: Point, share: float) -> Point:
    """The place on the way from a start to an end that lies so much of the way from the start."""
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _straight(corners: Sequence[Point]) -> Iterator[Point]:
    yield corners[0]
    for start, end in pairwise(corners):
        yield from _side(start, end)[1:]


def _side(start: Point, end: Point) -> tuple[Point, Point, Point, Point]:
    return start, between(start, end, 1 / 3), between(start, end, 2 / 3), end


def _towards(corner: Point, other: Point, distance: float) -> Point:
    length = hypot(other[0] - corner[0], other[1] - corner[1])
    return between(corner, other, min(0.5, distance / length)) if length else corner
