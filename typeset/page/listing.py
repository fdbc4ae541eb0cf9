"""What the index lists exercises by, and how it says where they are: single numbers, and ranges of them."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from ..compose.book import Book, Exercise
from ..wording.markup import Span, one_line
from .orders import letters_of
from .setting import Setting

_LONGEST_ORDER = 16
"""Nobody looks a longer order up by its strokes."""

_FIGURES = re.compile(r"([0-9]+)")

_SHORTEST_RANGE = 3
"""Exercises in a row that are named by the first and the last of them."""

_MOSTLY = 0.6
"""The share of a book's exercises from which on those are named that something is not in."""

Entries = Sequence[tuple[str, Sequence[Exercise]]]
"""Words, and the exercises they stand for, in the order in which an index lists them."""


def by_title(book: Book, setting: Setting) -> Entries:
    """Exercises by title, in the order of the alphabet."""
    return _by_words(((one_line(one.title), one) for one in book.exercises), setting)


def by_order(book: Book, setting: Setting) -> Entries:
    """Exercises by the strokes behind them, short orders first."""
    found: dict[tuple[str, ...], list[Exercise]] = {}
    for exercise in book.exercises:
        if 0 < len(exercise.order) <= _LONGEST_ORDER:
            found.setdefault(letters_of(exercise.order, setting.style.letters), []).append(exercise)
    return [(" ".join(letters), found[letters]) for letters in sorted(found, key=lambda one: (len(one), one))]


def by_sound(book: Book, setting: Setting) -> Entries:
    """Exercises by the sounds that are played in them."""
    pairs = (
        (setting.words[f"sounds.{sound}"], exercise)
        for exercise in book.exercises
        for sound in {stroke.sound.name for stroke in exercise.pattern.strokes}
    )
    return _by_words(pairs, setting)


def by_step(book: Book, setting: Setting) -> Entries:
    """Exercises by what was done to the music that they grew out of."""
    pairs = (
        (setting.words[f"pages.index.steps.{step}"], exercise)
        for exercise in book.exercises
        for step in dict.fromkeys(exercise.made_by)
    )
    return _by_words(pairs, setting)


def by_level(book: Book, setting: Setting) -> Entries:
    """Exercises by level, from the easiest on."""
    found: dict[int, list[Exercise]] = {}
    for exercise in book.exercises:
        found.setdefault(exercise.level, []).append(exercise)
    return [(setting.words.say("pages.index.level", level=level), found[level]) for level in sorted(found)]


def _by_words(pairs: Iterable[tuple[str, Exercise]], setting: Setting) -> Entries:
    found: dict[str, list[Exercise]] = {}
    for words, exercise in pairs:
        found.setdefault(words, []).append(exercise)
    articles = tuple(f"{word} " for word in setting.words["pages.index.articles"].split())
    return sorted(found.items(), key=lambda entry: (_filed(entry[0], articles), entry[0]))


def _filed(title: str, articles: tuple[str, ...]) -> tuple[tuple[bool, int, str], ...]:
    """What a title is filed under: its words without marks and without the article before them, numbers by size.

    Letters with an accent stand with those without.
    """
    bare = "".join(
        char for char in unicodedata.normalize("NFD", title.casefold()) if not unicodedata.combining(char)
    )
    words = " ".join("".join(char if char.isalnum() else " " for char in bare).split())
    words = next((words.removeprefix(one) for one in articles if words.startswith(one)), words)
    parts = filter(None, _FIGURES.split(words))
    return tuple((False, int(part), "") if part.isdecimal() else (True, 0, part) for part in parts)


@dataclass(frozen=True, slots=True)
class Run:
    """Exercises that follow one another in a chapter: the first and the last of them."""

    first: Exercise
    last: Exercise


def runs_of(exercises: Sequence[Exercise], book: Book) -> tuple[Run, ...]:
    """Exercises, given in the book's order, as runs of three and more and as single ones."""
    places = book.places
    rows: list[list[Exercise]] = []
    for exercise in exercises:
        chapter, place = places[exercise.id]
        if rows and places[rows[-1][-1].id] == (chapter, place - 1):
            rows[-1].append(exercise)
        else:
            rows.append([exercise])
    runs: list[Run] = []
    for row in rows:
        runs += [Run(row[0], row[-1])] if len(row) >= _SHORTEST_RANGE else [Run(one, one) for one in row]
    return tuple(runs)


def with_pages(exercises: Sequence[Exercise], pages: Mapping[str, int], book: Book, setting: Setting) -> list[Span]:
    """`1.2 p. 9, 1.4–1.7 p. 10`: numbers with the page on which they begin, each leading there."""

    def after(run: Run) -> Iterator[Span]:
        page = setting.words.say("pages.index.page", page=pages.get(run.first.id, "0000"))
        yield Span(f"\u00a0{page}".replace(" ", "\u00a0"), address=run.first.id)

    return list(_listed(runs_of(exercises, book), after, strong=True))


def numbers_alone(exercises: Sequence[Exercise], book: Book) -> list[Span]:
    """`1.2, 1.4–1.7`, each leading there."""
    return list(_listed(runs_of(exercises, book), _nothing, strong=False))


def numbers_or_throughout(exercises: Sequence[Exercise], book: Book, setting: Setting) -> list[Span]:
    """Numbers; where hardly one is missing, that it is throughout, and in which few it is not."""
    listed = {one.id for one in exercises}
    missing = [one for one in book.exercises if one.id not in listed]
    if len(exercises) < _MOSTLY * len(book.exercises) or len(runs_of(exercises, book)) < len(
        runs_of(missing, book)
    ):
        return numbers_alone(exercises, book)
    if not missing:
        return [Span(setting.words["pages.index.throughout"])]
    before, _, behind = setting.words["pages.index.throughout-but"].partition("{numbers}")
    return [Span(before), *numbers_alone(missing, book), *([Span(behind)] if behind else [])]


def _nothing(_: Run) -> Iterator[Span]:
    yield from ()


def _listed(runs: Sequence[Run], after: Callable[[Run], Iterator[Span]], *, strong: bool) -> Iterator[Span]:
    for place, run in enumerate(runs):
        if place:
            yield Span(", ")
        yield Span(run.first.number, address=run.first.id, strong=strong)
        if run.last is not run.first:
            yield Span(f"–{run.last.number}", address=run.last.id, strong=strong)
        yield from after(run)
