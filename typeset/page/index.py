"""The index: exercises by title, by order, by sound, by what was done to them, and by level, in two columns."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import accumulate

from ..compose.book import Book, Exercise
from ..wording.markup import Span
from .breaking import Piece, break_pages
from .flow import small_look, text_pieces, title_piece
from .leaf import Section
from .listing import (
    Entries,
    by_level,
    by_order,
    by_sound,
    by_step,
    by_title,
    numbers_alone,
    numbers_or_throughout,
    with_pages,
)
from .marks import Begins, Mark, Role, Words, moved
from .paragraph import Line, Look, lines_of, title_lines, words_of
from .setting import Setting, points

INDEX = "page index"

_COLUMN_GAP = 9.0
_WORDS_SHARE = 0.55
"""The most of a column that titles take; the rest is for where to find them."""

_MOST_TOGETHER = 4
"""Lines of one entry that a column or a page does not part."""

_LEADINGS = (1.0, 0.92)
"""From line to line, loose and tight."""

_NEARLY_EMPTY = 0.75
"""How much of the last page may be free before a tighter setting is tried."""

_HANGING = 1.2
"""How far the further lines of an entry move in, in ems."""


@dataclass(frozen=True)
class Way:
    """What one part of the index needs besides its entries."""

    book: Book
    pages: Mapping[str, int]
    setting: Setting
    leading: float

    @cached_property
    def look(self) -> Look:
        """How entries look."""
        size, unit = self.setting.style.type.instruction, self.setting.unit
        leading = max(unit * 4, size * 1.3) * self.leading
        return Look(self.setting.text, size, leading, self.setting.style.greys.text)

    @cached_property
    def locators(self) -> Look:
        """How numbers and pages look."""
        return replace(self.look, cuts=self.setting.letters)


Rows = Iterator[Piece]
_SLACK = 0.01
"""Points that two heights may differ by and be alike: Pythons add fractions up in different ways (3.12)."""

Part = tuple[Callable[[Book, Setting], Entries], Callable[[str, Sequence[Exercise], float, Way], Rows]]


def index(book: Book, pages: Mapping[str, int], setting: Setting) -> Section:
    """Exercises by what a reader may look for, each entry leading there; tighter where that saves a page."""
    loose = tuple(_pieces(Way(book, pages, setting, _LEADINGS[0])))
    if _room_left(loose, setting) > setting.depth * _NEARLY_EMPTY + _SLACK:
        tight = tuple(_pieces(Way(book, pages, setting, _LEADINGS[1])))
        loose = min(loose, tight, key=lambda way: len(break_pages(way, setting.depth)))
    return Section(setting.words["pages.index.title"], loose)


def _pieces(way: Way) -> list[Piece]:
    setting = way.setting
    intro = text_pieces(setting.words["pages.index.intro"], small_look(setting), setting)
    pieces = [title_piece(setting.words["pages.index.title"], INDEX, setting)]
    pieces += [*(replace(piece, keeps=True) for piece in intro), Piece(setting.unit * 3, (), keeps=True)]
    for name, (entries_of, rows_of) in _PARTS.items():
        entries = entries_of(way.book, setting)
        if entries:
            share = _words_share(entries, way)
            rows = [row for words, exercises in entries for row in rows_of(words, exercises, share, way)]
            pieces += _part(name, rows, _room_left(pieces, setting), setting)
    return pieces


def _room_left(pieces: Sequence[Piece], setting: Setting) -> float:
    """What is free of the last page under these pieces."""
    start = max(number for number, piece in enumerate(pieces) if piece.starts_page or number == 0)
    return setting.depth - sum(piece.height + piece.after for piece in pieces[start:])


def _part(name: str, rows: list[Piece], room: float, setting: Setting) -> Iterator[Piece]:
    """A heading and its entries, down the first column and then the second, page by page."""
    heading = _heading(name, setting)
    room -= heading.height + heading.after
    together = min(sum(row.height for row in rows) / 2, _MOST_TOGETHER * 2 * rows[0].height)
    begins = room + _SLACK < together + rows[0].height
    yield replace(heading, starts_page=begins)
    if begins:
        room = setting.depth - heading.height - heading.after
    first = True
    while rows:
        count, piece = _two_columns(rows, room, setting)
        yield replace(piece, starts_page=not first)
        rows, room, first = rows[count:], setting.depth, False


def _heading(name: str, setting: Setting) -> Piece:
    style = setting.style
    size, height = style.type.body * 1.1, setting.unit * 5
    words = Words(0, height - 4, setting.words[f"pages.index.{name}"], setting.text.strong, size, style.greys.text)
    return Piece(height, (Begins(Role.SUBHEADING), words), setting.unit, keeps=True)


def _two_columns(rows: Sequence[Piece], room: float, setting: Setting) -> tuple[int, Piece]:
    """As many rows as two columns of a page hold, of even height, and how many they are."""
    # More than fill both columns need not be tried: a long index would try nearly all of them for each page.
    count = max(1, sum(height <= 2 * room + 0.01 for height in accumulate(row.height for row in rows)))
    while True:
        half = _half(rows[:count])
        heights = [sum(row.height for row in column) for column in (rows[:half], rows[half:count])]
        if max(heights) <= room + _SLACK or count == 1:
            break
        count -= 1
    width = _column_width(setting) + points(_COLUMN_GAP)
    marks: list[Mark] = []
    for right, column in ((0.0, rows[:half]), (width, rows[half:count])):
        y = 0.0
        for row in column:
            marks += [Begins(Role.TEXT), *moved(row.marks, right, y)]
            y += row.height
    return count, Piece(max(heights), tuple(marks), setting.unit * 5, setting.unit * 2)


def _half(rows: Sequence[Piece]) -> int:
    """How many rows make the first column, which is the taller one if either is."""
    whole = sum(row.height for row in rows)
    height = 0.0
    for number, row in enumerate(rows):
        if height >= whole / 2 - _SLACK:
            return number
        height += row.height
    return len(rows)


def _column_width(setting: Setting) -> float:
    return (setting.measure - points(_COLUMN_GAP)) / 2


def _words_share(entries: Entries, way: Way) -> float:
    """How much of a column the longest words take, as far as they may."""
    widest = max(title_lines(words, way.look, way.setting.measure)[0].width for words, _ in entries)
    return min(_WORDS_SHARE, widest / _column_width(way.setting) + 0.03)


def _in_columns(words: str, exercises: Sequence[Exercise], share: float, way: Way) -> Rows:
    """Words on the left, and where to find them on the right: as many lines as either needs."""
    setting = way.setting
    width = _column_width(setting)
    look = way.look
    found = with_pages(exercises, way.pages, way.book, setting)
    left = title_lines(words, look, width * share)
    right = lines_of(words_of(found, way.locators), width * (0.97 - share))
    yield from _in_pieces([(0.0, left), (width * (share + 0.03), right)], look)


def _run_in(words: str, spans: Sequence[Span], way: Way) -> Rows:
    """Words and where to find them in one paragraph, its further lines moved in."""
    setting = way.setting
    look = way.look
    named = words_of([Span(words)], look)
    found = words_of(spans, way.locators)
    hanging = look.size * _HANGING
    white = replace(named[-1], space=look.size * 0.7)
    first, *further = lines_of((*named[:-1], white, *found), _column_width(setting) - hanging, -hanging)
    yield from _in_pieces([(0.0, [first]), (hanging, [Line((), 0.0), *further])], look)


def _with_pages(words: str, exercises: Sequence[Exercise], _: float, way: Way) -> Rows:
    return _run_in(words, with_pages(exercises, way.pages, way.book, way.setting), way)


def _numbers_alone(words: str, exercises: Sequence[Exercise], _: float, way: Way) -> Rows:
    return _run_in(words, numbers_alone(exercises, way.book), way)


def _throughout(words: str, exercises: Sequence[Exercise], _: float, way: Way) -> Rows:
    return _run_in(words, numbers_or_throughout(exercises, way.book, way.setting), way)


def _in_pieces(columns: Sequence[tuple[float, Sequence[Line]]], look: Look) -> Rows:
    """Lines that stand beside one another, a few of them together."""
    count = max(len(lines) for _, lines in columns)
    for first in range(0, count, _MOST_TOGETHER):
        marks: list[Mark] = []
        for x, lines in columns:
            for row, line in enumerate(lines[first : first + _MOST_TOGETHER]):
                marks += line.marks(x, (row + 1) * look.leading - look.size * 0.3)
        yield Piece(min(count - first, _MOST_TOGETHER) * look.leading, tuple(marks))


_PARTS: dict[str, Part] = {
    "by-title": (by_title, _in_columns),
    "by-order": (by_order, _with_pages),
    "by-sound": (by_sound, _throughout),
    "by-step": (by_step, _throughout),
    "by-level": (by_level, _numbers_alone),
}
"""The parts of the index: what each lists, and how an entry looks."""
