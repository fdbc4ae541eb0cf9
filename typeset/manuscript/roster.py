"""The roster: a table of students in CSV. Each row is read by itself, so that a bad one spoils no other."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from ..nearest import near
from ..pattern.tempo import FASTEST, SLOWEST
from ..problem import BookError, Mark, Problem
from ..text_file import FileTrouble, text_of, unseen
from .lines import Lines
from .plain import LONGEST_LINE
from .written import shown

COLUMNS = ("name", "hand", "level", "start tempo", "exercises")
HARDEST = 10
"""The highest level of an exercise."""

MOST_STUDENTS = 500
"""The most rows of a roster; each gets paper of its own."""

MOST_CELLS = 100

_HANDS = {"": False, "right": False, "r": False, "left": True, "l": True}
_DELIMITERS = ",;\t"
_QUOTE = '"'
_WHITE = re.compile(" *")
_NAME = re.compile(r"[^\s,;]+")


@dataclass(frozen=True, slots=True)
class Cell:
    """What stands between two delimiters, without the white and the quotes round it, and where that begins."""

    text: str
    mark: Mark


@dataclass(frozen=True, slots=True)
class Student:
    """Who gets a sheet.

    `level` is the hardest that is given without being chosen, `start` replaces the tempo that exercises
    start from, `exercises` are ids or numbers; None or none of them where the row says nothing. `cells`
    holds the row by its columns.
    """

    name: str
    is_left_handed: bool
    level: int | None
    start: int | None
    exercises: tuple[Cell, ...]
    cells: Mapping[str, Cell]

    def mark(self, column: str) -> Mark:
        """Where a column of this row stands; the row's beginning where it lacks that column."""
        return self.cells[column].mark if column in self.cells else self.cells["name"].mark


@dataclass(frozen=True, slots=True)
class Roster:
    """The students whose rows can be used, in order, and what is wrong with the others."""

    students: tuple[Student, ...]
    problems: tuple[Problem, ...]


class _Bad(ValueError):
    """What is wrong in a row, and where."""

    def __init__(self, mark: Mark, what: str) -> None:
        super().__init__(what)
        self.problem = Problem(mark, what)


def read_roster(file: Path) -> Roster:
    """Read a roster. Raises BookError where no row can be read: for the file itself and for its head."""
    lines = [(number, line) for number, line in enumerate(Lines(_text(file)), start=1) if line.strip()]
    if len(lines) > MOST_STUDENTS + 1:
        what = f"this roster has {len(lines) - 1:,} students, and {MOST_STUDENTS} is the most; divide it"
        raise BookError([Problem(Mark(file), what)])
    if not lines:
        raise BookError([Problem(Mark(file), f"this roster is empty; its first line is {', '.join(COLUMNS)}")])
    (first, head), *rows = lines
    delimiter = max(_DELIMITERS, key=head.count)
    try:
        columns = _columns(_cells(head, delimiter, file, first))
    except _Bad as bad:
        raise BookError([bad.problem]) from None
    students: list[Student] = []
    problems: list[Problem] = []
    for number, line in rows:
        try:
            cells = _cells(line, delimiter, file, number)
            if any(cell.text for cell in cells):
                students.append(_student(cells, columns))
        except _Bad as bad:
            problems.append(bad.problem)
    if not students and not problems:
        raise BookError([Problem(Mark(file, first), "there is no student in this roster; write a row for each")])
    return Roster(tuple(students), tuple(problems))


def _text(file: Path) -> str:
    try:
        return text_of(file)
    except FileTrouble as trouble:
        problem = trouble.problem
        if problem.what.endswith("UTF-8"):
            problem = replace(problem, what=f"{problem.what}, which table programs call 'CSV UTF-8'")
        raise BookError([problem]) from None


def _cells(line: str, delimiter: str, file: Path, number: int) -> list[Cell]:
    """A line's cells after RFC 4180, but for quotes that go over the end of a line."""
    cells: list[Cell] = []
    start = 0
    while start <= len(line):
        begin = _WHITE.match(line, start).end()  # type: ignore[union-attr]
        is_quoted = line[begin : begin + 1] == _QUOTE
        if is_quoted:
            text, end = _quoted(line, begin, Mark(file, number, begin + 1))
            rest = _up_to(delimiter, line, end)
            if rest.strip():
                raise _Bad(Mark(file, number, end + 1), f"'{rest.strip()}' stands behind the closing quote")
        else:
            text, end = _up_to(delimiter, line, begin), begin
            rest = text
        if len(cells) == MOST_CELLS:
            raise _Bad(Mark(file, number, begin + 1), f"this row has more than {MOST_CELLS} cells")
        cells.append(_cell(text.strip(), Mark(file, number, begin + 1 + is_quoted)))
        start = end + len(rest) + 1
    return cells


def _up_to(delimiter: str, line: str, start: int) -> str:
    """What stands before the next delimiter, or the line's end."""
    end = line.find(delimiter, start)
    return line[start:] if end < 0 else line[start:end]


def _cell(text: str, mark: Mark) -> Cell:
    """A cell that can be read and printed. Raises _Bad."""
    found = unseen(text)
    if found:
        raise _Bad(mark, f"an invisible character ({found[1]}) stands in this cell; take it out")
    if len(text) > LONGEST_LINE:
        raise _Bad(mark, f"this cell has {len(text):,} characters; {LONGEST_LINE} is the most")
    return Cell(text, mark)


def _quoted(line: str, begin: int, mark: Mark) -> tuple[str, int]:
    """The text between quotes, in which a doubled quote is one; and where it ends, behind the closing quote."""
    end = line.find(_QUOTE, begin + 1)
    while end >= 0 and line[end + 1 : end + 2] == _QUOTE:
        end = line.find(_QUOTE, end + 2)
    if end < 0:
        raise _Bad(mark, "this quote is not closed on its line")
    return line[begin + 1 : end].replace(_QUOTE * 2, _QUOTE), end + 1


def _columns(head: Sequence[Cell]) -> tuple[str, ...]:
    """The columns in their order."""
    found: list[str] = []
    for cell in head:
        column = re.sub(r"[\s_-]+", " ", cell.text).lower()
        if column not in COLUMNS:
            meant = near(column, COLUMNS)
            remedy = f"did you mean '{meant}'?" if meant else f"there are {', '.join(COLUMNS)}"
            raise _Bad(cell.mark, f"there is no column {shown(cell.text)} in a roster; {remedy}")
        if column in found:
            raise _Bad(cell.mark, f"the column '{column}' is here a second time")
        found.append(column)
    if "name" not in found:
        raise _Bad(head[0].mark, "a roster has a column 'name'")
    return tuple(found)


def _student(row: Sequence[Cell], columns: Sequence[str]) -> Student:
    if len(row) > len(columns):
        raise _Bad(
            row[len(columns)].mark,
            f"this row has {len(row)} cells for {len(columns)} columns; put several exercises into one cell, "
            "with spaces between them",
        )
    cells = dict(zip(columns, row, strict=False))
    name = " ".join(cells["name"].text.split()) if "name" in cells else ""
    if not name:
        raise _Bad(row[0].mark, "this row has no name")
    return Student(
        name=name,
        is_left_handed=_hand(cells.get("hand")),
        level=_number(cells.get("level"), 1, HARDEST, "level"),
        start=_number(cells.get("start tempo"), SLOWEST, FASTEST, "start tempo"),
        exercises=tuple(_names(cells.get("exercises"))),
        cells=cells,
    )


def _hand(cell: Cell | None) -> bool:
    """True for left-handed."""
    if cell is None:
        return False
    if cell.text.lower() not in _HANDS:
        raise _Bad(cell.mark, f"hand is right or left, not {shown(cell.text)}")
    return _HANDS[cell.text.lower()]


def _number(cell: Cell | None, least: int, most: int, what: str) -> int | None:
    if cell is None or not cell.text:
        return None
    if not re.fullmatch(r"[0-9]{1,4}", cell.text) or not least <= int(cell.text) <= most:
        raise _Bad(cell.mark, f"{what} is a whole number from {least} to {most}, not {shown(cell.text)}")
    return int(cell.text)


def _names(cell: Cell | None) -> Iterator[Cell]:
    """The ids and numbers in a cell, each once."""
    said: set[str] = set()
    for found in _NAME.finditer(cell.text if cell else ""):
        if cell and found[0] not in said:
            said.add(found[0])
            yield Cell(found[0], replace(cell.mark, column=cell.mark.column + found.start()))
