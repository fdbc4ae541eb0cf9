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
from .paragraph import Line, Look, title_lines
from .setting import Setting, points

CONTENTS = "page contents"
LISTED = ("how-to-read", "drum-key", "care", "answers", "practice-log", "index", "family")
"""The parts of the front and the back that the contents list."""

_LOOSE_TO_TIGHT = (4.0, 3.75, 3.5, 3.25)
"""From line to line, in steps of the page's rhythm; the tighter ones only where they save a page."""

_OVER_CHAPTER = 0.25


@dataclass(frozen=True, slots=True)
class Row:
    """A line of the contents: a number or nothing, a title, and the anchor that it leads to."""

    number: str
    title: str
    anchor: str
    is_chapter: bool = False

    @property
    def over(self) -> float:
        """The room over it, in lines: chapters are set off."""
        return _OVER_CHAPTER if self.is_chapter else 0.0


def contents(book: Book, pages: Mapping[str, int], setting: Setting) -> Section:
    """Everything with its page, each line leading there.

    `pages` holds the page of each anchor; what it lacks is printed without a number.
    """
    title = setting.words["pages.contents"]
    head = title_piece(title, CONTENTS, setting)
    groups = tuple(_groups(book, setting))
    indent = _indent(groups, setting)
    lines = {row: _title_lines(row, indent, setting) for group in groups for row in group}

    def pieces(leading: float) -> tuple[Piece, ...]:
        return (head, *_pieces(groups, lines, leading, setting))

    *loose, tightest = (steps * setting.unit for steps in _LOOSE_TO_TIGHT)
    fewest = len(break_pages(pieces(tightest), setting.depth))
    leading = next((one for one in loose if _fit_on(fewest, pieces(one), setting)), tightest)
    marks = (_marks(row, lines[row], pages, leading, indent, setting) for group in groups for row in group)
    _, *rows = pieces(leading)
    return Section(title, (head, *(replace(row, marks=made) for row, made in zip(rows, marks, strict=True))))


def _fit_on(pages: int, pieces: Sequence[Piece], setting: Setting) -> bool:
    """True where so many pages hold these pieces, of which what is plainly too tall is not broken into pages."""
    white = max(piece.after for piece in pieces)
    height = sum(piece.height + piece.after for piece in pieces) - pages * white
    return height <= pages * (setting.depth + 1) and len(break_pages(pieces, setting.depth)) <= pages


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


def _indent(groups: Sequence[Sequence[Row]], setting: Setting) -> float:
    """Where titles begin: behind the widest number."""
    size, font = setting.style.type.body, setting.letters.strong
    numbers = [width_of(row.number, font, size) for group in groups for row in group]
    return max([*numbers, points(6)]) + size


def _look(row: Row, setting: Setting) -> Look:
    """How a title looks; its lines break alike whatever their distance is."""
    size = setting.style.type.body * 1.1 if row.is_chapter else setting.style.type.instruction + 0.25
    return Look(setting.text, size, 0.0, setting.style.greys.text, setting.hyphened)


def _letters(row: Row, setting: Setting) -> str:
    return setting.letters.strong if row.is_chapter else setting.letters.regular


def _title_lines(row: Row, indent: float, setting: Setting) -> tuple[Line, ...]:
    look = _look(row, setting)
    # Room for four figures whatever the page is, so that lines break alike before pages are known.
    room = setting.text_width - indent - width_of("0000", _letters(row, setting), look.size) - points(6)
    return title_lines(row.title, look, room, strong=row.is_chapter)


def _pieces(
    groups: Sequence[Sequence[Row]], lines: Mapping[Row, Sequence[Line]], leading: float, setting: Setting
) -> Iterator[Piece]:
    """How tall every row is and where pages may part them; nothing stands on them yet."""
    for group in groups:
        for row in group:
            height = leading * (row.over + len(lines[row]))
            if row is group[-1]:
                yield Piece(height, (), leading, leading / 2)
            else:
                after = setting.unit if row.is_chapter else 0.0
                yield Piece(height, (), after, keeps=row.is_chapter, reluctance=4.0)


def _marks(
    row: Row, lines: Sequence[Line], pages: Mapping[str, int], leading: float, indent: float, setting: Setting
) -> tuple[Mark, ...]:
    """Number, title, a row of dots, and the page."""
    look, letters, width = _look(row, setting), _letters(row, setting), setting.text_width
    size = look.size
    y = leading - size * 0.3 + leading * row.over
    marks: list[Mark] = [Words(0, y, row.number, letters, size * 0.95, look.ink)]
    for index, line in enumerate(lines):
        marks += line.marks(indent, y + index * leading)
    y += (len(lines) - 1) * leading
    page = str(pages.get(row.anchor, ""))
    right = width - width_of(page, letters, size)
    start = indent + lines[-1].width + points(2)
    if not row.is_chapter:
        marks.append(Rule(start, y - 0.5, right - points(2), y - 0.5, 0.7, setting.style.greys.rule, dots=4))
    marks.append(Words(right, y, page, letters, size, look.ink))
    marks.append(Link(0, 0, width, leading * (row.over + len(lines)), row.anchor))
    return tuple(marks)
