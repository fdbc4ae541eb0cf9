"""What a watcher sees: the last good pages of a book, and what is wrong with its files now."""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace
from pathlib import Path

from ..book_files import places_of
from ..built import Progress, Run
from ..compose.book import Book
from ..compose.engraving import Engraving
from ..engrave import LocalThreads
from ..engrave.block import Block
from ..engrave.running import Engravers, Stopped
from ..engrave.session import Sessions
from ..handouts import SheetDesk, desk_of
from ..manuscript import Reading, read
from ..page.single import SinglePages, Typesetter
from ..pipeline import PLAIN, Checked, check_edition, engraved_in
from ..problem import BookError, Mark, OutsideError, Problem
from ..record import program
from ..style import Style
from ..text_file import beginning_of
from ..unset import told_of

_LONGEST_LINE = 200
"""Letters of an author's line that are shown beside a problem."""


@dataclass(frozen=True)
class Good:
    """A state of the book that could be set: as it was worked out, its pages, what handouts of it are made with.

    Of handouts it may be the error in their style. `made` is when, in seconds since 1970.
    """

    book: Book
    pages: SinglePages
    handouts: SheetDesk | BookError
    made: float


@dataclass(frozen=True)
class State:
    """The book as it is seen, the `number`-th time that it was looked at.

    `good` is the last state that could be set, None where there was none yet; it `is_earlier` where the files
    have changed since and cannot be set as they are. `problems` are those of the files now, `trouble` is what
    failed outside of them. `files` are the places that they were looked for at. `lines` is what
    stands where the problems are.
    """

    number: int = 0
    good: Good | None = None
    is_earlier: bool = False
    problems: tuple[Problem, ...] = ()
    lines: Mapping[Mark, str] = field(default_factory=dict)
    trouble: str = ""
    files: tuple[Path, ...] = ()


@dataclass
class Desk:
    """Sets one state of a book after another, and does again only what has changed.

    `progress` is told of engravings; `go_on` is called now and then, and whatever it raises breaks the work off.
    """

    path: Path
    progress: Progress
    go_on: Callable[[], None]
    _typesetter: Typesetter = field(default_factory=lambda: Typesetter(program()))
    _engravers: Engravers = field(default_factory=Engravers)
    _is_ended: bool = False

    def __post_init__(self) -> None:
        self._at_once = os.cpu_count() or 1
        self._standing = Sessions(self._at_once, self._engravers)

    def prepare(self, state: State) -> None:
        """Let an engraver wait for the next change: it sets that sooner than one which has yet to start."""
        height = state.good.pages.style.staff.height if state.good else None
        if height is None or self._is_ended:
            return
        with suppress(OSError, OutsideError, Stopped):
            self._standing.start(1, height)

    def end(self) -> None:
        """Let no engraver wait any more, and break off what one does."""
        self._is_ended = True
        self._engravers.stop()
        self._standing.close()

    def after(self, former: State) -> State:
        """The book as its files are now; its pages as they were where they cannot be set."""
        reading = read(self.path) if self.path.exists() else _gone(self.path)
        self.go_on()
        here = State(former.number + 1, former.good, is_earlier=True, files=(*reading.files, *places_of(self.path)))
        try:
            good, problems, trouble = self._set(reading, former.good)
            here = replace(here, good=good, problems=problems, trouble=trouble, is_earlier=False)
        except BookError as error:
            here = replace(here, problems=error.problems)
        except OutsideError as error:
            here = replace(here, problems=reading.problems, trouble=str(error))
        return replace(here, lines=_lines_at(problem.mark for problem in here.problems))

    def _set(self, reading: Reading, former: Good | None) -> tuple[Good, tuple[Problem, ...], str]:
        """What could be set, its warnings, and what failed besides. Raises BookError, OutsideError."""
        checked = check_edition(reading, PLAIN)
        manuscript, book, style = checked.to_set()
        self.go_on()
        with told_of(manuscript, book.exercises, book.tasks):
            blocks, not_kept = self._blocks(book, style, former)
            self.go_on()
            pages = self._typesetter.pages(book, style, blocks)
        return Good(book, pages, _handouts(reading, checked), time.time()), checked.problems, not_kept

    def _blocks(self, book: Book, style: Style, former: Good | None) -> tuple[Mapping[Engraving, Block], str]:
        """A block for each of the book's engravings, those of the former state as they are; and why others are not
        kept."""
        known = former.pages.blocks if former and former.pages.style.staff == style.staff else {}
        wanted = book.engravings
        new = [engraving for engraving in wanted if engraving not in known]
        executor = LocalThreads(self._at_once, self.go_on, self._standing)
        engraved = engraved_in(style, new, Run(progress=self.progress), executor)
        old = {engraving: known[engraving] for engraving in wanted if engraving in known}
        return {**old, **engraved.blocks}, engraved.not_kept


def _gone(path: Path) -> Reading:
    what = "this is not here any more; bring it back under this name, or watch it where it is now"
    return Reading(None, (Problem(Mark(path), what),))


def _lines_at(marks: Iterable[Mark]) -> dict[Mark, str]:
    """What the author wrote at these places; nothing where that cannot be read."""
    texts: dict[Path, list[str]] = {}
    lines: dict[Mark, str] = {}
    for mark in marks:
        if mark.file not in texts:
            texts[mark.file] = []
            with suppress(OSError):
                texts[mark.file] = beginning_of(mark.file).decode("utf-8-sig", "replace").splitlines()
        lines[mark] = next(iter(texts[mark.file][mark.line - 1 : mark.line]), "")[:_LONGEST_LINE]
    return lines


def _handouts(reading: Reading, checked: Checked) -> SheetDesk | BookError:
    """What handouts are made with, read now: later the files may be broken."""
    try:
        return desk_of(reading, checked)
    except BookError as error:
        return error
