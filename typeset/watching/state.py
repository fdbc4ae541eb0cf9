"""What a watcher sees: the last good pages of a book, and what is wrong with its files now."""

from __future__ import annotations

import time
from dataclasses import dataclass, field, replace
from pathlib import Path

from ..built import Progress, Run
from ..compose.book import Book
from ..engrave import NotEngraved
from ..manuscript import Manuscript, Reading, read
from ..page import DoesNotFit
from ..page.single import SinglePages, Typesetter
from ..pipeline import PLAIN, check_edition, engraved_in
from ..problem import BookError, Mark, OutsideError, Problem
from ..unset import problems_of


@dataclass(frozen=True)
class Good:
    """A state of the book that could be set: what was read, what it became, its pages.

    `made` is when, in seconds since 1970.
    """

    reading: Reading
    book: Book
    pages: SinglePages
    made: float


@dataclass(frozen=True)
class State:
    """The book as it is seen, the `number`-th time that it was looked at.

    `good` is the last state that could be set, None where there was none yet; it `is_earlier` where the files
    have changed since and cannot be set as they are. `problems` are those of the files now, `trouble` is what
    failed outside of them. `files` are those that were read.
    """

    number: int = 0
    good: Good | None = None
    is_earlier: bool = False
    problems: tuple[Problem, ...] = ()
    trouble: str = ""
    files: tuple[Path, ...] = ()


@dataclass
class Desk:
    """Sets one state of a book after another, and does again only what has changed."""

    path: Path
    progress: Progress
    """Told of engravings; it may raise whatever it likes to break off."""
    typesetter: Typesetter = field(default_factory=Typesetter)

    def after(self, former: State) -> State:
        """The book as its files are now; its pages as they were where they cannot be set."""
        reading = read(self.path)
        files = _files_of(reading.manuscript)
        here = replace(former, number=former.number + 1, problems=(), trouble="", is_earlier=True, files=files)
        try:
            good, problems, trouble = self._set(reading)
        except BookError as error:
            return replace(here, problems=error.problems)
        except OutsideError as error:
            return replace(here, problems=reading.problems, trouble=str(error))
        return replace(here, good=good, problems=problems, trouble=trouble, is_earlier=False)

    def _set(self, reading: Reading) -> tuple[Good, tuple[Problem, ...], str]:
        """What could be set, its warnings, and what failed besides. Raises BookError, OutsideError."""
        checked = check_edition(reading, PLAIN)
        book = checked.sound_book()
        assert checked.style is not None and checked.manuscript is not None  # a book is composed for a style
        try:
            engraved = engraved_in(checked.style, book.engravings, Run(progress=self.progress))
            pages = self.typesetter.pages(book, checked.style, engraved.blocks)
        except NotEngraved as error:
            found = problems_of(error.failed, book.exercises, book.tasks, checked.manuscript)
            raise BookError(found) from error
        except DoesNotFit as error:
            raise BookError([Problem(Mark(checked.manuscript.path), str(error))]) from error
        return Good(reading, book, pages, time.time()), checked.problems, engraved.not_kept


def _files_of(manuscript: Manuscript | None) -> tuple[Path, ...]:
    """The files of a book and of its chapters, some of which may stand in folders of their own."""
    if manuscript is None:
        return ()
    return (manuscript.path, *(chapter.file for chapter in manuscript.chapters))
