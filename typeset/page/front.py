"""The first pages: title page and imprint."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ..compose.book import Book
from ..wording.markup import Span, one_line
from .breaking import Piece
from .families import CUTS
from .leaf import Section
from .marks import Begins, Mark, Role, Rule, Words
from .orders import letters_of
from .paragraph import Line, Look, lines_of, title_lines, words_of
from .setting import Setting, points

_MOST_LETTERS = 12
_ISO_DATE = re.compile(r"[0-9]{4}-[0-9]{2}(-[0-9]{2})?")
"""ISO 8601, a calendar date or a month."""


def title_page(book: Book, setting: Setting) -> Section:
    """The title high on the page, the strokes that the book begins with, the author at its foot."""
    size = setting.style.type.title
    ink = setting.style.greys.text
    title = Look(setting.light_text, size, size * 1.08, ink)
    below = Look(setting.text, size * 0.42, size * 0.58, ink)
    marks: list[Mark] = [Begins(Role.HEADING)]
    y = setting.depth * 0.26
    for line in title_lines(book.title, title, setting.measure):
        marks += line.marks(-size * 0.03, y)
        y += title.leading
    marks.append(Begins(Role.TEXT))
    y += below.leading * 0.1
    subtitle = [Span(one_line(book.subtitle or ""), emphasis=True)]
    for line in lines_of(words_of(subtitle, below), setting.measure):
        marks += line.marks(0, y)
        y += below.leading
    marks += [Begins(Role.FURNITURE), *_ornament(book, y + points(14), setting), Begins(Role.TEXT)]
    foot = setting.depth - setting.unit
    small = Look(setting.text, setting.style.type.intro, setting.style.type.leading * 1.2, ink)
    for words in filter(None, (_edition(book, setting), book.author)):
        lines = title_lines(words, small, setting.measure)
        for above, line in zip(range(len(lines) - 1, -1, -1), lines, strict=True):
            marks += line.marks(0, foot - above * small.leading)
        foot -= len(lines) * small.leading
    return Section(book.title, (Piece(setting.depth, tuple(marks)),), bare=True)


def _ornament(book: Book, y: float, setting: Setting) -> Iterator[Mark]:
    """The first order of the book on a line across the measure, dark until it comes round again."""
    order = next((one.order for one in book.exercises if one.order), ())
    style = setting.style
    letters = letters_of(order, style.letters)[:_MOST_LETTERS]
    yield Rule(0, y, setting.measure, y, 0.4, style.greys.rule)
    font, size = setting.letters.strong, style.type.sticking * 1.4
    step = setting.measure / _MOST_LETTERS
    for place in range(_MOST_LETTERS if letters else 0):
        letter = letters[place % len(letters)]
        ink = style.greys.text if place < len(letters) else style.greys.silent
        yield Words(place * step, y + size * 1.5, letter, font, size, ink)


def _edition(book: Book, setting: Setting) -> str:
    """Which edition this is, and whether it is a left-handed copy, or the teacher's."""
    hand = setting.words["pages.left-handed"] if book.mirrored else ""
    teacher = setting.words["pages.for-teacher"] if book.for_teacher else ""
    words = ", ".join(filter(None, (book.edition, hand, teacher)))
    return f"{words[:1].upper()}{words[1:]}"


def _year(date: str | None) -> str | None:
    """The year of a date as computers write it; any other date as its author wrote it."""
    return date[:4] if date and _ISO_DATE.fullmatch(date.strip()) else date


def imprint(book: Book, setting: Setting) -> Section:
    """Who made the book, which edition, and how it was set: small, at the foot of the page."""
    style = setting.style
    text, letters = CUTS[style.type.text].name, CUTS[style.type.letters].name
    set_in = "pages.imprint.set-in" if text != letters else "pages.imprint.set-in-one"
    whole = f"{book.title}: {book.subtitle}" if book.subtitle else book.title
    facts = [whole, book.author, ", ".join(filter(None, (_edition(book, setting), _year(book.date))))]
    facts.append(setting.words.say("pages.imprint.isbn", isbn=book.isbn) if book.isbn else None)
    facts.append(setting.words.say(set_in, text=text, letters=letters))
    look = Look(setting.text, style.type.small + 0.5, style.type.leading * 0.875, style.greys.text)
    lines: list[Line] = []
    for fact in filter(None, facts):
        lines += title_lines(fact, look, setting.text_width)
    top = setting.depth - setting.unit - (len(lines) - 1) * look.leading
    marks = [mark for index, line in enumerate(lines) for mark in line.marks(0, top + index * look.leading)]
    return Section(book.title, (Piece(setting.depth, tuple(marks)),), bare=True)
