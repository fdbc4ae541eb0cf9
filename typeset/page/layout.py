"""Laying a book out: all its sections in order, numbered, drawn."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from ..compose.book import Book, Engraving
from ..engrave.block import Block
from ..style.model import Style
from ..wording import wording
from .care import care
from .chapter import chapter_section
from .contents import contents
from .draw import Press
from .drum_key import drum_key
from .extent import extent
from .family import family
from .front import imprint, title_page
from .index import index
from .leaf import Leaf, Section, furniture, is_right, leaves_of, page_numbers
from .marks import Anchor
from .markup import one_line
from .pages import Pages
from .practice_log import practice_log
from .reading import how_to_read
from .setting import Setting, points

Numbers = Mapping[str, int]
Part = Callable[[Book, Numbers, Setting], Section]

_MOST_PASSES = 5

# The parts that a book can name for its front and its back. `answers` is printed where there are tasks.
PARTS: dict[str, Part] = {
    "title-page": lambda book, _, setting: title_page(book, setting),
    "imprint": lambda book, _, setting: imprint(book, setting),
    "contents": contents,
    "how-to-read": lambda book, _, setting: how_to_read(book, setting),
    "drum-key": lambda book, _, setting: drum_key(book, setting),
    "care": lambda _, __, setting: care(setting),
    "practice-log": lambda book, _, setting: practice_log(book, setting),
    "index": index,
    "family": family,
}


def lay_out(book: Book, style: Style, blocks: Mapping[Engraving, Block]) -> Pages:
    """Set a book in a style: everything on its pages but the engraved music, which is placed by reference.

    `blocks` holds a block for each of the book's engravings. Raises DoesNotFit where something is wider
    or taller than its room, OutsideError where a typeface is missing.
    """
    setting = Setting(style, wording(book.language), blocks, book.mirrored)
    return _drawn(book, _settled(book, setting), setting)


def _settled(book: Book, setting: Setting) -> tuple[Leaf, ...]:
    """The pages with the page numbers they print, which can move what stands after them once or twice."""
    numbers: Numbers = {}
    for _ in range(_MOST_PASSES):
        leaves = leaves_of(_sections(book, numbers, setting), setting)
        found = page_numbers(leaves)
        if found == numbers:
            break
        numbers = found
    return leaves


def _sections(book: Book, numbers: Numbers, setting: Setting) -> Iterator[Section]:
    for name in book.front:
        if name in PARTS:
            yield PARTS[name](book, numbers, setting)
    for chapter in book.chapters:
        yield chapter_section(chapter, setting)
    for name in book.back:
        if name in PARTS:
            yield PARTS[name](book, numbers, setting)


def _drawn(book: Book, leaves: tuple[Leaf, ...], setting: Setting) -> Pages:
    style = setting.style
    width, height = _page_size(leaves, setting)
    anchors = [mark.name for leaf in leaves for mark in leaf.marks if isinstance(mark, Anchor)]
    press = Press(width, height, setting.text.regular, anchors)
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
