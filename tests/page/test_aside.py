"""What is said to the teacher alone."""

from dataclasses import replace

from typeset.page.exercise import exercise_pieces
from typeset.page.marks import Rule, Words
from typeset.page.setting import Setting
from typeset.page.task import task_pieces

from .made import a_task, an_exercise, as_one
from .test_exercise import HALF, set_for, words_of

NOTE = "Ask for the *count*, {left} hand first."


def for_teacher(setting: Setting) -> Setting:
    return replace(setting, for_teacher=True)


def test_a_note_is_printed_in_the_teacher_s_copy_alone() -> None:
    exercise = an_exercise("1.1", note=NOTE)
    students = exercise_pieces([exercise], set_for(exercise))[0]
    teachers = exercise_pieces([exercise], for_teacher(set_for(exercise)))[0]
    assert "count" not in words_of(students.marks)
    assert {"For the teacher", "count", ", left hand first."} <= set(words_of(teachers.marks))


def test_an_exercise_without_a_note_looks_the_same_in_both() -> None:
    exercise = an_exercise("1.1")
    setting = set_for(exercise)
    assert exercise_pieces([exercise], setting) == exercise_pieces([exercise], for_teacher(setting))


def test_a_task_has_its_note_too() -> None:
    task = a_task("write-the-count", [an_exercise("1.1")], note=NOTE)
    setting = set_for(*task.of)
    assert "count" in words_of(as_one(task_pieces(task, for_teacher(setting))))


def test_a_note_keeps_to_its_exercise_s_half_of_the_line() -> None:
    left, right = (
        an_exercise("1.1", note="Slowly, slowly, and slower still. " * 5, **HALF),
        an_exercise("1.2", **HALF),
    )
    setting = for_teacher(set_for(left, right))
    (piece,) = exercise_pieces([left, right], setting)
    (bar,) = (mark for mark in piece.marks if isinstance(mark, Rule) and mark.x0 == mark.x1)
    beside = [mark for mark in piece.marks if isinstance(mark, Words) and bar.y0 < mark.y < bar.y1]
    assert len(beside) > 3
    assert all(mark.x < setting.measure / 2 for mark in beside)
