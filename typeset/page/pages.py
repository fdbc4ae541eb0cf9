"""The Pages: everything of a book on paper but the engraved music, which is placed by reference."""

from __future__ import annotations

from dataclasses import dataclass

from ..compose.engraving import Engraving
from .marks import Begins


@dataclass(frozen=True, slots=True)
class Placement:
    """An engraving's block on a page: where the block's lower left corner goes, in points from the
    page's lower left corner, and how much it is scaled. It belongs to one of the page's sections."""

    page: int
    engraving: Engraving
    x: float
    y: float
    scale: float = 1.0
    section: int = 0


@dataclass(frozen=True, slots=True)
class Heading:
    """A line of the outline: its depth (0 is a chapter, 1 an exercise), its words, and where it leads:
    a page, from 0, and a height in points."""

    depth: int
    words: str
    page: int
    y: float


@dataclass(frozen=True, slots=True)
class Place:
    """A page, from 0, and a height on it in points."""

    page: int
    y: float


Bounds = tuple[float, float, float, float]
"""A box: left, bottom, right, top, in points from the page's lower left corner."""


@dataclass(frozen=True, slots=True)
class Crossing:
    """A box on a page that leads to a place in the book, or to an address on the web; of a section."""

    page: int
    box: Bounds
    to: Place | str
    section: int = 0


@dataclass(frozen=True, slots=True)
class Pages:
    """The text and lines of a book, what goes on its pages, and what a reader's program is told.

    `contents` holds the operators that draw each page, `fonts` a PDF of one blank page that has all of its fonts.
    `sections` holds for each page what its parts are, in the order in which they are read; in the PDF each
    is marked content with its place there as its identifier (ISO 32000-1, 14.7.4.2). `labels` holds the
    number of each page as the book counts it, whether it is printed there or not.
    `width` and `height` are the trimmed page in points.
    """

    contents: tuple[bytes, ...]
    fonts: bytes
    width: float
    height: float
    placements: tuple[Placement, ...]
    headings: tuple[Heading, ...]
    links: tuple[Crossing, ...]
    sections: tuple[tuple[Begins, ...], ...]
    labels: tuple[str, ...]
    title: str
    author: str | None
    language: str
    date: str | None
