"""The first pages: title page, imprint, contents."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from ..compose.book import Book, Chapter, Exercise
from .breaking import Piece
from .chapter import anchor_of
from .cycle import cycle_of, letters_of
from .faces import CUTS, width_of
from .flow import title_piece
from .leaf import Section
from .marks import Link, Mark, Rule, Words
from .markup import Span, one_line
from .paragraph import Line, Look, lines_of, words_of
from .setting import Setting, points

CONTENTS = "page contents"
_MOST_LETTERS = 12


def title_page(book: Book, setting: Setting) -> Section:
    """The title high on the page, the strokes that the book begins with, the author at its foot."""
    size = setting.style.type.title
    ink = setting.style.greys.text
    title = Look(replace(setting.text, regular=setting.text.light), size, size * 1.08, ink)
    below = Look(setting.text, size * 0.42, size * 0.58, ink)
    marks: list[Mark] = []
    y = setting.depth * 0.26
    for line in lines_of(words_of([Span(one_line(book.title))], title), setting.measure):
        marks += line.marks(-size * 0.03, y)
        y += title.leading
    y += below.leading * 0.1
    subtitle = [Span(one_line(book.subtitle or ""), emphasis=True)]
    for line in lines_of(words_of(subtitle, below), setting.measure):
        marks += line.marks(0, y)
        y += below.leading
    marks += _ornament(book, y + points(14), setting)
    foot = setting.depth - setting.unit
    for words in filter(None, (book.edition, book.author)):
        marks.append(Words(0, foot, one_line(words), setting.text.regular, setting.style.type.intro, ink))
        foot -= setting.style.type.leading * 1.2
    return Section(book.title, (Piece(setting.depth, tuple(marks)),), bare=True)


def _ornament(book: Book, y: float, setting: Setting) -> Iterator[Mark]:
    """The strokes of the first exercise, one letter a slot, on a line across the measure."""
    if not book.exercises:
        return
    style = setting.style
    letters = letters_of(cycle_of(book.exercises[0].pattern), style.letters)[:_MOST_LETTERS]
    yield Rule(0, y, setting.measure, y, 0.4, style.greys.rule)
    font, size = setting.letters.strong, style.type.sticking * 1.4
    step = setting.measure / _MOST_LETTERS
    for index, letter in enumerate(letters):
        yield Words(index * step, y + size * 1.5, letter, font, size, style.greys.quiet)


def imprint(book: Book, setting: Setting) -> Section:
    """Who made the book, which edition, and how it was set: small, at the foot of the page."""
    style = setting.style
    text, letters = CUTS[style.type.text].name, CUTS[style.type.letters].name
    set_in = "pages.imprint.set-in" if text != letters else "pages.imprint.set-in-one"
    whole = f"{book.title}: {book.subtitle}" if book.subtitle else book.title
    facts = [whole, book.author, ", ".join(filter(None, (book.edition, book.date)))]
    facts.append(setting.words.say(set_in, text=text, letters=letters))
    look = Look(setting.text, style.type.small + 0.5, style.type.leading * 0.875, style.greys.text)
    lines: list[Line] = []
    for fact in filter(None, facts):
        lines += lines_of(words_of([Span(one_line(fact))], look), setting.text_width)
    top = setting.depth - setting.unit - (len(lines) - 1) * look.leading
    marks = [mark for index, line in enumerate(lines) for mark in line.marks(0, top + index * look.leading)]
    return Section(book.title, (Piece(setting.depth, tuple(marks)),), bare=True)


def contents(book: Book, pages: Mapping[str, int], setting: Setting) -> Section:
    """Chapters and exercises with the pages they stand on, each leading there.

    `pages` holds the page of each anchor; what it lacks is printed without a number.
    """
    title = setting.words["pages.contents"]
    pieces: list[Piece] = [title_piece(title, CONTENTS, setting)]
    for chapter in book.chapters:
        pieces.append(_chapter_row(chapter, pages, setting))
        rows = [_exercise_row(exercise, pages, setting) for exercise in chapter.exercises]
        pieces += rows[:-1]
        if rows:
            pieces.append(replace(rows[-1], after=setting.unit * 4, stretch=setting.unit * 2))
    return Section(title, tuple(pieces))


def _chapter_row(chapter: Chapter, pages: Mapping[str, int], setting: Setting) -> Piece:
    style = setting.style
    look = Look(setting.text, style.type.body * 1.1, setting.unit * 5, style.greys.text)
    row = _row(str(chapter.number), chapter.title, anchor_of(chapter), pages, look, True, setting)
    return replace(row, after=setting.unit, keeps=True)


def _exercise_row(exercise: Exercise, pages: Mapping[str, int], setting: Setting) -> Piece:
    style = setting.style
    look = Look(setting.text, style.type.instruction + 0.25, setting.unit * 4, style.greys.text)
    return _row(exercise.number, exercise.title, exercise.id, pages, look, False, setting)


def _row(
    number: str,
    title: str,
    anchor: str,
    pages: Mapping[str, int],
    look: Look,
    is_strong: bool,
    setting: Setting,
) -> Piece:
    """Number, title, a row of dots, and the page."""
    indent = points(11)
    y = look.leading - look.size * 0.3
    letters = setting.letters.strong if is_strong else setting.letters.regular
    page = str(pages.get(anchor, ""))
    right = setting.text_width - width_of(page, letters, look.size)
    marks: list[Mark] = [Words(0, y, number, letters, look.size * 0.95, look.ink)]
    room = right - indent - points(12)
    lines = lines_of(words_of([Span(one_line(title), strong=is_strong)], look), room)
    for index, line in enumerate(lines):
        marks += line.marks(indent, y + index * look.leading)
    y += (len(lines) - 1) * look.leading
    end = indent + lines[-1].width + points(2)
    if not is_strong:
        rule = setting.style.greys.rule
        marks.append(Rule(end, y - 0.5, right - points(2), y - 0.5, 0.7, rule, dots=4))
    marks.append(Words(right, y, page, letters, look.size, look.ink))
    height = len(lines) * look.leading
    marks.append(Link(0, 0, setting.text_width, height, anchor))
    return Piece(height, tuple(marks))
