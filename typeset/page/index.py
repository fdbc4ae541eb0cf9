"""The index: exercises by title and by sticking."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from ..compose.book import Book, Exercise
from .breaking import Piece
from .cycle import Cycle, cycle_of, letters_of
from .flow import title_piece
from .leaf import Section
from .marks import Mark, Words
from .markup import Span, one_line
from .paragraph import Look, lines_of, words_of
from .setting import Setting

INDEX = "page index"
_MOST_LETTERS = 16


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
