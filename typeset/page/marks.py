"""What stands on a page, as values: words, rules, dots, curves, music, and the places links lead to.

Lengths are points; x runs to the right from the measure's left end, y runs down from the top of whatever
the mark belongs to. Ink is percent of black.

Every mark can be `moved` by so many points, and `scaled` round the top left corner that it is measured from.
They are tuples because a book has a hundred thousand of them, and each is made anew wherever it is moved.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum
from typing import NamedTuple

from ..compose.engraving import Engraving


class Words(NamedTuple):
    """Words that start at x on the baseline y; `joined` to those after them, as to a comma, without a space."""

    x: float
    y: float
    words: str
    font: str
    size: float
    ink: float = 100.0
    joined: bool = False

    def moved(self, right: float, down: float) -> Words:
        x, y, words, font, size, ink, joined = self
        return Words(x + right, y + down, words, font, size, ink, joined)

    def scaled(self, scale: float) -> Words:
        x, y, words, font, size, ink, joined = self
        return Words(x * scale, y * scale, words, font, size * scale, ink, joined)


class Rule(NamedTuple):
    """A straight line; `dots` makes it a row of dots that far apart."""

    x0: float
    y0: float
    x1: float
    y1: float
    thickness: float
    ink: float = 100.0
    dots: float | None = None

    def moved(self, right: float, down: float) -> Rule:
        x0, y0, x1, y1, thickness, ink, dots = self
        return Rule(x0 + right, y0 + down, x1 + right, y1 + down, thickness, ink, dots)

    def scaled(self, scale: float) -> Rule:
        x0, y0, x1, y1, thickness, ink, dots = self
        return Rule(x0 * scale, y0 * scale, x1 * scale, y1 * scale, thickness * scale, ink, dots and dots * scale)


class Dot(NamedTuple):
    """A filled circle round its middle."""

    x: float
    y: float
    radius: float
    ink: float = 100.0

    def moved(self, right: float, down: float) -> Dot:
        x, y, radius, ink = self
        return Dot(x + right, y + down, radius, ink)

    def scaled(self, scale: float) -> Dot:
        x, y, radius, ink = self
        return Dot(x * scale, y * scale, radius * scale, ink)


class Box(NamedTuple):
    """The outline of a box from x0, y0 (upper left) to x1, y1."""

    x0: float
    y0: float
    x1: float
    y1: float
    thickness: float
    ink: float = 100.0

    def moved(self, right: float, down: float) -> Box:
        x0, y0, x1, y1, thickness, ink = self
        return Box(x0 + right, y0 + down, x1 + right, y1 + down, thickness, ink)

    def scaled(self, scale: float) -> Box:
        x0, y0, x1, y1, thickness, ink = self
        return Box(x0 * scale, y0 * scale, x1 * scale, y1 * scale, thickness * scale, ink)


Point = tuple[float, float]


class Curve(NamedTuple):
    """Bézier curves, one after the other: where the first begins, then two handles and an end for each.

    `thickness` 0 draws no line. With a `fill` the shape is closed, and filled with so much ink; 0 is paper,
    which covers what lies below.
    """

    points: tuple[Point, ...]
    thickness: float
    ink: float = 100.0
    fill: float | None = None

    def moved(self, right: float, down: float) -> Curve:
        places, thickness, ink, fill = self
        return Curve(tuple((x + right, y + down) for x, y in places), thickness, ink, fill)

    def scaled(self, scale: float) -> Curve:
        places, thickness, ink, fill = self
        return Curve(tuple((x * scale, y * scale) for x, y in places), thickness * scale, ink, fill)


class Music(NamedTuple):
    """An engraving's block, its lower left corner at x, y."""

    x: float
    y: float
    engraving: Engraving
    scale: float = 1.0

    def moved(self, right: float, down: float) -> Music:
        x, y, engraving, own = self
        return Music(x + right, y + down, engraving, own)

    def scaled(self, scale: float) -> Music:
        x, y, engraving, own = self
        return Music(x * scale, y * scale, engraving, own * scale)


class Code(NamedTuple):
    """A square code from its upper left corner: `size` is the side of one of its modules.

    `dark` are its runs of dark modules: row and column of the first, from 0, and how many.
    """

    x: float
    y: float
    size: float
    dark: tuple[tuple[int, int, int], ...]

    def moved(self, right: float, down: float) -> Code:
        x, y, size, dark = self
        return Code(x + right, y + down, size, dark)

    def scaled(self, scale: float) -> Code:
        x, y, size, dark = self
        return Code(x * scale, y * scale, size * scale, dark)


class Link(NamedTuple):
    """A box from x0, y0 (upper left) to x1, y1 that leads to an anchor, or to an address on the web."""

    x0: float
    y0: float
    x1: float
    y1: float
    to: str
    outside: bool = False

    def moved(self, right: float, down: float) -> Link:
        x0, y0, x1, y1, to, outside = self
        return Link(x0 + right, y0 + down, x1 + right, y1 + down, to, outside)

    def scaled(self, scale: float) -> Link:
        x0, y0, x1, y1, to, outside = self
        return Link(x0 * scale, y0 * scale, x1 * scale, y1 * scale, to, outside)


class Anchor(NamedTuple):
    """A place that links lead to."""

    y: float
    name: str

    def moved(self, right: float, down: float) -> Anchor:
        return Anchor(self.y + down, self.name)

    def scaled(self, scale: float) -> Anchor:
        return Anchor(self.y * scale, self.name)


class Entry(NamedTuple):
    """A line of the outline that leads here."""

    y: float
    depth: int
    words: str

    def moved(self, right: float, down: float) -> Entry:
        return Entry(self.y + down, self.depth, self.words)

    def scaled(self, scale: float) -> Entry:
        return Entry(self.y * scale, self.depth, self.words)


class Role(Enum):
    """What a part of a page is to one who has it read aloud; the values are the tags of ISO 32000-1, 14.8.4."""

    HEADING = "H1"
    SUBHEADING = "H2"
    TEXT = "P"
    FIGURE = "Figure"
    FURNITURE = "Artifact"
    """passed over"""


class Begins(NamedTuple):
    """What the marks after this one are, until the next of its kind.

    Music is read out with everything that stands on it, but what a task has `withheld`: `sticking` or `counting`.
    What is drawn besides is read out as what it `says`.
    """

    role: Role
    withheld: str | None = None
    says: str | None = None

    def moved(self, right: float, down: float) -> Begins:
        return self

    def scaled(self, scale: float) -> Begins:
        return self


Mark = Words | Rule | Dot | Box | Curve | Music | Code | Link | Anchor | Entry | Begins


class Drawn(NamedTuple):
    """Marks as they are drawn: the operators of a PDF's page, and what cannot be told from those.

    `sections` are the parts of it in the order in which they are read, numbered from 0 in `content`; `music` and
    `links` stand in the section of that number. `glyphs` are the characters used of each font.
    """

    content: str
    sections: tuple[Begins, ...] = ()
    music: tuple[tuple[Music, int], ...] = ()
    links: tuple[tuple[Link, int], ...] = ()
    places: tuple[Anchor | Entry, ...] = ()
    glyphs: tuple[tuple[str, str], ...] = ()


NOTHING = Drawn("")


def moved(marks: Iterable[Mark], right: float = 0.0, down: float = 0.0) -> tuple[Mark, ...]:
    """The same marks somewhere else."""
    return tuple([mark.moved(right, down) for mark in marks])


def scaled(marks: Iterable[Mark], scale: float) -> tuple[Mark, ...]:
    """The same marks, larger or smaller round the top left corner they are measured from."""
    return tuple(mark.scaled(scale) for mark in marks)
