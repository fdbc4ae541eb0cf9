"""Laying a book out: all its sections in order, numbered."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import partial

from ..compose.book import Book, Chapter
from ..compose.engraving import Engraving
from ..engrave.block import Block
from ..style.model import Style
from ..wording import wording
from .answers import answers
from .care import care
from .chapter import chapter_section
from .contents import contents
from .drum_key import drum_key
from .family import family
from .front import imprint, title_page
from .index import index
from .keeping import Keep
from .leaf import Leaf, Pageful, Section, in_order, pageful_of
from .pages import Pages
from .plates import pages_of
from .practice_log import practice_log
from .reading import how_to_read
from .setting import Setting
from .texts import refuse_missing, style_texts, texts_of

Numbers = Mapping[str, int]
"""The page, from 1, of each anchor."""

SetChapter = Callable[[Chapter, Setting], Pageful]
"""Gives the pages of a chapter in a setting."""

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


def lay_out(book: Book, style: Style, blocks: Mapping[Engraving, Block], keep: Keep | None = None) -> Pages:
    """Set a book in a style: everything on its pages but the engraved music, which is placed by reference.

    `blocks` holds a block for each of the book's engravings. Chapters that `keep` has are not set again. Raises
    DoesNotFit where something is wider or taller than its room, MissingCharacters where the faces lack one,
    OutsideError where a face is missing.
    """
    setting = setting_of(book, style, blocks)
    # How large fitted paper is depends on what is set on it.
    chapters = set_chapter if keep is None or style.paper.fitted else partial(_found_or_set, keep)
    return pages_of(book, leaves_of(book, setting, chapters), setting)


def set_chapter(chapter: Chapter, setting: Setting) -> Pageful:
    """A chapter's pages, set now."""
    return pageful_of(chapter_section(chapter, setting), setting)


def _found_or_set(keep: Keep, chapter: Chapter, setting: Setting) -> Pageful:
    return keep.get(chapter, setting) or keep.put(chapter, setting, set_chapter(chapter, setting))


def setting_of(book: Book, style: Style, blocks: Mapping[Engraving, Block]) -> Setting:
    """What a book's pages are set with. Raises MissingCharacters where the faces lack one."""
    refuse_missing((*style_texts(style), *texts_of(book)), style)
    return Setting(style, wording(book.language), blocks, book.mirrored, book.for_teacher)


def leaves_of(book: Book, setting: Setting, chapters: SetChapter = set_chapter) -> tuple[Leaf, ...]:
    """The pages with the page numbers they print, which can move what stands after them once or twice.

    What comes after others is set with their numbers at once, and what comes before them is set again.
    """
    makers = tuple(_makers(book, setting, chapters))
    numbers: dict[str, int] = {}
    for _ in range(_MOST_PASSES):
        former = dict(numbers)
        leaves = in_order((make(numbers) for make in makers), numbers)
        if numbers == former:
            break
    return leaves


def _makers(book: Book, setting: Setting, chapters: SetChapter) -> Iterator[Callable[[Numbers], Pageful]]:
    """For each part of the book in its order, what makes its pages once the page numbers are known."""
    yield from (_maker(name, book, setting) for name in book.front if name in PLAIN or name in NUMBERED)
    yield from (_always(chapters(chapter, setting.anywhere)) for chapter in book.chapters)
    yield from (_maker(name, book, setting) for name in book.back if name in PLAIN or name in NUMBERED)


def _maker(name: str, book: Book, setting: Setting) -> Callable[[Numbers], Pageful]:
    if name in PLAIN:
        return _always(pageful_of(PLAIN[name](book, setting), setting))
    return _Numbered(lambda numbers: pageful_of(NUMBERED[name](book, numbers, setting), setting))


def _always(pageful: Pageful) -> Callable[[Numbers], Pageful]:
    """The same pages whatever the numbers are, made once."""
    return lambda _: pageful


@dataclass
class _Numbered:
    """A part that prints page numbers: it is set again only when one that it asked for has changed."""

    set_with: Callable[[Numbers], Pageful]
    asked: dict[str, int | None] = field(default_factory=dict)
    pages: Pageful | None = None

    def __call__(self, numbers: Numbers) -> Pageful:
        if self.pages is None or any(numbers.get(name) != page for name, page in self.asked.items()):
            self.asked = {}
            self.pages = self.set_with(_Noting(numbers, self.asked))
        return self.pages


@dataclass
class _Noting(Mapping[str, int]):
    """Page numbers, with a note of all that were asked for."""

    numbers: Numbers
    asked: dict[str, int | None]

    def __getitem__(self, name: str) -> int:
        self.asked[name] = self.numbers.get(name)
        return self.numbers[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self.numbers)

    def __len__(self) -> int:
        return len(self.numbers)
