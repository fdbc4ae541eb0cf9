"""Where the names round a picture stand, and the leaders that lead from them into it. Pure: boxes in, places out.

Everything is in points from the picture's top left corner, y downwards.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import dist, hypot, sqrt

from ..marks import Point

_OVER_ANOTHER = 2.5
"""How much longer a leader counts where it runs over another instrument."""

_CROSSING, _OVERFLOW = 400.0, 10.0
_MOST_ROUNDS = 12


@dataclass(frozen=True, slots=True)
class Label:
    """A name to be placed: how tall it is, and how far under its top its leader begins.

    `ends` are the places in the picture that its leader may lead to; `crossed` are the middles and radii of
    the other round things there.
    """

    height: float
    middle: float
    ends: tuple[Point, ...]
    crossed: tuple[tuple[Point, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Placed:
    """A label's place: on which side it stands, its top, and its leader from the side's edge into the picture."""

    label: Label
    at_left: bool
    top: float
    start: Point
    end: Point


@dataclass(frozen=True)
class Frame:
    """The picture's width and height, and the least white between two labels."""

    width: float
    height: float
    gap: float

    def edge(self, at_left: bool) -> float:
        """Where leaders begin."""
        return 0.0 if at_left else self.width


Side = tuple[int, ...]
"""Labels by their numbers, from the top down."""

Shared = tuple[Side, Side]
"""Those on the left and those on the right."""


class _Desk:
    """Tries ways to share labels out, and remembers what it has measured."""

    def __init__(self, labels: Sequence[Label], frame: Frame) -> None:
        self.labels = tuple(labels)
        self.frame = frame
        self._sides: dict[tuple[Side, bool], tuple[Placed, ...]] = {}
        self._leaders: dict[tuple[int, float, int], tuple[float, Point]] = {}

    def placed(self, shared: Shared) -> dict[int, Placed]:
        """Every label at its place, by its number."""
        left, right = shared
        return dict(zip((*left, *right), (*self._side(left, True), *self._side(right, False)), strict=True))

    def cost(self, shared: Shared) -> float:
        """How long all leaders are together; more where they cross each other, or other things."""
        placed = self.placed(shared)
        leaders = [(one.start, one.end) for one in placed.values()]
        crossings = sum(_cross(one, other) for one, other in combinations(leaders, 2))
        ways = sum(self._leader(number, one.start)[0] for number, one in placed.items())
        return ways + _CROSSING * crossings + _OVERFLOW * self.overflow(shared)

    def overflow(self, shared: Shared) -> float:
        """How far labels reach out over the picture and under it, all together."""
        placed = self.placed(shared).values()
        return sum(max(0.0, -one.top, one.top + one.label.height - self.frame.height) for one in placed)

    def improved(self, on_the_left: Sequence[int]) -> Shared:
        """The best way that is found step by step, from one with these labels on the left."""
        order = sorted(range(len(self.labels)), key=lambda one: _middle(self.labels[one])[1])
        best = tuple(one for one in order if one in on_the_left), _without(tuple(order), *on_the_left)
        cost = self.cost(best)
        for _ in range(_MOST_ROUNDS):
            ways = ((self.cost(one), one) for one in self.neighbours(best))
            least, better = min(ways, default=(cost, best))
            if least >= cost - 1e-6:
                break
            best, cost = better, least
        return best

    def _side(self, side: Side, at_left: bool) -> tuple[Placed, ...]:
        if (side, at_left) not in self._sides:
            labels = [self.labels[number] for number in side]
            x = self.frame.edge(at_left)
            placed = []
            for number, label, top in zip(side, labels, _tops(labels, self.frame), strict=True):
                start = (x, top + label.middle)
                placed.append(Placed(label, at_left, top, start, self._leader(number, start)[1]))
            self._sides[side, at_left] = tuple(placed)
        return self._sides[side, at_left]

    def _leader(self, number: int, start: Point) -> tuple[float, Point]:
        """The shortest leader of a label from a place, to about a point, and where it ends."""
        key = number, start[0], round(start[1])
        if key not in self._leaders:
            label = self.labels[number]
            self._leaders[key] = min((_way(start, end, label), end) for end in label.ends)
        return self._leaders[key]

    def neighbours(self, shared: Shared) -> Iterator[Shared]:
        """The ways that differ in one thing: two neighbours exchanged, or one label on the other side."""
        left, right = shared
        yield from ((_exchanged(left, number), right) for number in range(len(left) - 1))
        yield from ((left, _exchanged(right, number)) for number in range(len(right) - 1))
        yield from ((_without(left, one), self._with(right, one)) for one in left)
        yield from ((self._with(left, one), _without(right, one)) for one in right)

    def _with(self, side: Side, label: int) -> Side:
        return tuple(sorted((*side, label), key=lambda one: _middle(self.labels[one])[1]))


def placed_labels(labels: Sequence[Label], frame: Frame) -> tuple[Placed, ...]:
    """Labels down both sides of a picture, so that leaders are short and do not cross where that can be."""
    desk = _Desk(labels, frame)
    across = sorted(range(len(labels)), key=lambda one: _middle(labels[one])[0])
    best = desk.improved([one for one in across if _middle(labels[one])[0] < frame.width / 2])
    if desk.overflow(best):
        best = min(best, desk.improved(_half(across, labels)), key=desk.cost)
    placed = desk.placed(best)
    return tuple(placed[number] for number in range(len(labels)))


def _half(across: Sequence[int], labels: Sequence[Label]) -> list[int]:
    """Labels from the left on that are about half as tall as all of them together."""
    room = sum(label.height for label in labels) / 2
    left: list[int] = []
    for number in across:
        room -= labels[number].height
        if room >= 0:
            left.append(number)
    return left


def placed_again(labels: Sequence[Label], frame: Frame, before: Sequence[Placed]) -> tuple[Placed, ...]:
    """The same labels round a picture of another size, each on its side and in its order as before."""
    order = sorted(range(len(labels)), key=lambda one: before[one].top)
    left = tuple(one for one in order if before[one].at_left)
    placed = _Desk(labels, frame).placed((left, _without(tuple(order), *left)))
    return tuple(placed[number] for number in range(len(labels)))


def _exchanged(side: Side, number: int) -> Side:
    return (*side[:number], side[number + 1], side[number], *side[number + 2 :])


def _without(side: Side, *labels: int) -> Side:
    return tuple(one for one in side if one not in labels)


def _middle(label: Label) -> Point:
    xs, ys = zip(*label.ends, strict=True)
    return sum(xs) / len(xs), sum(ys) / len(ys)


def _tops(labels: Sequence[Label], frame: Frame) -> list[float]:
    """Labels as near as they can be to the height of what they name, none over another.

    Neighbours that would overlap stand together round the height that is best for them all (the classic
    pool-adjacent-violators way to fit numbers that have to grow).
    """
    blocks: list[tuple[float, float, int]] = []
    shift = 0.0
    wanted: list[float] = []
    for label in labels:
        wanted.append(_middle(label)[1] - label.middle - shift)
        shift += label.height + frame.gap
    for value in wanted:
        blocks.append((value, value, 1))
        while len(blocks) > 1 and blocks[-2][0] > blocks[-1][0]:
            _, total, count = blocks.pop()
            _, before, number = blocks.pop()
            blocks.append(((total + before) / (count + number), total + before, count + number))
    most = frame.height - (shift - frame.gap)
    # Taller than the picture, they reach out over it and under it alike.
    least = min(0.0, most / 2)
    fitted = [max(least, min(value, max(most, least))) for value, _, count in blocks for _ in range(count)]
    tops: list[float] = []
    shift = 0.0
    for label, value in zip(labels, fitted, strict=True):
        tops.append(value + shift)
        shift += label.height + frame.gap
    return tops


def _way(start: Point, end: Point, label: Label) -> float:
    """How long a leader is, what lies over other things counted more."""
    over = sum(_inside(start, end, middle, radius) for middle, radius in label.crossed)
    return dist(start, end) + _OVER_ANOTHER * over


def _inside(start: Point, end: Point, middle: Point, radius: float) -> float:
    """How much of a straight line lies in a circle."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    mx, my = middle[0] - start[0], middle[1] - start[1]
    length = hypot(dx, dy) or 1.0
    aside = (mx * dy - my * dx) / length
    if abs(aside) >= radius:
        return 0.0
    along, half = (mx * dx + my * dy) / length, sqrt(radius * radius - aside * aside)
    return max(0.0, min(length, along + half) - max(0.0, along - half))


Leader = tuple[Point, Point]


def _cross(one: Leader, other: Leader) -> bool:
    """True where two straight lines cross."""
    return _turns(*one, other[0]) != _turns(*one, other[1]) and _turns(*other, one[0]) != _turns(*other, one[1])


def _turns(start: Point, end: Point, point: Point) -> bool:
    return (end[0] - start[0]) * (point[1] - start[1]) > (end[1] - start[1]) * (point[0] - start[0])
