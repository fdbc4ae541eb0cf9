"""The Curriculum: several books, and the terms in which their chapters are practised, week by week."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from ..manuscript.curriculum import CurriculumText, NamedBook, chapters_of, mark_of_stretch
from ..problem import Problem
from .book import Book
from .curriculum_advice import Advisor, Opened, Stop
from .ideas import Tracer
from .names import Names
from .plan import Planned, Week, weeks_of


@dataclass(frozen=True)
class Volume:
    """A book of a curriculum: its name there, and for each of its chapters the term it is practised in.

    Terms are counted from 1; None is for a chapter that the curriculum does not take up.
    """

    name: str
    book: Book
    terms: tuple[int | None, ...]


@dataclass(frozen=True)
class Stretch:
    """A chapter in its term: the volume's name, the chapter's number, and the weeks, from 1, that it takes."""

    volume: str
    chapter: int
    first_week: int
    last_week: int


@dataclass(frozen=True)
class Term:
    """A term: its title and opening text, a day's minutes, a week's days of practice, and its weeks in order.

    `stretches` are its chapters that have exercises, in the order in which they are practised.
    """

    title: str
    intro: str
    minutes: int
    days: int
    weeks: tuple[Week, ...]
    stretches: tuple[Stretch, ...]


@dataclass(frozen=True)
class Curriculum:
    """Books and terms, worked out; `date` is as the author wrote it."""

    title: str
    subtitle: str | None
    author: str | None
    date: str | None
    language: str
    volumes: tuple[Volume, ...]
    terms: tuple[Term, ...]

    def volume(self, name: str) -> Volume:
        """A book by its name in the curriculum; raises StopIteration where there is none."""
        return next(volume for volume in self.volumes if volume.name == name)

    @property
    def exercises(self) -> int:
        """How many exercises are practised in it."""
        return sum(
            len(chapter.exercises)
            for volume in self.volumes
            for chapter, term in zip(volume.book.chapters, volume.terms, strict=True)
            if term
        )


@dataclass(frozen=True)
class CurriculumComposition:
    """A curriculum, and what its teacher should know of it before it is printed."""

    curriculum: Curriculum
    problems: tuple[Problem, ...]


def compose_curriculum(text: CurriculumText, books: Mapping[str, Book]) -> CurriculumComposition:
    """Work a curriculum out; `books` holds each of its books by its name, all of them without errors."""
    stops = tuple(_stops(text, books))
    volumes = tuple(_volume(named, books[named.name], stops) for named in text.books)
    terms = tuple(_term(text, number, stops) for number in range(1, len(text.terms) + 1))
    curriculum = Curriculum(text.title, text.subtitle, text.author, text.date, text.language, volumes, terms)
    opened = {named.name: _opened(named, books[named.name]) for named in text.books}
    advisor = Advisor(text, stops, opened)
    return CurriculumComposition(
        curriculum, (*advisor.problems(), *advisor.crowding([term.weeks for term in terms]))
    )


def _opened(named: NamedBook, book: Book) -> Opened:
    assert named.manuscript is not None  # a book without errors was read
    printed = {exercise.id: exercise for exercise in book.exercises}
    return Opened(book, named.manuscript, Tracer(Names(named.manuscript), printed))


def _stops(text: CurriculumText, books: Mapping[str, Book]) -> Iterator[Stop]:
    """The chapters in the order in which the terms take them up."""
    named = {book.name: book for book in text.books}
    for number, term in enumerate(text.terms, start=1):
        for stretch in term.chapters:
            for place, chapter in enumerate(chapters_of(stretch, named[stretch.book])):
                mark = mark_of_stretch(term, stretch, place)
                yield Stop(number, stretch.book, books[stretch.book].chapters[chapter - 1], mark)


def _volume(named: NamedBook, book: Book, stops: Sequence[Stop]) -> Volume:
    terms = {stop.chapter.number: stop.term for stop in stops if stop.book == named.name}
    return Volume(named.name, book, tuple(terms.get(chapter.number) for chapter in book.chapters))


def _term(text: CurriculumText, number: int, stops: Sequence[Stop]) -> Term:
    written = text.terms[number - 1]
    own = [stop for stop in stops if stop.term == number]
    planned = [Planned(stop.book, one) for stop in own for one in stop.chapter.exercises]
    weeks = weeks_of(planned, written.weeks, text.minutes_of(written))
    return Term(
        title=written.term,
        intro=written.intro,
        minutes=text.minutes_of(written),
        days=text.days_of(written),
        weeks=weeks,
        stretches=tuple(_stretches(own, weeks)),
    )


def _stretches(stops: Sequence[Stop], weeks: Sequence[Week]) -> Iterator[Stretch]:
    """Each chapter with the weeks in which its exercises are new."""
    learnt: dict[tuple[str, str], list[int]] = {}
    for number, week in enumerate(weeks, start=1):
        for practice in week.learn.practices:
            learnt.setdefault((practice.book, practice.exercise.id), []).append(number)
    for stop in stops:
        found = [week for one in stop.chapter.exercises for week in learnt[stop.book, one.id]]
        if found:
            yield Stretch(stop.book, stop.chapter.number, found[0], found[-1])
