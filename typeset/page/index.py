"""The index: exercises by title, by order and by level, in two columns."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from ..compose.book import Book, Exercise
from .breaking import Piece
from .flow import title_piece
from .leaf import Section
from .marks import Begins, Mark, Role, Words, moved
from .markup import Span, one_line
from .orders import letters_of
from .paragraph import Look, lines_of, title_lines, words_of
from .setting import Setting, points

INDEX = "page index"
_LONGEST_ORDER = 16
"""Nobody looks a longer order up by its strokes."""

_FIGURES = re.compile(r"([0-9]+)")

_COLUMN_GAP = 9.0
_WORDS_SHARE = 0.55
"""The most of a column that words take; the rest is for where to find them."""

_MOST_TOGETHER = 4
"""Lines of one entry that a column or a page does not part."""

Entries = Sequence[tuple[str, Sequence[Exercise]]]
"""Words, and the exercises they stand for, as an index lists them."""


def index(book: Book, pages: Mapping[str, int], setting: Setting) -> Section:
    """Exercises by title, by order and by level, with their pages."""
    title = setting.words["pages.index.title"]
    pieces = [title_piece(title, INDEX, setting)]
    parts = (
        ("by-title", _by_title(book, setting)),
        ("by-order", _by_order(book, setting)),
        ("by-level", _by_level(book, setting)),
    )
    for name, entries in parts:
        if entries:
            pieces += _part(name, entries, pages, _room_left(pieces, setting), setting)
    return Section(title, tuple(pieces))


def _room_left(pieces: Sequence[Piece], setting: Setting) -> float:
    """What is free of the last page under these pieces."""
    start = max(number for number, piece in enumerate(pieces) if piece.starts_page or number == 0)
    return setting.depth - sum(piece.height + piece.after for piece in pieces[start:])


def _by_title(book: Book, setting: Setting) -> Entries:
    found: dict[str, list[Exercise]] = {}
    for exercise in book.exercises:
        found.setdefault(one_line(exercise.title), []).append(exercise)
    articles = tuple(f"{word} " for word in setting.words["pages.index.articles"].split())
    return sorted(found.items(), key=lambda entry: (_filed(entry[0], articles), entry[0]))


def _filed(title: str, articles: tuple[str, ...]) -> tuple[tuple[bool, int, str], ...]:
    """What a title is filed under: its words without marks and without the article before them, numbers by size."""
    words = " ".join("".join(char if char.isalnum() else " " for char in title.casefold()).split())
    words = next((words.removeprefix(one) for one in articles if words.startswith(one)), words)
    parts = filter(None, _FIGURES.split(words))
    return tuple((False, int(part), "") if part.isdecimal() else (True, 0, part) for part in parts)


def _by_order(book: Book, setting: Setting) -> Entries:
    found: dict[tuple[str, ...], list[Exercise]] = {}
    for exercise in book.exercises:
        if 0 < len(exercise.order) <= _LONGEST_ORDER:
            found.setdefault(letters_of(exercise.order, setting.style.letters), []).append(exercise)
    return [(" ".join(letters), found[letters]) for letters in sorted(found, key=lambda one: (len(one), one))]


def _by_level(book: Book, setting: Setting) -> Entries:
    found: dict[int, list[Exercise]] = {}
    for exercise in book.exercises:
        found.setdefault(exercise.level, []).append(exercise)
    return [(setting.words.say("pages.index.level", level=level), found[level]) for level in sorted(found)]


def _part(name: str, entries: Entries, pages: Mapping[str, int], room: float, setting: Setting) -> Iterator[Piece]:
    """A heading and its entries, down the first column and then the second, page by page."""
    heading = _heading(name, setting)
    share = _words_share(entries, setting)
    rows = [row for words, exercises in entries for row in _entry(words, exercises, pages, share, setting)]
    room -= heading.height + heading.after
    begins = room < min(sum(row.height for row in rows) / 2, _MOST_TOGETHER * 2 * rows[0].height) + rows[0].height
    yield replace(heading, starts_page=begins)
    if begins:
        room = setting.depth - heading.height - heading.after
    first = True
    while rows:
        taken = _two_columns(rows, room, setting)
        count, piece = taken
        yield replace(piece, starts_page=not first)
        rows, room, first = rows[count:], setting.depth, False


def _heading(name: str, setting: Setting) -> Piece:
    style = setting.style
    size, height = style.type.body * 1.1, setting.unit * 5
    words = Words(0, height - 4, setting.words[f"pages.index.{name}"], setting.text.strong, size, style.greys.text)
    return Piece(height, (Begins(Role.SUBHEADING), words), setting.unit, keeps=True)


def _two_columns(rows: Sequence[Piece], room: float, setting: Setting) -> tuple[int, Piece]:
    """As many rows as two columns of a page hold, of even height, and how many they are."""
    count = len(rows)
    while True:
        half = _half(rows[:count])
        heights = [sum(row.height for row in column) for column in (rows[:half], rows[half:count])]
        if max(heights) <= room or count == 1:
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
        if height >= whole / 2:
            return number
        height += row.height
    return len(rows)


def _column_width(setting: Setting) -> float:
    return (setting.measure - points(_COLUMN_GAP)) / 2


def _look(setting: Setting) -> Look:
    size = setting.style.type.instruction
    return Look(setting.text, size, max(setting.unit * 4, size * 1.3), setting.style.greys.text)


def _words_share(entries: Entries, setting: Setting) -> float:
    """How much of a column the longest words take, as far as they may."""
    widest = max(title_lines(words, _look(setting), setting.measure)[0].width for words, _ in entries)
    return min(_WORDS_SHARE, widest / _column_width(setting) + 0.03)


def _entry(
    words: str, exercises: Sequence[Exercise], pages: Mapping[str, int], share: float, setting: Setting
) -> Iterator[Piece]:
    """Words on the left, and where to find them on the right: as many lines as either needs."""
    width = _column_width(setting)
    look = _look(setting)
    locators = replace(look, cuts=setting.letters)
    spans: list[Span] = []
    for exercise in exercises:
        page = setting.words.say("pages.index.page", page=pages.get(exercise.id, "0000"))
        spans.append(Span(f"{', ' if spans else ''}{exercise.number}\u00a0", address=exercise.id, strong=True))
        spans.append(Span(page.replace(" ", "\u00a0"), address=exercise.id))
    left = title_lines(words, look, width * share)
    right = lines_of(words_of(spans, locators), width * (0.97 - share))
    count = max(len(left), len(right))
    for first in range(0, count, _MOST_TOGETHER):
        height = min(count - first, _MOST_TOGETHER) * look.leading
        marks: list[Mark] = []
        for column, lines in ((0.0, left), (width * (share + 0.03), right)):
            for row, line in enumerate(lines[first : first + _MOST_TOGETHER]):
                marks += line.marks(column, (row + 1) * look.leading - look.size * 0.3)
        yield Piece(height, tuple(marks))
