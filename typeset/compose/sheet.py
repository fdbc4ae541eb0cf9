"""Handouts: chosen exercises of a book, for one student each."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches

from ..manuscript.roster import Student
from ..pattern.tempo import Tempo
from ..problem import Mark, Problem, Weight
from ..style.music import Spacing
from .book import Book, Exercise, Sign
from .compose import paired
from .engraving import Engraving
from .signs import signs_of
from .specimens import specimens_of
from .systems import TooWide, break_into_systems


@dataclass(frozen=True, slots=True)
class Sheet:
    """A handout: its title, who it is for, and its exercises in their order.

    `source` names the book that they come from, and its author; `author`, `language` and `date` are the
    book's. A `mirrored` sheet is for a left-handed player: its exercises have changed hands already. Its key
    shows `specimens`, one for each sound and way to play, and `signs`.
    """

    title: str
    name: str | None
    exercises: tuple[Exercise, ...]
    source: str
    author: str | None
    language: str
    date: str | None
    mirrored: bool = False
    specimens: tuple[Engraving, ...] = ()
    signs: tuple[Sign, ...] = ()

    @property
    def engravings(self) -> tuple[Engraving, ...]:
        """Everything to engrave, each once."""
        systems = (system for exercise in self.exercises for system in exercise.systems)
        return tuple(dict.fromkeys((*systems, *self.specimens, *(sign.system for sign in self.signs))))


class NotForThem(ValueError):
    """Why a student of a roster gets no sheet, and where that stands."""

    def __init__(self, mark: Mark, what: str) -> None:
        super().__init__(what)
        self.problem = Problem(mark, what)


def sheet_of(book: Book, chosen: Iterable[Exercise], title: str, name: str | None, spacing: Spacing) -> Sheet:
    """A handout of a book's exercises, each once, broken into systems for a style's spacing.

    Raises TooWide where a bar does not fit that style's width.
    """
    once = tuple({exercise.id: exercise for exercise in chosen}.values())
    ids: set[str | None] = {exercise.id for exercise in once}
    items = paired([_alone(exercise, ids, spacing) for exercise in once], spacing)
    exercises = tuple(item for item in items if isinstance(item, Exercise))
    return Sheet(
        title=title,
        name=name,
        exercises=exercises,
        source=", ".join(filter(None, (book.title, book.author))),
        author=book.author,
        language=book.language,
        date=book.date,
        mirrored=book.mirrored,
        specimens=specimens_of(exercises),
        signs=signs_of(exercises, spacing.staff_space),
    )


def _alone(exercise: Exercise, ids: Collection[str | None], spacing: Spacing) -> Exercise:
    """An exercise away from its place in the book; what differs from another is marked only beside that one."""
    try:
        systems = break_into_systems(exercise.pattern, exercise.plays_on, spacing, exercise.times)
    except TooWide as error:
        raise TooWide(f"{exercise.number} ({exercise.id}): {error}") from None
    changed = exercise.changed if exercise.parent in ids else ()
    return replace(exercise, systems=systems, new_page=False, changed=changed)


def chosen_for(student: Student, book: Book, given: Sequence[Exercise]) -> tuple[Exercise, ...]:
    """What a student of a roster plays: what the row chose, else what is given to all up to the row's level.

    Each from the row's own tempo on. Raises NotForThem.
    """
    if student.exercises:
        chosen = [_named(cell.text, cell.mark, book) for cell in student.exercises]
    else:
        chosen = [exercise for exercise in given if student.level is None or exercise.level <= student.level]
    if not given and not chosen:
        raise NotForThem(
            student.mark("exercises"), f"there are no exercises for {student.name}; name some here or for all"
        )
    if not chosen:
        easiest = min(exercise.level for exercise in given)
        raise NotForThem(
            student.mark("level"),
            f"none of the exercises is for {student.name}: the easiest is level {easiest}; "
            "choose some in the row, or raise the level",
        )
    return tuple(_started(exercise, student) for exercise in chosen)


def warnings_for(student: Student, chosen: Iterable[Exercise]) -> tuple[Problem, ...]:
    """A warning for each exercise that a row chose in spite of its level, or starts above its ceiling."""
    told: list[Problem] = []
    for exercise in chosen:
        named = f"{exercise.number} ({exercise.id})"
        if student.level is not None and exercise.level > student.level:
            what = (
                f"{named} is level {exercise.level}, above the {student.level} of {student.name}; "
                "it is on the sheet because the row chose it"
            )
            told.append(Problem(student.mark("level"), what, Weight.WARNING, exercise.id))
        if student.start is not None and student.start > exercise.ceiling:
            what = f"{named} starts at {student.start}, and can be played up to {exercise.ceiling}"
            told.append(Problem(student.mark("start tempo"), what, Weight.WARNING, exercise.id))
    return tuple(told)


def _named(name: str, mark: Mark, book: Book) -> Exercise:
    exercise = book.find(name)
    if exercise is None:
        near = get_close_matches(name, [one.id for one in book.exercises], n=1)
        meant = f"; did you mean '{near[0]}'?" if near else ""
        raise NotForThem(mark, f"there is no exercise '{name}' in this book{meant}")
    return exercise


def _started(exercise: Exercise, student: Student) -> Exercise:
    """An exercise from the student's own tempo on."""
    start = student.start
    if start is None:
        return exercise
    goal = exercise.tempo.goal if exercise.tempo else start
    if start > goal:
        raise NotForThem(
            student.mark("start tempo"),
            f"{start} is faster than {goal}, the goal of {exercise.number} ({exercise.id}); start slower, "
            "or choose other exercises",
        )
    return replace(exercise, tempo=Tempo(start, goal))
