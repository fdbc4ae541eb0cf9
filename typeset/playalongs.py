"""A book's play-alongs: a recording of each exercise; only what changed since is made again."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor, as_completed
from dataclasses import dataclass
from pathlib import Path

from .building import write_whole
from .built import Run
from .compose.book import Book, Exercise
from .sound.audio import mark_in, mark_of, render, tags_of
from .sound.performance import Performance

_NUMBERED = re.compile(r"(\d{1,6})\.(\d{1,6})\.\w+$")


@dataclass(frozen=True)
class Recorded:
    """The recordings that a folder has now: how many were made, and how many were there already.

    `strays` are those beside them, named as recordings are, that no exercise has any more.
    """

    folder: Path
    made: int
    kept: int
    strays: tuple[str, ...] = ()


def record(book: Book, folder: Path, form: str, performance: Performance, run: Run) -> Recorded:
    """Record every exercise of a book into a folder, in files named by its number.

    Raises OutsideError without the extra `sound` or where a file cannot be written; files that were
    finished by then stand.
    """
    wanted = [
        exercise
        for exercise in book.exercises
        if run.fresh or not _stands(book, exercise, folder, form, performance)
    ]
    for done, (name, content) in enumerate(_rendered(book, wanted, form, performance, run.jobs), start=1):
        write_whole(folder / name, content)
        if run.progress:
            run.progress(done, len(wanted))
    return Recorded(folder, len(wanted), len(book.exercises) - len(wanted), _strays(book, folder, form))


def _strays(book: Book, folder: Path, form: str) -> tuple[str, ...]:
    """The recordings in a folder whose numbers the book has no longer, in order of chapter and exercise."""
    own = {_name(exercise, form) for exercise in book.exercises}
    found = (_NUMBERED.match(file.name) for file in folder.glob(f"*.{form}") if file.name not in own)
    numbers = sorted((int(one[1]), int(one[2])) for one in found if one)
    return tuple(f"{chapter}.{place}.{form}" for chapter, place in numbers)


def _stands(book: Book, exercise: Exercise, folder: Path, form: str, performance: Performance) -> bool:
    """Whether a recording says in its comment that it is made from what would be made now."""
    mark = mark_of(exercise, form, tags_of(book, exercise), performance)
    return mark_in(folder / _name(exercise, form)) == mark


def _name(exercise: Exercise, form: str) -> str:
    return f"{exercise.number}.{form}"


def _rendered(
    book: Book, exercises: Sequence[Exercise], form: str, performance: Performance, jobs: int
) -> Iterator[tuple[str, bytes]]:
    """Each recording with its file's name, as soon as it is done."""
    with ThreadPoolExecutor(jobs or os.cpu_count() or 1) as executor:
        running = {
            executor.submit(render, exercise, form, tags_of(book, exercise), performance): exercise
            for exercise in exercises
        }
        try:
            for done in as_completed(running):
                yield _name(running[done], form), done.result()
        finally:
            for future in running:
                future.cancel()
