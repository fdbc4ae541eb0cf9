"""Handouts as values: which exercises are on one, from which tempo on, and how they are broken into lines."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from typeset.compose import Composition
from typeset.compose.book import Book
from typeset.compose.engraving import NoteSpecimen, SoundSpecimen, StrokeSpecimen
from typeset.compose.sheet import NotForThem, chosen_for, sheet_of, warnings_for
from typeset.compose.systems import TooWide
from typeset.manuscript.roster import Cell, Student
from typeset.pattern.sound import SNARE
from typeset.problem import Mark, errors_of
from typeset.style.music import Spacing

Compose = Callable[[str], Composition]

BOOK = """\
chapter: Steps
set: {tempo: 60-90}
exercises:
  - {id: plain, title: Plain, start: R L R L, meter: 4/4, grid: 8ths}
  - {id: groove, title: Groove, start: plain, new-page: yes, steps: [{accent: [2]}]}
  - {id: busy, title: Busy, start: R L K R L K K, meter: 7/4, grid: 16ths, steps: [{accent: [1]}]}
"""


@pytest.fixture
def book(composed: Compose) -> Book:
    made = composed(BOOK)
    assert not errors_of(made.problems)
    return made.book


def student(**said: str) -> Student:
    """A row of a roster, its cells in line 5."""
    cells = {
        column: Cell(text, Mark(Path("students.csv"), 5, 10 * n)) for n, (column, text) in enumerate(said.items())
    }
    cells["name"] = Cell("Mira", Mark(Path("students.csv"), 5, 1))
    exercises = tuple(Cell(name, Mark(Path("students.csv"), 5, 30)) for name in said.get("exercises", "").split())
    level, start = (int(said[key]) if key in said else None for key in ("level", "start_tempo"))
    return Student(
        "Mira", False, level, start, exercises, {key.replace("_", " "): one for key, one in cells.items()}
    )


def refused(one: Student, book: Book, given: tuple[str, ...] = ()) -> str:
    with pytest.raises(NotForThem) as error:
        chosen_for(one, book, [found for name in given if (found := book.find(name))])
    return str(error.value)


def ids(one: Student, book: Book, *given: str) -> list[str]:
    found = [found for name in given if (found := book.find(name))]
    return [exercise.id for exercise in chosen_for(one, book, found)]


def test_exercises_stand_in_the_order_asked_for_each_once(book: Book) -> None:
    chosen = [book.exercises[index] for index in (1, 0, 1)]
    sheet = sheet_of(book, chosen, "Week 1", "Mira", Spacing())
    assert [one.id for one in sheet.exercises] == ["groove", "plain"]
    assert (sheet.title, sheet.name) == ("Week 1", "Mira")


def test_neighbours_of_one_bar_share_a_line_though_in_the_book_they_do_not(book: Book) -> None:
    assert book.exercises[1].new_page
    sheet = sheet_of(book, book.exercises[:2], "", None, Spacing())
    assert all(one.systems[0].width < 85 and not one.new_page for one in sheet.exercises)


def test_a_style_can_keep_exercises_off_shared_lines(book: Book) -> None:
    sheet = sheet_of(book, book.exercises[:2], "", None, Spacing(shared_slot=40))
    assert all(one.systems[0].width > 85 for one in sheet.exercises)


def test_what_changed_is_marked_only_beside_the_exercise_it_grew_out_of(book: Book) -> None:
    assert book.exercises[1].changed
    assert sheet_of(book, book.exercises[:2], "", None, Spacing()).exercises[1].changed
    assert not sheet_of(book, book.exercises[1:2], "", None, Spacing()).exercises[0].changed


def test_a_sheet_needs_its_systems_and_a_note_for_each_tempo_sound_and_way_to_play(book: Book) -> None:
    sheet = sheet_of(book, book.exercises[1:2], "", None, Spacing())
    systems = len(sheet.exercises[0].systems)
    assert sheet.engravings[:systems] == sheet.exercises[0].systems
    assert sheet.engravings[systems:] == (
        SoundSpecimen(SNARE), StrokeSpecimen("plain"), StrokeSpecimen("accent"), NoteSpecimen(Fraction(1, 4)),
    )  # fmt: skip


def test_a_bar_too_wide_for_the_sheet_s_style_is_named(book: Book) -> None:
    with pytest.raises(TooWide, match=r"1\.3 \(busy\): a bar of 7/4"):
        sheet_of(book, book.exercises, "", None, Spacing(measure=60))


def test_an_exercise_is_found_by_its_id_or_its_number(book: Book) -> None:
    assert book.find("groove") is book.find("1.2") is book.exercises[1]
    assert book.find("1.9") is None


def test_without_a_choice_of_their_own_students_get_what_is_given_to_all(book: Book) -> None:
    assert ids(student(), book, "1.2", "1.1") == ["groove", "plain"]


def test_a_row_s_own_choice_stands_in_place_of_what_is_given(book: Book) -> None:
    assert ids(student(exercises="1.3"), book, "1.1", "1.2") == ["busy"]


def test_what_is_above_the_level_is_left_out(book: Book) -> None:
    plain, busy = book.exercises[0], book.exercises[2]
    assert plain.level < busy.level
    assert ids(student(level=str(plain.level)), book, "1.1", "1.3") == ["plain"]


def test_a_row_that_chooses_above_its_level_gets_it_with_a_warning(book: Book) -> None:
    one = student(level="1", exercises="busy")
    chosen = chosen_for(one, book, ())
    assert [exercise.id for exercise in chosen] == ["busy"]
    (warning,) = warnings_for(one, chosen)
    assert str(warning).startswith("students.csv:5:") and "1.3 (busy) is level" in warning.what


def test_a_row_that_starts_above_what_can_be_played_gets_it_with_a_warning(book: Book) -> None:
    untimed = replace(book.exercises[2], tempo=None)
    one = student(start_tempo="300")
    (warning,) = warnings_for(one, chosen_for(one, book, [untimed]))
    assert warning.what == f"1.3 (busy) starts at 300, and can be played up to {untimed.ceiling}"
    assert not warnings_for(student(start_tempo="60"), [untimed])


def test_a_level_below_everything_is_told(book: Book) -> None:
    said = refused(student(level="1"), book, ("1.3",))
    assert said.startswith("none of the exercises is for Mira: the easiest is level 5")


def test_a_row_without_exercises_needs_some_given_to_all(book: Book) -> None:
    assert refused(student(), book) == "there are no exercises for Mira; name some here or for all"


def test_an_exercise_that_there_is_not_is_told_with_what_was_meant(book: Book) -> None:
    wanted = "there is no exercise 'grove' in this book; did you mean 'groove'?"
    assert refused(student(exercises="grove"), book) == wanted


def test_a_start_tempo_replaces_where_exercises_start_from_and_leaves_the_goal(book: Book) -> None:
    (one,) = chosen_for(student(start_tempo="72"), book, book.exercises[:1])
    assert str(one.tempo) == "72-90"


def test_a_start_above_the_goal_is_told(book: Book) -> None:
    assert refused(student(start_tempo="100"), book, ("1.1",)).startswith("100 is faster than 90, the goal of 1.1")
