"""From pieces to pages in their order: sections, blank pages, running heads, page numbers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace

from .breaking import Piece, break_pages, shares_of, spread
from .faces import width_of
from .marks import NOTHING, Anchor, Begins, Drawn, Mark, Role, Words, moved
from .pen import drawn
from .setting import Setting, points


@dataclass(frozen=True, slots=True)
class Section:
    """What begins on a page of its own: a chapter, or a part of the front or the back.

    `heading` is what running heads call it; a `bare` section has neither running head nor page number.
    """

    heading: str
    pieces: tuple[Piece, ...]
    on_right: bool = False
    bare: bool = False


@dataclass(frozen=True, slots=True)
class Leaf:
    """A page: its marks from the text block's top left corner, or all of them `drawn`; neither on a blank page.

    `opens` is true for the first page of its section.
    """

    marks: tuple[Mark, ...] = ()
    heading: str = ""
    opens: bool = False
    bare: bool = False
    names: tuple[str, ...] = field(default=(), compare=False)
    drawn: Drawn = NOTHING


@dataclass(frozen=True, slots=True)
class Pageful:
    """A section's pages, and whether they begin on a right-hand page."""

    leaves: tuple[Leaf, ...]
    on_right: bool


def pageful_of(section: Section, setting: Setting) -> Pageful:
    """Break a section into pages. Raises DoesNotFit where something is taller than a page."""
    return Pageful(tuple(_leaves(section, setting)), section.on_right)


def _leaves(section: Section, setting: Setting) -> Iterator[Leaf]:
    pages = break_pages(section.pieces, setting.depth)
    shares = shares_of(pages, setting.depth)
    for index, pieces in enumerate(pages):
        marks: list[Mark] = []
        for piece, top in zip(pieces, spread(pieces, shares[index], setting.unit), strict=True):
            if not piece.goes_on:
                marks.append(Begins(Role.TEXT))
            marks += moved(piece.marks, 0, top)
        names = tuple(mark.name for mark in marks if isinstance(mark, Anchor))
        yield Leaf(tuple(marks), section.heading, index == 0, section.bare, names)


def as_drawn(leaf: Leaf) -> Leaf:
    """A page with everything on it drawn. Raises MissingCharacters where a face lacks a character."""
    return replace(leaf, marks=(), drawn=drawn(leaf.marks, leaf.drawn))


def in_order(pagefuls: Iterable[Pageful], numbers: dict[str, int] | None = None) -> tuple[Leaf, ...]:
    """All pages, with a blank one before each right-hand beginning that would fall on the left.

    `numbers` is given the page, from 1, of each anchor on some pages before the pages after them are asked for.
    """
    leaves: list[Leaf] = []
    for pageful in pagefuls:
        # The first page of a book is a right-hand one, so an even number of pages comes before each of them.
        if pageful.on_right and len(leaves) % 2:
            leaves.append(Leaf(bare=True))
        for leaf in pageful.leaves:
            leaves.append(leaf)
            if numbers is not None:
                numbers.update(dict.fromkeys(leaf.names, len(leaves)))
    return tuple(leaves)


def filled_up(leaves: tuple[Leaf, ...], multiple: int) -> tuple[Leaf, ...]:
    """With blank pages at the end, so that a printing house gets a multiple of so many pages.

    They come last because pages are bound as a block behind a cover, and so no printed number changes.
    """
    return leaves + (Leaf(bare=True),) * (-len(leaves) % multiple)


def is_right(number: int) -> bool:
    """Odd pages are right-hand pages."""
    return number % 2 == 1


def furniture(leaf: Leaf, number: int, title: str, author: str, setting: Setting) -> tuple[Mark, ...]:
    """The running head and the page number of a page, on its outer side, from the text block's top left."""
    if leaf.bare or not (leaf.marks or leaf.drawn.content):
        return ()
    style = setting.style
    font, size, ink = setting.letters.regular, style.type.small, style.greys.quiet
    at_right = is_right(number)
    foot = points(style.paper.height - style.margins.top - style.running.foot)
    marks: list[Mark] = [Begins(Role.FURNITURE)]
    if style.running.numbers:
        marks.append(_outer(str(number), setting.letters.strong, size + 0.5, foot, ink, at_right, setting))
    wanted = style.running.right if at_right else style.running.left
    words = {"title": title, "chapter": leaf.heading, "author": author, "none": ""}[wanted]
    if words and not leaf.opens:
        head = points(style.running.head - style.margins.top)
        words = _shortened(words, font, size, setting)
        marks.append(_outer(words, font, size, head, ink, at_right, setting))
    return tuple(marks)


def _outer(words: str, font: str, size: float, y: float, ink: float, at_right: bool, setting: Setting) -> Words:
    x = setting.measure - width_of(words, font, size) if at_right else 0.0
    return Words(x, y, words, font, size, ink)


def _shortened(words: str, font: str, size: float, setting: Setting) -> str:
    """Words no longer than the measure."""
    while width_of(words, font, size) > setting.measure and len(words) > 1:
        words = f"{words[:-2].rstrip()}…"
    return words
