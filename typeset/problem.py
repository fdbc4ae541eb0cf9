"""Where something stands in an author's files, and what is wrong there."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum
from pathlib import Path


@dataclass(frozen=True, slots=True, order=True)
class Mark:
    """A place in a file; lines and columns are counted from 1."""

    file: Path
    line: int = 1
    column: int = 1

    def __str__(self) -> str:
        """As the command prints it: FILE:LINE:COLUMN."""
        return f"{self.file}:{self.line}:{self.column}"


class Weight(Enum):
    """Whether a problem stops the build."""

    ERROR = "error"
    WARNING = "warning"


_WHITE = str.maketrans("\n\r\t", "   ")


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong at a mark, with its remedy, in the teacher's words; `of` is the id of the exercise or series
    that it is about, where it is about one alone."""

    mark: Mark
    what: str
    weight: Weight = Weight.ERROR
    of: str | None = None

    def __str__(self) -> str:
        """As the command prints it: FILE:LINE:COLUMN: what."""
        word = "warning: " if self.weight is Weight.WARNING else ""
        return f"{self.mark}: {word}{self.what.translate(_WHITE)}"


class BookError(Exception):
    """The book has errors; `problems` holds all of them, in the order of the files."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(map(str, self.problems)))


class OutsideError(Exception):
    """Something outside the book failed: no engraver, a full disk. The message says what to do."""


def errors_of(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Only those that stop a build."""
    return tuple(problem for problem in problems if problem.weight is Weight.ERROR)


def warnings_of(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Only those that stop none."""
    return tuple(problem for problem in problems if problem.weight is Weight.WARNING)


def in_order(problems: Iterable[Problem], files: Iterable[Path] = ()) -> tuple[Problem, ...]:
    """Each problem once, in the order of these files and then of all others by name.

    The errors of a place come before its warnings.
    """
    places = {file: place for place, file in enumerate(files)}

    def key(one: Problem) -> tuple[int, Mark, bool, str]:
        return places.get(one.mark.file, len(places)), one.mark, one.weight is Weight.WARNING, one.what

    return tuple(sorted(set(problems), key=key))


class NotThere(LookupError):
    """The command named an exercise or an edition that the book lacks; the message lists what it has."""
