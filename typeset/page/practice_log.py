"""The practice log: exercises by weeks, with a box for the tempo reached."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ..compose.book import Book, Exercise
from ..pattern.tempo import Tempo
from .breaking import Piece
from .faces import width_of
from .flow import body_look, kept, text_pieces, title_piece
from .head import tempo_mark
from .leaf import Section
from .marks import Mark, Rule, Words, moved
from .paragraph import Look, title_lines
from .setting import Setting, points

PRACTICE_LOG = "page practice-log"
_MOST_WEEKS = 8
_TITLE_SHARE = 0.35
_ROW_HEIGHTS = (6.0, 5.0)
"""Of a row of one line, in steps of the page's rhythm; the lower one where it saves a page."""

_AIR = 1.9
"""Millimetres of white beside what stands in a column."""


@dataclass(frozen=True, slots=True)
class Columns:
    """Where the table's columns stand, in points from its left end: titles, goals up to `goal`, weeks."""

    title: float
    title_end: float
    goal: float
    week: float
    weeks: tuple[float, ...]


def practice_log(book: Book, setting: Setting) -> Section:
    """The table, with its head again on every page."""
    title = setting.words["pages.practice-log.title"]
    intro = text_pieces(setting.words["pages.practice-log.intro"], body_look(setting), setting)
    space = Piece(setting.unit * 3, (), keeps=True)
    opening = (title_piece(title, PRACTICE_LOG, setting), *kept(intro), space)
    loose, tight = (tuple(_table(book, opening, height, setting)) for height in _ROW_HEIGHTS)
    return Section(title, (*opening, *(tight if _pages(tight) < _pages(loose) else loose)))


def _pages(table: Sequence[Piece]) -> int:
    return 1 + sum(piece.starts_page for piece in table)


def _table(book: Book, opening: Sequence[Piece], row_height: float, setting: Setting) -> Iterator[Piece]:
    columns = _columns(book, setting)
    left = setting.depth - sum(piece.height + piece.after for piece in opening)
    head = _head(columns, setting)
    yield head
    left -= head.height
    for exercise in book.exercises:
        row = _row(exercise, columns, row_height, setting)
        if left < row.height:
            yield _head(columns, setting, starts_page=True)
            left = setting.depth - head.height
        yield row
        left -= row.height


def _columns(book: Book, setting: Setting) -> Columns:
    """As many weeks as their heads have room for, up to eight."""
    style = setting.style
    strong, air = setting.letters.strong, points(_AIR)
    size, small = style.type.instruction, style.type.small
    numbers = [width_of(exercise.number, strong, size) for exercise in book.exercises]
    title_end = setting.measure * _TITLE_SHARE
    heads = [setting.words["pages.practice-log.goal"], _week(_MOST_WEEKS, setting)]
    goal, week = (width_of(head, setting.letters.regular, small) + 2 * air for head in heads)
    # A goal is a note, an equals sign and three figures.
    goal = max(goal, 4 * small + 2 * air)
    room = setting.measure - title_end - goal
    count = max(1, min(_MOST_WEEKS, int(room / week)))
    step = room / count
    weeks = tuple(title_end + goal + index * step for index in range(count))
    return Columns(max([0.0, *numbers]) + air, title_end, title_end + goal, step, weeks)


def _week(number: int, setting: Setting) -> str:
    return setting.words.say("pages.practice-log.week", week=number)


def _head(columns: Columns, setting: Setting, *, starts_page: bool = False) -> Piece:
    font, size, ink = setting.letters.regular, setting.style.type.small, setting.style.greys.quiet
    key = "pages.practice-log."
    height = setting.unit * 5
    y = height - size * 0.6
    marks: list[Mark] = [Words(0, y, setting.words[f"{key}exercise"], font, size, ink)]
    goal = setting.words[f"{key}goal"]
    marks.append(Words(columns.goal - points(_AIR) - width_of(goal, font, size), y, goal, font, size, ink))
    for number, x in enumerate(columns.weeks, start=1):
        words = _week(number, setting)
        middle = x + columns.week / 2
        marks.append(Words(middle - width_of(words, font, size) / 2, y, words, font, size, ink))
    marks.append(Rule(0, height, setting.measure, height, 0.6, setting.style.greys.rule))
    return Piece(height, tuple(marks), keeps=True, starts_page=starts_page)


def _row(exercise: Exercise, columns: Columns, row_height: float, setting: Setting) -> Piece:
    style = setting.style
    size, ink, rule = style.type.instruction, style.greys.text, style.greys.rule
    look = Look(setting.text, size, size * 1.2, ink, setting.hyphened)
    room = columns.title_end - columns.title
    lines = title_lines(exercise.title, look, room)
    white = row_height - 4
    height = setting.rounded(max(setting.unit * row_height, len(lines) * look.leading + setting.unit * white))
    y = (height - (len(lines) - 1) * look.leading) / 2 + size * 0.3
    marks: list[Mark] = [Words(0, y, exercise.number, setting.letters.strong, size, ink)]
    for index, line in enumerate(lines):
        marks += line.marks(columns.title, y + index * look.leading)
    if exercise.tempo:
        goal = replace(exercise, tempo=Tempo(exercise.tempo.goal, exercise.tempo.goal))
        mark = tempo_mark(goal, style.type.small, setting)
        right = max(one.x + width_of(one.words, one.font, one.size) for one in mark if isinstance(one, Words))
        marks += moved(mark, columns.goal - points(_AIR) - right, y)
    marks.append(Rule(0, height, setting.measure, height, 0.35, rule))
    marks += [Rule(x, 0, x, height, 0.35, rule) for x in (*columns.weeks, setting.measure)]
    return Piece(height, tuple(marks))
