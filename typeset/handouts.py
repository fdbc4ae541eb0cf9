"""Handouts: chosen exercises of a book on a sheet, for one student or for everyone on a roster."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cache, partial
from pathlib import Path
from typing import TYPE_CHECKING

from .book_files import ENDINGS
from .built import Built, Run, SheetOrder
from .compose.book import Book, Exercise
from .compose.sheet import NotForThem, Sheet, chosen_for, sheet_of, warnings_for
from .engrave import Engraved, Executor
from .exchange.spoken import spoken
from .manuscript import Edition, Manuscript, Reading, read
from .manuscript.plain import LONGEST_LINE
from .manuscript.roster import Student, read_roster
from .page import lay_out_roster, lay_out_sheets
from .pdf import bind
from .pipeline import Checked, at_work, check_edition, engraved_in
from .problem import BookError, NotThere, Problem, warnings_of
from .style import Style, load_style, style_names
from .style.paper import Paper
from .text_file import short, unseen
from .unset import told_in, told_of
from .wording import wording
from .wording.lettering import Lettering

if TYPE_CHECKING:
    from .page.pages import Pages

TO_PRINT = "to-print"
"""The file that holds the sheets of a whole roster."""

_LONGEST_NAME = 60
# Names that Windows keeps for its devices, whatever follows the dot; from memory.
_DEVICES = {"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10))}
_HALF_INCH = 12.7
_MIRRORED = Edition.model_validate({"mirror": "yes"})


@dataclass(frozen=True)
class Handouts:
    """The sheets of a roster: each student's, last all of them in one; and what is wrong in other rows."""

    built: tuple[Built, ...]
    problems: tuple[Problem, ...]


@dataclass(frozen=True)
class SheetDesk:
    """What handouts of a book are made with; `checked_for` gives the book for a left-handed player or another."""

    manuscript: Manuscript
    style: Style
    checked_for: Callable[[bool], Checked]

    def book_for(self, is_left_handed: bool) -> Book:
        """The book for such a player. Raises BookError where it has errors."""
        return self.checked_for(is_left_handed).sound_book()

    def sheet(
        self, exercises: Iterable[Exercise], title: str | None, name: str | None, *, is_left_handed: bool = False
    ) -> Sheet:
        """A sheet in this style. Raises BookError where a bar does not fit it."""
        book = self.book_for(is_left_handed)
        title = title or wording(book.language)["pages.sheet.title"]
        with told_in(self.manuscript.path):
            return sheet_of(book, exercises, title, name, self.style.spacing)

    def warnings(self, sheet: Sheet) -> tuple[Problem, ...]:
        """What the book is warned of that is about the exercises of a sheet, and no others."""
        printed = {name for one in sheet.exercises for name in (one.id, one.series) if name}
        problems = self.checked_for(sheet.mirrored).problems
        return tuple(one for one in warnings_of(problems) if one.of in printed)


def make_sheet(path: Path, order: SheetOrder, run: Run) -> Built:
    """Make one handout of a book.

    Raises BookError, NotThere for an exercise that the book does not have, OutsideError.
    """
    with at_work(run) as executor:
        return make_sheet_at(_desk(path, order), order, run, executor)


def make_sheet_at(desk: SheetDesk, order: SheetOrder, run: Run, executor: Executor) -> Built:
    """Make one handout with what it is made with; the style is the desk's. Raises as `make_sheet` does."""
    _refuse_words_of(order)
    given = _given(desk.book_for(order.left_handed), order)
    sheet = desk.sheet(given, order.title, order.name, is_left_handed=order.left_handed)
    name = "-".join(filter(None, (desk.manuscript.name, "sheet", file_name(order.name) if order.name else "")))
    made = _engraved([sheet], desk, run, executor)
    with told_in(desk.manuscript.path):
        pages = lay_out_sheets([sheet], desk.style, made.blocks)
    return _bound(name, pages, [sheet], desk, made, desk.warnings(sheet))


def make_roster(path: Path, order: SheetOrder, roster: Path, run: Run) -> Handouts:
    """Make a handout for each student of a roster, and one PDF of all of them.

    Rows that are wrong are told and left out. Raises BookError where the book has errors or no row is
    right, NotThere for an exercise that the book does not have, OutsideError.
    """
    with at_work(run) as executor:
        return _of_roster(_desk(path, order), order, roster, run, executor)


def _of_roster(desk: SheetDesk, order: SheetOrder, roster: Path, run: Run, executor: Executor) -> Handouts:
    """The sheets of a roster with what they are made with. Raises as `make_roster` does."""
    _refuse_words_of(order)
    written = read_roster(roster)
    _given(desk.book_for(False), order)
    problems = list(written.problems)
    sheets: list[Sheet] = []
    warnings: list[tuple[Problem, ...]] = []
    for student in written.students:
        try:
            sheet, told = _for_student(student, desk, order)
        except NotForThem as error:
            problems.append(error.problem)
        else:
            sheets.append(sheet)
            warnings.append(told)
    if not sheets:
        raise BookError(sorted(problems, key=lambda one: one.mark))
    made = _engraved(sheets, desk, run, executor)
    names = file_names([sheet.name or "" for sheet in sheets])
    with told_in(desk.manuscript.path):
        *alone, together = lay_out_roster(sheets, desk.style, made.blocks, order.two_sided)
    built = [
        _bound(name, pages, [sheet], desk, made, told)
        for name, pages, sheet, told in zip(names, alone, sheets, warnings, strict=True)
    ]
    whole = _bound(TO_PRINT, together, sheets, desk, made)
    return Handouts((*built, whole), tuple(sorted(problems, key=lambda one: one.mark)))


def _engraved(sheets: Sequence[Sheet], desk: SheetDesk, run: Run, executor: Executor) -> Engraved:
    """The blocks of these sheets. Raises BookError where an exercise cannot be engraved, and OutsideError."""
    with told_of(desk.manuscript, [exercise for sheet in sheets for exercise in sheet.exercises]):
        engravings = dict.fromkeys(one for sheet in sheets for one in sheet.engravings)
        return engraved_in(desk.style, engravings, run, executor)


def _for_student(student: Student, desk: SheetDesk, order: SheetOrder) -> tuple[Sheet, tuple[Problem, ...]]:
    """A student's sheet, and what to tell of it. Raises NotForThem."""
    book = desk.book_for(student.is_left_handed)
    chosen = chosen_for(student, book, _given(book, order))
    sheet = desk.sheet(chosen, order.title, student.name, is_left_handed=student.is_left_handed)
    return sheet, (*desk.warnings(sheet), *warnings_for(student, chosen))


def _given(book: Book, order: SheetOrder) -> tuple[Exercise, ...]:
    """The exercises that were asked for by id or number. Raises NotThere."""
    found = {name: book.find(name) for name in order.exercises}
    missing = [name for name, exercise in found.items() if exercise is None]
    if missing:
        ids = ", ".join(exercise.id for exercise in book.exercises)
        raise NotThere(f"there is no exercise {' and no '.join(map(repr, missing))} in this book; there are {ids}")
    return tuple(exercise for exercise in found.values() if exercise)


def _bound(
    name: str,
    pages: Pages,
    sheets: Sequence[Sheet],
    desk: SheetDesk,
    made: Engraved,
    told: Iterable[Problem] = (),
) -> Built:
    """The pages of sheets as a PDF."""
    exercises = len({exercise.id for sheet in sheets for exercise in sheet.exercises})
    aloud = partial(spoken, pages.language, lettering=Lettering.of(desk.style))
    return Built(
        name=name,
        pdf=bind(pages, made.blocks, desk.style, aloud),
        pages=len(pages.labels),
        exercises=exercises,
        engraved=made.engraved,
        stored=made.stored,
        warnings=tuple(map(str, told)),
        not_kept=made.not_kept,
    )


def _refuse_words_of(order: SheetOrder) -> None:
    """Raise NotThere for words that cannot stand over a sheet."""
    for words in filter(None, (order.title, order.name)):
        if unseen(words) or len(words) > LONGEST_LINE:
            raise NotThere(f"'{short(words)}' cannot stand over a sheet: it is too long, or has what is not seen")


def _desk(path: Path, order: SheetOrder) -> SheetDesk:
    reading = read(path)
    return desk_of(reading, check_edition(reading, Edition()), order.style)


def desk_of(reading: Reading, checked: Checked, named: str | None = None) -> SheetDesk:
    """What handouts of a book are made with: of one that was read and worked out, in a style by its name or file.

    Raises BookError where the book or the style has errors, and NotThere for a style that there is not.
    """
    manuscript, _, book_style = checked.to_set()

    @cache
    def checked_for(is_left_handed: bool) -> Checked:
        return check_edition(reading, _MIRRORED) if is_left_handed else checked

    named = named or usual_style(book_style.paper)
    if not named.endswith(ENDINGS) and named not in style_names(manuscript.folder):
        raise NotThere(f"there is no style '{named}'; there are {', '.join(style_names())}")
    # A reader knows the letters and the syllables of the book, and its sentences name them.
    known = {"letters": book_style.letters, "counts": book_style.counts}
    style = load_style(named, manuscript.folder).model_copy(update=known)
    return SheetDesk(manuscript, style, checked_for)


def usual_style(paper: Paper) -> str:
    """The style of handouts that goes with a book's paper: on letter where that is measured in inches."""
    return "letter-handout" if round(paper.width / _HALF_INCH, 6).is_integer() else "a4-handout"


def file_names(names: Sequence[str]) -> tuple[str, ...]:
    """A file name for each of these names, none of them twice; `-2` tells the second of a name."""
    taken = {TO_PRINT}
    made = []
    for name in names:
        wanted = file_name(name)
        tries = (wanted, *(f"{wanted}-{number}" for number in range(2, len(names) + 3)))
        made.append(next(one for one in tries if one not in taken))
        taken.add(made[-1])
    return tuple(made)


def file_name(name: str) -> str:
    """A name as a file can be called anywhere: small letters and figures of any script, with hyphens between."""
    words = re.findall(r"[^\W_]+", unicodedata.normalize("NFC", name).casefold())
    safe = "-".join(words)[:_LONGEST_NAME].strip("-")
    return f"student-{safe}".strip("-") if safe in _DEVICES or not safe else safe
