"""The last pages: the practice log and the index."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from ..compose.book import Book, Exercise
from .breaking import Piece
from .cycle import Cycle, cycle_of, letters_of
from .faces import width_of
from .flow import body_look, kept, text_pieces, title_piece
from .leaf import Section
from .marks import Mark, Rule, Words
from .markup import Span, one_line
from .paragraph import Look, lines_of, words_of
from .setting import Setting, points

PRACTICE_LOG = "page practice-log"
INDEX = "page index"
_WEEKS = 8
_MOST_LETTERS = 16
_TITLE_SHARE = 0.34
_GOAL_SHARE = 0.09


def practice_log(book: Book, setting: Setting) -> Section:
    """A table of exercises by weeks, with room for a tempo in each box."""
    title = setting.words["pages.practice-log.title"]
    intro = text_pieces(setting.words["pages.practice-log.intro"], body_look(setting), setting)
    space = Piece(setting.unit * 3, (), keeps=True)
    opening = (title_piece(title, PRACTICE_LOG, setting), *kept(intro), space)
    return Section(title, (*opening, *_log_table(book, opening, setting)))


def _log_table(book: Book, opening: Sequence[Piece], setting: Setting) -> Iterator[Piece]:
    """The rows, with the head of the table again on every page."""
    head = _log_head(setting)
    left = setting.depth - sum(piece.height + piece.after for piece in opening) - head.height
    yield head
    for exercise in book.exercises:
        row = _log_row(exercise, setting)
        if left < row.height:
            yield replace(head, starts_page=True)
            left = setting.depth - head.height
        yield row
        left -= row.height


def _log_columns(setting: Setting) -> tuple[float, float, tuple[float, ...]]:
    """Where the goal's column ends, how wide a week is, and where each week begins."""
    goal = setting.measure * (_TITLE_SHARE + _GOAL_SHARE)
    week = (setting.measure - goal) / _WEEKS
    return goal, week, tuple(goal + index * week for index in range(_WEEKS))


def _log_head(setting: Setting) -> Piece:
    goal, week, weeks = _log_columns(setting)
    font, size, ink = setting.letters.regular, setting.style.type.small, setting.style.greys.quiet
    key = "pages.practice-log."
    height = setting.unit * 5
    y = height - size * 0.6
    marks: list[Mark] = [Words(0, y, setting.words[f"{key}exercise"], font, size, ink)]
    words = setting.words[f"{key}goal"]
    marks.append(Words(goal - points(3) - width_of(words, font, size), y, words, font, size, ink))
    for number, x in enumerate(weeks, start=1):
        words = setting.words.say(f"{key}week", week=number)
        marks.append(Words(x + (week - width_of(words, font, size)) / 2, y, words, font, size, ink))
    marks.append(Rule(0, height, setting.measure, height, 0.6, setting.style.greys.rule))
    return Piece(height, tuple(marks), keeps=True)


def _log_row(exercise: Exercise, setting: Setting) -> Piece:
    style = setting.style
    goal, _, weeks = _log_columns(setting)
    height = setting.unit * 6
    y = height / 2 + style.type.instruction * 0.3
    size, ink = style.type.instruction, style.greys.text
    indent = points(11)
    look = Look(setting.text, size, size * 1.1, ink)
    marks: list[Mark] = [Words(0, y, exercise.number, setting.letters.strong, size * 0.95, ink)]
    room = setting.measure * _TITLE_SHARE - indent
    marks += lines_of(words_of([Span(one_line(exercise.title))], look), room)[0].marks(indent, y)
    if exercise.tempo:
        words = str(exercise.tempo.goal)
        font = setting.letters.regular
        marks.append(Words(goal - points(3) - width_of(words, font, size), y, words, font, size, ink))
    rule = style.greys.rule
    marks.append(Rule(0, height, setting.measure, height, 0.35, rule))
    marks += [Rule(x, 0, x, height, 0.35, rule) for x in (*weeks, setting.measure)]
    return Piece(height, tuple(marks))


Entries = Sequence[tuple[str, Sequence[Exercise]]]
"""Words, and the exercises they stand for, as an index lists them."""


def index(book: Book, pages: Mapping[str, int], setting: Setting) -> Section:
    """Exercises by title and by sticking, with their pages."""
    title = setting.words["pages.index.title"]
    pieces = [title_piece(title, INDEX, setting)]
    pieces += _part("by-title", _by_title(book), pages, setting)
    pieces += _part("by-sticking", _by_sticking(book, setting), pages, setting)
    return Section(title, tuple(pieces))


def _by_title(book: Book) -> Entries:
    found: dict[str, list[Exercise]] = {}
    for exercise in book.exercises:
        found.setdefault(one_line(exercise.title), []).append(exercise)
    return sorted(found.items(), key=lambda entry: (entry[0].casefold(), entry[0]))


def _by_sticking(book: Book, setting: Setting) -> Entries:
    found: dict[Cycle, list[Exercise]] = {}
    for exercise in book.exercises:
        found.setdefault(cycle_of(exercise.pattern), []).append(exercise)
    cycles = sorted(found, key=lambda cycle: (len(cycle), [[limb.rank for limb in limbs] for limbs in cycle]))
    return [(_letters(cycle, setting), found[cycle]) for cycle in cycles]


def _letters(cycle: Cycle, setting: Setting) -> str:
    letters = letters_of(cycle, setting.style.letters)
    return " ".join(letters[:_MOST_LETTERS]) + (" …" if len(letters) > _MOST_LETTERS else "")


def _part(name: str, entries: Entries, pages: Mapping[str, int], setting: Setting) -> Iterator[Piece]:
    """A heading and its entries."""
    style = setting.style
    look = Look(setting.text, style.type.body * 1.1, setting.unit * 5, style.greys.text)
    words, y = setting.words[f"pages.index.{name}"], look.leading - 4
    heading = Words(0, y, words, setting.text.strong, look.size, look.ink)
    yield Piece(look.leading, (heading,), setting.unit, keeps=True)
    rows = [_entry(words, exercises, pages, setting) for words, exercises in entries]
    yield from rows[:-1]
    if rows:
        yield replace(rows[-1], after=setting.unit * 5, stretch=setting.unit * 2)


def _entry(words: str, exercises: Sequence[Exercise], pages: Mapping[str, int], setting: Setting) -> Piece:
    """Words on the left, and where to find them on the right: as many lines as either needs."""
    style = setting.style
    width = setting.text_width
    look = Look(setting.text, style.type.instruction + 0.25, setting.unit * 4, style.greys.text)
    locators = replace(look, cuts=setting.letters)
    spans: list[Span] = []
    for exercise in exercises:
        page = setting.words.say("pages.index.page", page=pages.get(exercise.id, ""))
        spans.append(
            Span(f"{', ' if spans else ''}{exercise.number}\u00a0", address=exercise.id, strong=True)
        )
        spans.append(Span(page, address=exercise.id))
    left = lines_of(words_of([Span(words)], look), width * 0.6)
    right = lines_of(words_of(spans, locators), width * 0.36)
    marks: list[Mark] = []
    for column, lines in ((0.0, left), (width * 0.64, right)):
        for row, line in enumerate(lines):
            marks += line.marks(column, (row + 1) * look.leading - look.size * 0.3)
    return Piece(max(len(left), len(right)) * look.leading, tuple(marks))
