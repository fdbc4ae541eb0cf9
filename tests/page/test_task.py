"""Tasks: what is given, what is left to write, and the answer beside it or at the back."""

from dataclasses import replace
from itertools import pairwise

import pytest

from typeset.compose.book import Book, Exercise, Task
from typeset.page import lay_out
from typeset.page.answers import answers
from typeset.page.chapter import item_pieces
from typeset.page.contents import contents
from typeset.page.marks import Anchor, Link, Mark, Music, Rule, Words
from typeset.page.setting import Setting, points
from typeset.page.task import task_pieces

from .made import a_book, a_chapter, a_setting, a_style, a_task, an_exercise, as_one, blocks_of

KINDS = ("write-the-sticking", "write-the-count", "write-the-notes", "find-the-accents")
COUNTS = {"1", "e", "&", "a", "2", "3", "4"}


def set_for(task: Task, **parts: object) -> Setting:
    return a_setting(a_book(a_chapter(1, [*task.of, task])), a_style(**parts))


def marks_of(task: Task, **parts: object) -> tuple[Mark, ...]:
    return as_one(task_pieces(task, set_for(task, **parts)))


def words_of(marks: tuple[Mark, ...]) -> list[str]:
    return [mark.words for mark in marks if isinstance(mark, Words)]


def rules_of(marks: tuple[Mark, ...]) -> list[Rule]:
    return [mark for mark in marks if isinstance(mark, Rule) and mark.y0 == mark.y1]


def test_a_task_says_its_number_its_title_and_what_is_asked() -> None:
    marks = marks_of(a_task("write-the-count", [an_exercise("1.1")], number=3))
    assert {"Task 3", "The title", "Do it."} <= set(words_of(marks))
    assert "task 3" in [mark.name for mark in marks if isinstance(mark, Anchor)]


def test_a_task_on_half_a_line_is_asked_beside_its_staff() -> None:
    task = a_task("find-the-accents", [an_exercise("1.1", bars=1, quarter=14.0)])
    setting = set_for(task)
    (asks,) = [mark for mark in marks_of(task) if isinstance(mark, Words) and mark.words == "Do it."]
    assert asks.x == pytest.approx((setting.measure + points(setting.style.spacing.gap)) / 2)


def test_a_task_may_begin_a_page() -> None:
    exercise = an_exercise("1.1")
    tasks = [a_task("write-the-count", [exercise], new_page=is_new) for is_new in (False, True)]
    setting = set_for(tasks[0])
    assert [next(item_pieces([task], setting)).starts_page for task in tasks] == [False, True]


def test_where_the_sticking_is_asked_for_each_stroke_has_a_rule_and_no_letter() -> None:
    marks = marks_of(a_task("write-the-sticking", [an_exercise("1.1", "R . L R", bars=1)]))
    assert not {"R", "L"} & set(words_of(marks))
    assert set(words_of(marks)) > COUNTS
    assert len(rules_of(marks)) == 12


def test_where_the_count_is_asked_for_each_slot_has_a_rule_and_the_silent_ones_too() -> None:
    marks = marks_of(a_task("write-the-count", [an_exercise("1.1", "R . L R", bars=1)]))
    assert {"R", "L"} <= set(words_of(marks))
    assert not COUNTS & set(words_of(marks))
    assert len(rules_of(marks)) == 16


@pytest.mark.parametrize("kind", ["write-the-notes", "find-the-accents", "spot-the-change"])
def test_other_tasks_give_letters_and_counts(kind: str) -> None:
    of = [an_exercise("1.1"), an_exercise("1.2", "R L R K K")][: 2 if kind == "spot-the-change" else 1]
    marks = marks_of(a_task(kind, of))
    assert {"R", "L", *COUNTS} <= set(words_of(marks)) and not rules_of(marks)


def test_rules_stand_round_the_middles_of_their_slots_with_room_for_a_pencil() -> None:
    exercise = an_exercise("1.1", "R L", bars=1)
    task = a_task("write-the-sticking", [exercise])
    setting = set_for(task)
    (piece,) = task_pieces(task, setting)
    block = setting.blocks[exercise.systems[0]]
    rules = rules_of(piece.marks)
    middles = [(rule.x0 + rule.x1) / 2 for rule in rules]
    assert middles == pytest.approx([slot - block.left for slot in block.slots])
    music = next(mark for mark in piece.marks if isinstance(mark, Music))
    assert rules[0].y0 - (music.y - block.ink[1]) > points(6.5)
    assert all(left.x1 < right.x0 for left, right in pairwise(rules))


def test_strokes_that_sound_together_have_a_rule_each() -> None:
    marks = marks_of(a_task("write-the-sticking", [an_exercise("1.1", "R+K L", bars=1)]))
    assert len(rules_of(marks)) == 24
    joined = marks_of(
        a_task("write-the-sticking", [an_exercise("1.1", "R+K L", bars=1)]), lines={"together": "joined"}
    )
    assert len(rules_of(joined)) == 16


def test_what_is_asked_for_has_room_though_the_style_does_not_print_it() -> None:
    marks = marks_of(a_task("write-the-sticking", [an_exercise("1.1", "R L", bars=1)]), lines={"sticking": "none"})
    assert len(rules_of(marks)) == 16


def test_two_exercises_are_compared_line_over_line_each_with_its_number() -> None:
    first, second = an_exercise("1.1", systems=2), an_exercise("1.2", "R L R K K", systems=2)
    marks = marks_of(a_task("spot-the-change", [first, second]))
    staffs = sorted(((mark.y, mark.engraving) for mark in marks if isinstance(mark, Music)), key=lambda one: one[0])
    turns = [first.systems[0], second.systems[0], first.systems[1], second.systems[1]]
    assert [engraving for _, engraving in staffs] == turns
    numbers = [mark for mark in marks if isinstance(mark, Words) and mark.words in ("1.1", "1.2")]
    assert [mark.words for mark in numbers] == ["1.1", "1.2", "1.1", "1.2"]
    assert all(mark.x < 0 for mark in numbers)
    inline = marks_of(a_task("spot-the-change", [first, second]), exercises={"number": "inline"})
    assert all(mark.x >= 0 for mark in inline if isinstance(mark, Words))


def test_an_answer_beside_its_task_has_the_line_in_full_smaller_and_says_what_else_is_right() -> None:
    task = a_task("write-the-sticking", [an_exercise("1.1", "R L", bars=1)], is_inline=True, accepts="Or L R.")
    marks = marks_of(task, lines={"sticking": "none"})
    assert {"Answer", "R", "L", "Or L R."} <= set(words_of(marks))
    assert [mark.scale for mark in marks if isinstance(mark, Music)] == [1, 0.72]


def a_book_with(*tasks: Task) -> Book:
    exercises = [exercise for task in tasks for exercise in task.of]
    return a_book(a_chapter(1, [*exercises, *tasks]), back=("answers",))


def test_the_answers_stand_at_the_back_with_their_exercises_pages() -> None:
    tasks = [a_task(kind, [an_exercise(f"1.{at}")], number=at) for at, kind in enumerate(KINDS, start=1)]
    setting = a_setting(a_book_with(*tasks))
    section = answers(a_book_with(*tasks), {"no-1.2": 8}, setting)
    marks = tuple(mark for piece in section.pieces for mark in piece.marks)
    assert [words for words in words_of(marks) if words.startswith("Task")] == [f"Task {n}" for n in (1, 2, 3, 4)]
    assert "p.\u00a08" in "".join(words_of(marks))
    assert {"task 2", "no-1.2"} <= {mark.to for mark in marks if isinstance(mark, Link)}


def test_what_changed_is_said_in_the_answer() -> None:
    of = [an_exercise("1.1"), an_exercise("1.2", "R L R K K")]
    task = a_task("spot-the-change", of, answer=("2&: the left hand instead of the right",))
    section = answers(a_book_with(task), {}, a_setting(a_book_with(task)))
    assert task.answer[0] in [words for piece in section.pieces for words in words_of(piece.marks)]


@pytest.mark.parametrize("is_inline", [False, True])
def test_there_are_answers_at_the_back_only_for_what_is_not_answered_yet(is_inline: bool) -> None:
    book = a_book_with(a_task("write-the-count", [an_exercise("1.1")], is_inline=is_inline))
    words = [heading.words for heading in lay_out(book, a_style(), blocks_of(book)).headings]
    assert ("Answers" in words) is not is_inline
    rows = [words for piece in contents(book, {}, a_setting(book)).pieces for words in words_of(piece.marks)]
    assert ("Answers" in rows) is not is_inline


def test_a_book_without_tasks_has_no_page_of_answers() -> None:
    book = a_book(a_chapter(1, [an_exercise("1.1")]), back=("answers",))
    assert "Answers" not in [heading.words for heading in lay_out(book, a_style(), blocks_of(book)).headings]


def test_a_task_taller_than_a_page_runs_over_pages() -> None:
    long: Exercise = an_exercise("1.1", systems=9)
    task = a_task("spot-the-change", [long, replace(long, id="no-1.2", number="1.2")])
    pieces = task_pieces(task, set_for(task))
    assert len(pieces) == 9
