"""Plates: pages with their running heads and numbers, ready to be drawn, all together or one at a time."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Protocol

from ..wording.markup import one_line
from .draw import Press
from .extent import extent
from .leaf import Leaf, filled_up, furniture, is_right
from .marks import NOTHING, Drawn, Mark
from .pages import Pages
from .pen import drawn
from .setting import Setting, points


class Titled(Protocol):
    """What is known by a title: a book, a curriculum. `date` is as the author wrote it."""

    @property
    def title(self) -> str:
        """Its title."""

    @property
    def author(self) -> str | None:
        """Who wrote it."""

    @property
    def language(self) -> str:
        """The language it is in, as `en`."""

    @property
    def date(self) -> str | None:
        """When it was written."""


@dataclass(frozen=True, slots=True)
class Plate:
    """A page ready to be drawn: its marks, and how many points in and down its text block begins.

    What is `drawn` already stands before them.
    """

    marks: tuple[Mark, ...]
    left: float
    top: float
    drawn: Drawn = NOTHING


def pages_of(book: Titled, leaves: tuple[Leaf, ...], setting: Setting) -> Pages:
    """The pages with their running heads and numbers, and what a reader's program is told of them."""
    leaves = filled_up(leaves, setting.style.press.pages_multiple)
    return printed(book, tuple(plates_of(book, leaves, setting)), page_size(leaves, setting), setting)


def plates_of(book: Titled, leaves: Sequence[Leaf], setting: Setting) -> Iterator[Plate]:
    """A plate of each page; how many pages there are says how wide the gutter is."""
    style = setting.style
    width, _ = page_size(leaves, setting)
    inner = points(style.margins.inner + style.margins.gutter.of(len(leaves)))
    title, author = one_line(book.title), one_line(book.author or "")
    for number, leaf in enumerate(leaves, start=1):
        left = inner if is_right(number) or setting.is_cut else width - inner - setting.measure
        marks = (*leaf.marks, *furniture(leaf, number, title, author, setting))
        yield Plate(marks, left, points(style.margins.top), leaf.drawn)


def printed(book: Titled, plates: Sequence[Plate], size: tuple[float, float], setting: Setting) -> Pages:
    """Plates drawn one after the other on pages of that width and height in points."""
    width, height = size
    press = Press(width, height, setting.text.regular)
    for plate in plates:
        press.page(drawn(plate.marks, plate.drawn), plate.left, plate.top)
    return Pages(
        contents=press.contents,
        fonts=press.fonts(),
        width=width,
        height=height,
        placements=tuple(press.placements),
        headings=tuple(press.headings),
        links=press.links,
        sections=tuple(press.sections),
        labels=tuple(str(number) for number in range(1, len(plates) + 1)),
        title=one_line(book.title),
        author=one_line(book.author or "") or None,
        language=book.language,
        date=book.date,
    )


def page_size(leaves: Sequence[Leaf], setting: Setting) -> tuple[float, float]:
    """The trimmed page in points: the paper, or as much of it as the fullest page needs."""
    paper, margins = setting.style.paper, setting.style.margins
    if not setting.is_cut:
        return points(paper.width), points(paper.height)
    ends = [extent(leaf.marks, setting) for leaf in leaves]
    right = max((right for right, _ in ends), default=0.0)
    bottom = max((bottom for _, bottom in ends), default=0.0)
    return right + points(margins.inner + margins.outer), bottom + points(margins.top + margins.bottom)
