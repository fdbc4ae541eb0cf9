"""What stands on a page, as values: words, rules, dots, curves, music, and the places links lead to.

Lengths are points; x runs to the right from the measure's left end, y runs down from the top of whatever
the mark belongs to. Ink is percent of black.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum

from ..compose.book import Engraving


@dataclass(frozen=True, slots=True)
class Words:
    """Words that start at x on the baseline y; `joined` to those after them, as to a comma, without a space."""

    x: float
    y: float
    words: str
    font: str
    size: float
    ink: float = 100.0
    joined: bool = False


@dataclass(frozen=True, slots=True)
class Rule:
    """A straight line; `dots` makes it a row of dots that far apart."""

    x0: float
    y0: float
    x1: float
    y1: float
    thickness: float
    ink: float = 100.0
    dots: float | None = None


@dataclass(frozen=True, slots=True)
class Dot:
    """A filled circle round its middle."""

    x: float
    y: float
    radius: float
    ink: float = 100.0


@dataclass(frozen=True, slots=True)
class Box:
    """The outline of a box from x0, y0 (upper left) to x1, y1."""

    x0: float
    y0: float
    x1: float
    y1: float
    thickness: float
    ink: float = 100.0


Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Curve:
    """Bézier curves, one after the other: where the first begins, then two handles and an end for each.

    `thickness` 0 draws no line. With a `fill` the shape is closed, and filled with so much ink; 0 is paper,
    which covers what lies below.
    """

    points: tuple[Point, ...]
    thickness: float
    ink: float = 100.0
    fill: float | None = None


@dataclass(frozen=True, slots=True)
class Music:
    """An engraving's block, its lower left corner at x, y."""

    x: float
    y: float
    engraving: Engraving
    scale: float = 1.0


@dataclass(frozen=True, slots=True)
class Code:
    """A square code from its upper left corner: `size` is the side of one of its modules.

    `dark` are its runs of dark modules: row and column of the first, from 0, and how many.
    """

    x: float
    y: float
    size: float
    dark: tuple[tuple[int, int, int], ...]


@dataclass(frozen=True, slots=True)
class Link:
    """A box from x0, y0 (upper left) to x1, y1 that leads to an anchor, or to an address on the web."""

    x0: float
    y0: float
    x1: float
    y1: float
    to: str
    outside: bool = False


@dataclass(frozen=True, slots=True)
class Anchor:
    """A place that links lead to."""

    y: float
    name: str


@dataclass(frozen=True, slots=True)
class Entry:
    """A line of the outline that leads here."""

    y: float
    depth: int
    words: str


class Role(Enum):
    """What a part of a page is to one who has it read aloud; the values are the tags of ISO 32000-1, 14.8.4."""

    HEADING = "H1"
    SUBHEADING = "H2"
    TEXT = "P"
    FIGURE = "Figure"
    FURNITURE = "Artifact"
    """passed over"""


@dataclass(frozen=True, slots=True)
class Begins:
    """What the marks after this one are, until the next of its kind.

    Music is read out with everything that stands on it, but what a task has `withheld`: `sticking` or `counting`.
    What is drawn besides is read out as what it `says`.
    """

    role: Role
    withheld: str | None = None
    says: str | None = None


Mark = Words | Rule | Dot | Box | Curve | Music | Code | Link | Anchor | Entry | Begins


def moved(marks: Iterable[Mark], right: float = 0.0, down: float = 0.0) -> tuple[Mark, ...]:
    """The same marks somewhere else."""
    return tuple(_moved(mark, right, down) for mark in marks)


def _moved(mark: Mark, right: float, down: float) -> Mark:
    # Built anew by hand: `dataclasses.replace` is several times slower, and every mark is moved thrice.
    match mark:
        case Words(x, y, words, font, size, ink, joined):
            return Words(x + right, y + down, words, font, size, ink, joined)
        case Rule(x0, y0, x1, y1, thickness, ink, dots):
            return Rule(x0 + right, y0 + down, x1 + right, y1 + down, thickness, ink, dots)
        case Dot(x, y, radius, ink):
            return Dot(x + right, y + down, radius, ink)
        case Box(x0, y0, x1, y1, thickness, ink):
            return Box(x0 + right, y0 + down, x1 + right, y1 + down, thickness, ink)
        case Curve(places, thickness, ink, fill):
            return Curve(tuple((x + right, y + down) for x, y in places), thickness, ink, fill)
        case Music(x, y, engraving, scale):
            return Music(x + right, y + down, engraving, scale)
        case Code(x, y, size, dark):
            return Code(x + right, y + down, size, dark)
        case Link(x0, y0, x1, y1, to, outside):
            return Link(x0 + right, y0 + down, x1 + right, y1 + down, to, outside)
        case Anchor(y, name):
            return Anchor(y + down, name)
        case Entry(y, depth, words):
            return Entry(y + down, depth, words)
        case Begins():
            return mark


def scaled(marks: Iterable[Mark], scale: float) -> tuple[Mark, ...]:
    """The same marks, larger or smaller round the top left corner they are measured from."""
    return tuple(_scaled(mark, scale) for mark in marks)


def _scaled(mark: Mark, scale: float) -> Mark:
    match mark:
        case Words(x, y, words, font, size, ink, joined):
            return Words(x * scale, y * scale, words, font, size * scale, ink, joined)
        case Rule(x0, y0, x1, y1, thickness, ink, dots):
            apart = dots and dots * scale
            return Rule(x0 * scale, y0 * scale, x1 * scale, y1 * scale, thickness * scale, ink, apart)
        case Dot(x, y, radius, ink):
            return Dot(x * scale, y * scale, radius * scale, ink)
        case Box(x0, y0, x1, y1, thickness, ink):
            return Box(x0 * scale, y0 * scale, x1 * scale, y1 * scale, thickness * scale, ink)
        case Curve(places, thickness, ink, fill):
            return Curve(tuple((x * scale, y * scale) for x, y in places), thickness * scale, ink, fill)
        case Music(x, y, engraving, own):
            return Music(x * scale, y * scale, engraving, own * scale)
        case Code(x, y, size, dark):
            return Code(x * scale, y * scale, size * scale, dark)
        case Link(x0, y0, x1, y1, to, outside):
            return Link(x0 * scale, y0 * scale, x1 * scale, y1 * scale, to, outside)
        case Anchor(y, name):
            return Anchor(y * scale, name)
        case Entry(y, depth, words):
            return Entry(y * scale, depth, words)
        case Begins():
            return mark
