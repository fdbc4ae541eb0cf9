"""The contents: chapters, exercises, and the parts of front and back, with the pages they stand on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from ..compose.book import Book
from .answers import has_answers
from .breaking import Piece, break_pages
from .chapter import anchor_of
from .faces import width_of
from .flow import title_piece
from .leaf import Section
from .marks import Link, Mark, Rule, Words
from .paragraph import Look, title_lines
from .setting import Setting, points

CONTENTS = "page contents"
LISTED = ("how-to-read", "drum-key", "care", "answers", "practice-log", "index", "family")
"""The parts of the front and the back that the contents list."""

_LOOSE_TO_TIGHT = (4.0, 3.75, 3.5, 3.25)
"""From line to line, in steps of the page's rhythm; the tighter ones only where they save a page."""


@dataclass(frozen=True, slots=True)
class Row:
    """A line of the contents: a number or nothing, a title, and the anchor that it leads to."""

    number: str
    title: str
    anchor: str
    is_chapter: bool = False


def contents(book: Book, pages: Mapping[str, int], setting: Setting) -> Section:
    """Everything with its page, each line leading there.

    `pages` holds the page of each anchor; what it lacks is printed without a number.
    """
    title = setting.words["pages.contents"]
    groups = tuple(_groups(book, setting))

    def way(steps: float) -> tuple[Piece, ...]:
        return (title_piece(title, CONTENTS, setting), *_pieces(groups, pages, steps * setting.unit, setting))

    fewest = len(break_pages(way(_LOOSE_TO_TIGHT[-1]), setting.depth))
    ways = (way(steps) for steps in _LOOSE_TO_TIGHT)
    return Section(title, next(pieces for pieces in ways if len(break_pages(pieces, setting.depth)) <= fewest))


def _groups(book: Book, setting: Setting) -> Iterator[tuple[Row, ...]]:
    """Rows that belong together: the front, each chapter, the back."""
    yield _parts(book, book.front, setting)
    for chapter in book.chapters:
        exercises = (Row(one.number, one.title, one.id) for one in chapter.exercises)
        yield (Row(str(chapter.number), chapter.title, anchor_of(chapter), True), *exercises)
    yield _parts(book, book.back, setting)


def _parts(book: Book, names: Sequence[str], setting: Setting) -> tuple[Row, ...]:
    listed = [name for name in names if name in LISTED and (name != "answers" or has_answers(book))]
    return tuple(Row("", setting.words[f"pages.{name}.title"], f"page {name}") for name in listed)


def _pieces(
    groups: Sequence[Sequence[Row]], pages: Mapping[str, int], leading: float, setting: Setting
) -> Iterator[Piece]:
    size, font = setting.style.type.body, setting.letters.strong
    numbers = [width_of(row.number, font, size) for group in groups for row in group]
    indent = max([*numbers, points(6)]) + size
    for group in groups:
        made = [_piece(row, pages, leading, indent, setting) for row in group]
        yield from made[:-1]
        for last in made[-1:]:
            yield replace(last, after=leading, stretch=leading / 2, keeps=False, reluctance=0.0)


def _piece(row: Row, pages: Mapping[str, int], leading: float, indent: float, setting: Setting) -> Piece:
    """Number, title, a row of dots, and the page."""
    style = setting.style
    size = style.type.body * 1.1 if row.is_chapter else style.type.instruction + 0.25
    look = Look(setting.text, size, leading, style.greys.text, setting.hyphened)
    letters = setting.letters.strong if row.is_chapter else setting.letters.regular
    width = setting.text_width
    # Room for four figures whatever the page is, so that lines break alike before pages are known.
    room = width - indent - width_of("0000", letters, size) - points(6)
    lines = title_lines(row.title, look, room, strong=row.is_chapter)
    y = leading - size * 0.3 + (leading * 0.25 if row.is_chapter else 0.0)
    marks: list[Mark] = [Words(0, y, row.number, letters, size * 0.95, look.ink)]
    for index, line in enumerate(lines):
        marks += line.marks(indent, y + index * leading)
    y += (len(lines) - 1) * leading
    page = str(pages.get(row.anchor, ""))
    right = width - width_of(page, letters, size)
    start = indent + lines[-1].width + points(2)
    if not row.is_chapter:
        marks.append(Rule(start, y - 0.5, right - points(2), y - 0.5, 0.7, style.greys.rule, dots=4))
    marks.append(Words(right, y, page, letters, size, look.ink))
    height = leading * (len(lines) + (0.25 if row.is_chapter else 0.0))
    marks.append(Link(0, 0, width, height, row.anchor))
    return Piece(
        height, tuple(marks), setting.unit if row.is_chapter else 0.0, keeps=row.is_chapter, reluctance=4.0
    )
