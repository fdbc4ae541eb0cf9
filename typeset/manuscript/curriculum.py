"""A curriculum as written: the books it names, and the terms that their chapters make up."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any

from pydantic import PlainValidator

from ..problem import Mark
from .marked import Marked
from .models import Manuscript
from .plain import Told, Wrong, as_list, read_from_one, read_number
from .read import Reading
from .reads import TEXT, Listed, Reads, by_type, or_several, whole, words
from .values import Date, Language, Line, Paragraphs, Word
from .written import UNREADABLE, mark_in, shown

MOST_WEEKS = 53
MOST_MINUTES = 600
_ALL = "all"


def _number(least: int, most: int, what: str) -> Reads:
    """A reader for a whole number of something, within bounds."""

    def check(value: Any) -> int:
        said = read_number(value)
        if not least <= said <= most:
            raise Wrong(f"{said} {what} are not offered; from {least} to {most} are")
        return said

    return Reads(check, whole(least, most))


Weeks = Annotated[int, _number(1, MOST_WEEKS, "weeks")]
Minutes = Annotated[int, _number(5, MOST_MINUTES, "minutes a day")]
Days = Annotated[int, _number(1, 7, "days a week")]
AtOnce = Annotated[int, _number(1, 20, "new ideas at once")]


@dataclass(frozen=True)
class Stretch:
    """Chapters of one book that a term takes up, in their order; None: all of them. `way` leads to it."""

    book: str
    chapters: tuple[int, ...] | None
    way: tuple[int | str, ...]


def _stretches(value: Any) -> tuple[Stretch, ...]:
    """Read `[small-rooms, quiet-doors: [1, 2]]`; a bare name means all chapters of that book."""
    found: list[Stretch] = []
    for index, entry in enumerate(as_list(value)):
        if entry is UNREADABLE:
            raise Told
        if isinstance(entry, dict):
            found += [Stretch(book, _chapters(book, said, index), (index, book)) for book, said in entry.items()]
        elif isinstance(entry, str):
            found.append(Stretch(entry, None, (index,)))
        else:
            raise Wrong(f"a book is expected here, as in small-rooms: [1, 2], not {shown(entry)}", index)
    if not found:
        raise Wrong("this is empty; name the books and chapters of this term")
    return tuple(found)


def _chapters(book: str, said: Any, index: int) -> tuple[int, ...] | None:
    if said == _ALL:
        return None
    try:
        return tuple(read_from_one(number) for number in as_list(said))
    except Wrong as error:
        raise Wrong(f"{error}; write chapters by their numbers, or all", index, book) from None


_CHAPTERS = {"anyOf": [words([_ALL]), or_several(whole(1))]}
_STRETCH = by_type("object", {"minProperties": 1, "additionalProperties": _CHAPTERS}, TEXT)
_STRETCHES = or_several(_STRETCH)


class TermText(Marked):
    """A term as written. `minutes` are a day's and `days` a week's, None where the curriculum says them."""

    term: Line
    """its title"""
    weeks: Weeks
    """how many weeks it has"""
    minutes: Minutes | None = None
    """of practice a day"""
    days: Days | None = None
    """of practice a week"""
    intro: Paragraphs = ""
    """paragraphs under its title"""
    chapters: Annotated[tuple[Stretch, ...], Reads(_stretches, _STRETCHES)]
    """books with chapters by their numbers, as in small-rooms: [1, 2]"""


class _AboutCurriculum(Marked):
    """What a curriculum says about itself."""

    title: Line
    """the title of the curriculum"""
    subtitle: Line | None = None
    """a line under the title"""
    author: Line | None = None
    """who wrote it"""
    date: Date | None = None
    """as 2026-09-01"""
    language: Language = "en"
    """of everything that the program prints"""
    style: Word = "a4-workbook"
    """a style by its name"""
    minutes: Minutes = 20
    """of practice a day"""
    days: Days = 5
    """of practice a week"""
    at_once: AtOnce = 4
    """how many new ideas one exercise may bring"""
    leave_out: Annotated[tuple[Word, ...], Listed(as_list)] = ()
    """sounds and shared sequences that it need not cover"""


class CurriculumKeys(_AboutCurriculum):
    """The keys of a curriculum's file; books and terms are read piece by piece."""

    books: Any
    """paths of books, beside this file or in its folder"""
    terms: Any
    """in their order"""


@dataclass(frozen=True)
class NamedBook:
    """A book of a curriculum: what its terms call it, and what was read of it."""

    name: str
    path: Path
    reading: Reading

    @property
    def manuscript(self) -> Manuscript | None:
        """The book as far as it could be read."""
        return self.reading.manuscript


class CurriculumText(_AboutCurriculum):
    """A whole curriculum as written. `name` is what its PDF is called after."""

    path: Path
    name: str
    books: Annotated[tuple[NamedBook, ...], PlainValidator(tuple)]
    terms: Annotated[tuple[TermText, ...], PlainValidator(tuple)]

    def minutes_of(self, term: TermText) -> int:
        """How long a day's practice is in a term."""
        return term.minutes or self.minutes

    def days_of(self, term: TermText) -> int:
        """On how many days of the week there is practice in a term."""
        return term.days or self.days


def mark_of_stretch(term: TermText, stretch: Stretch, *step: int | str) -> Mark:
    """Where a term names a book, or what a further step leads to: a chapter's place there, or its key."""
    further = step if len(stretch.way) > 1 else ()
    return mark_in(term.written, ["chapters", *stretch.way, *further])


def chapters_of(stretch: Stretch, book: NamedBook) -> tuple[int, ...]:
    """The numbers of the chapters that are meant, those that the book has."""
    count = len(book.manuscript.chapters) if book.manuscript else 0
    numbers: Iterable[int] = range(1, count + 1) if stretch.chapters is None else stretch.chapters
    return tuple(number for number in numbers if number <= count)
