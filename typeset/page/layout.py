"""Laying a book out: all its sections in order, numbered, drawn."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Protocol

from ..compose.book import Book, Engraving
from ..engrave.block import Block
from ..style.model import Style
from ..wording import wording
from .answers import answers
from .care import care
from .chapter import chapter_section
from .contents import contents
from .draw import Press
from .drum_key import drum_key
from .extent import extent
from .family import family
from .front import imprint, title_page
from .index import index
from .leaf import Leaf, Pageful, Section, filled_up, furniture, in_order, is_right, page_numbers, pageful_of
from .markup import one_line
from .pages import Pages
from .practice_log import practice_log
from .reading import how_to_read
from .setting import Setting, points
from .texts import refuse_missing, style_texts, texts_of

Numbers = Mapping[str, int]
"""The page, from 1, of each anchor."""

_MOST_PASSES = 5

PLAIN: dict[str, Callable[[Book, Setting], Section]] = {
    "title-page": title_page,
    "imprint": imprint,
    "how-to-read": how_to_read,
    "drum-key": drum_key,
    "care": care,
    "practice-log": practice_log,
}
"""The parts that a book can name for its front and its back, and that print no page numbers of others."""

NUMBERED: dict[str, Callable[[Book, Numbers, Setting], Section]] = {
    "contents": contents,
    "index": index,
    "family": family,
    "answers": answers,
}
"""The parts that do."""


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


def lay_out(book: Book, style: Style, blocks: Mapping[Engraving, Block]) -> Pages:
    """Set a book in a style: everything on its pages but the engraved music, which is placed by reference.

    `blocks` holds a block for each of the book's engravings. Raises DoesNotFit where something is wider
    or taller than its room, MissingCharacters where the faces lack one, OutsideError where a face is missing.
    """
    refuse_missing((*style_texts(style), *texts_of(book)), style)
    setting = Setting(style, wording(book.language), blocks, book.mirrored, book.for_teacher)
    return drawn(book, _settled(book, setting), setting)


def _settled(book: Book, setting: Setting) -> tuple[Leaf, ...]:
    """The pages with the page numbers they print, which can move what stands after them once or twice."""
    makers = tuple(_makers(book, setting))
    numbers: Numbers = {}
    for _ in range(_MOST_PASSES):
        leaves = in_order(make(numbers) for make in makers)
        found = page_numbers(leaves)
        if found == numbers:
            break
        numbers = found
    return leaves


def _makers(book: Book, setting: Setting) -> Iterator[Callable[[Numbers], Pageful]]:
    """For each part of the book in its order, what makes its pages once the page numbers are known."""
    yield from (_maker(name, book, setting) for name in book.front if name in PLAIN or name in NUMBERED)
    yield from (_always(chapter_section(chapter, setting), setting) for chapter in book.chapters)
    yield from (_maker(name, book, setting) for name in book.back if name in PLAIN or name in NUMBERED)


def _maker(name: str, book: Book, setting: Setting) -> Callable[[Numbers], Pageful]:
    if name in PLAIN:
        return _always(PLAIN[name](book, setting), setting)
    return lambda numbers: pageful_of(NUMBERED[name](book, numbers, setting), setting)


def _always(section: Section, setting: Setting) -> Callable[[Numbers], Pageful]:
    """The same pages whatever the numbers are, made once."""
    pageful = pageful_of(section, setting)
    return lambda _: pageful


def drawn(book: Titled, leaves: tuple[Leaf, ...], setting: Setting) -> Pages:
    """The pages with their running heads and numbers, and what a reader's program is told of them."""
    style = setting.style
    leaves = filled_up(leaves, style.press.pages_multiple)
    width, height = _page_size(leaves, setting)
    press = Press(width, height, setting.text.regular)
    inner = points(style.margins.inner + style.margins.gutter.of(len(leaves)))
    top = points(style.margins.top)
    title, author = one_line(book.title), one_line(book.author or "")
    for number, leaf in enumerate(leaves, start=1):
        left = inner if is_right(number) or style.paper.fitted else width - inner - setting.measure
        marks = (*leaf.marks, *furniture(leaf, number, title, author, setting))
        press.page(marks, left, top)
    return Pages(
        pdf=press.pdf(),
        width=width,
        height=height,
        placements=tuple(press.placements),
        headings=tuple(press.headings),
        links=press.links,
        sections=tuple(press.sections),
        labels=tuple(str(number) for number in range(1, len(leaves) + 1)),
        title=title,
        author=author or None,
        language=book.language,
        date=book.date,
    )


def _page_size(leaves: tuple[Leaf, ...], setting: Setting) -> tuple[float, float]:
    """The trimmed page in points: the paper, or as much of it as the fullest page needs."""
    paper, margins = setting.style.paper, setting.style.margins
    if not paper.fitted:
        return points(paper.width), points(paper.height)
    ends = [extent(leaf.marks, setting) for leaf in leaves]
    right = max((right for right, _ in ends), default=0.0)
    bottom = max((bottom for _, bottom in ends), default=0.0)
    return right + points(margins.inner + margins.outer), bottom + points(margins.top + margins.bottom)
