"""What could not be set, told as problems of the book: each at the line of its exercise, or at the beginning."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

from .compose.book import Exercise, Task
from .compose.engraving import Engraving, NoteSpecimen, SoundSpecimen, StrokeSpecimen, System
from .compose.systems import TooWide
from .engrave import NotEngraved
from .manuscript import Manuscript
from .page import DoesNotFit
from .pdf.output import NotForPress
from .problem import BookError, Mark, Problem, in_order

_REMEDY = "leave it out or change it (everything else is engraved and kept), and please report it"


@contextmanager
def told_in(file: Path) -> Iterator[None]:
    """Raise BookError, at the file's beginning, where something does not fit its paper, or no press takes it."""
    try:
        yield
    except (TooWide, DoesNotFit, NotForPress) as error:
        raise BookError([Problem(Mark(file), str(error))]) from error


@contextmanager
def told_of(manuscript: Manuscript, exercises: Iterable[Exercise], tasks: Iterable[Task] = ()) -> Iterator[None]:
    """Raise BookError where something cannot be set: at each exercise that cannot be engraved, or as `told_in`."""
    try:
        with told_in(manuscript.path):
            yield
    except NotEngraved as error:
        raise BookError(_problems_of(error.failed, exercises, tasks, manuscript)) from error


def _problems_of(
    failed: Mapping[Engraving, str], exercises: Iterable[Exercise], tasks: Iterable[Task], manuscript: Manuscript
) -> tuple[Problem, ...]:
    """A problem for each exercise that has something in `failed`, which says of each engraving why.

    What no exercise has, such as a sample in the drum key, stands at the book's beginning.
    """
    marks = _marks(manuscript)
    left = dict(failed)
    problems = []
    for exercise, systems in _printed(exercises, tasks):
        lines = [place for place, system in enumerate(systems, start=1) if system in failed]
        if lines:
            mark = marks.get(exercise.series or exercise.id, Mark(manuscript.path))
            problems.append(Problem(mark, _told(exercise, lines, len(systems), failed[systems[lines[0] - 1]])))
            left = {engraving: why for engraving, why in left.items() if engraving not in systems}
    problems += [
        Problem(Mark(manuscript.path), f"LilyPond cannot engrave {_name(sample)}: {why}; {_REMEDY}")
        for sample, why in left.items()
    ]
    return in_order(problems)


def _name(sample: Engraving) -> str:
    """What a sample is of; a system that no exercise has is none of a book's."""
    match sample:
        case SoundSpecimen():
            return f"the sample of {sample.sound.name}"
        case StrokeSpecimen():
            return f"the sample of a {sample.kind} stroke"
        case NoteSpecimen():
            return f"the sample of a note ({sample.length})"
        case System():
            return "a line of music"


def _told(exercise: Exercise, lines: Sequence[int], of: int, why: str) -> str:
    where = f", line {' and '.join(map(str, lines))} of {of}" if of > 1 else ""
    return f"LilyPond cannot engrave {exercise.number} ({exercise.id}){where}: {why}; {_REMEDY}"


def _printed(exercises: Iterable[Exercise], tasks: Iterable[Task]) -> Iterator[tuple[Exercise, Sequence[System]]]:
    """Every exercise with its systems, and with those that a task prints of it."""
    for exercise in exercises:
        yield exercise, exercise.systems
    for task in tasks:
        for exercise, asked in zip(task.of, task.asked, strict=True):
            yield exercise, asked
            yield exercise, exercise.systems


def _marks(manuscript: Manuscript) -> Mapping[str, Mark]:
    """Where each exercise and each series stands, by its id."""
    items = (item for chapter in manuscript.chapters for item in chapter.items)
    return {name: item.mark for item in items if (name := getattr(item, "id", None))}
