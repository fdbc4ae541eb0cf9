"""What differs from the exercise it grew out of is marked, as the style has it."""

from dataclasses import replace

import pytest

from typeset.compose.book import Exercise
from typeset.page.changes import changes_by_system
from typeset.page.exercise import exercise_pieces
from typeset.page.marks import Mark, Music, Rule, Words
from typeset.page.reading import how_to_read
from typeset.page.setting import points
from typeset.page.task import task_pieces
from typeset.pattern.bar import pickup_bar
from typeset.pattern.grid import SIXTEENTHS

from .made import a_book, a_chapter, a_setting, a_style, a_task, an_exercise, as_one
from .test_exercise import set_for


def marks_of(exercise: Exercise, **parts: object) -> tuple[Mark, ...]:
    return as_one(exercise_pieces([exercise], set_for(exercise, **parts)))


def test_changed_slots_are_told_apart_by_system() -> None:
    systems = an_exercise("1.1", systems=2, bars=1).systems
    assert list(changes_by_system(systems, (0, 15, 16, 20))) == [(0, 15), (0, 4)]


def test_a_short_bar_stands_under_the_count_of_each_changed_note() -> None:
    exercise = an_exercise("1.1", systems=2, bars=1, changed=(3, 18))
    marks = marks_of(exercise, exercises={"ladder": False})
    block = set_for(exercise).blocks[exercise.systems[0]]
    bars = [mark for mark in marks if isinstance(mark, Rule)]
    assert [(bar.x0 + bar.x1) / 2 for bar in bars] == pytest.approx([block.slots[n] - block.left for n in (3, 2)])
    for bar, music in zip(
        bars, (mark for mark in marks if isinstance(mark, Music) and mark.scale == 1), strict=True
    ):
        under = [mark.y for mark in marks if isinstance(mark, Words) and music.y < mark.y < music.y + points(12)]
        assert bar.y0 == bar.y1 > max(under) + points(1)


def test_a_band_may_lie_behind_its_letters_instead_and_is_drawn_before_them() -> None:
    marks = marks_of(an_exercise("1.1", changed=(3, 4)), exercises={"changes": "tint"})
    bands = [mark for mark in marks if isinstance(mark, Rule)]
    assert len(bands) == 2 and all(band.ink == 14 for band in bands)
    letters = [mark for mark in marks if isinstance(mark, Words) and mark.words in ("e", "&")]
    assert bands[0].y0 < letters[0].y < bands[0].y1
    assert marks.index(bands[0]) < marks.index(letters[0])


def test_a_band_without_letters_lies_behind_the_staff() -> None:
    none = {"sticking": "none", "counting": "none"}
    exercise = an_exercise("1.1", changed=(3,))
    (band,) = (
        mark for mark in marks_of(exercise, exercises={"changes": "tint"}, lines=none) if isinstance(mark, Rule)
    )
    assert band.y1 - band.y0 > points(6.2)


def test_a_style_may_leave_the_marks_out() -> None:
    marks = marks_of(an_exercise("1.1", changed=(3,)), exercises={"changes": "none"})
    assert not [mark for mark in marks if isinstance(mark, Rule)]


@pytest.mark.parametrize(("changed", "explained"), [((3,), True), ((), False)])
def test_they_are_explained_where_the_book_has_them(changed: tuple[int, ...], explained: bool) -> None:
    book = a_book(a_chapter(1, [an_exercise("1.1", changed=changed)]))
    for changes, first in (("mark", "A short bar"), ("tint", "A grey band")):
        setting = a_setting(book, a_style(exercises={"changes": changes}))
        said = [
            mark.words
            for piece in how_to_read(book, setting).pieces
            for mark in piece.marks
            if isinstance(mark, Words)
        ]
        assert (first in said) is explained


def test_a_task_gives_nothing_away() -> None:
    task = a_task("find-the-accents", [an_exercise("1.1", changed=(3,))])
    setting = a_setting(a_book(a_chapter(1, [*task.of, task])))
    assert not [mark for piece in task_pieces(task, setting) for mark in piece.marks if isinstance(mark, Rule)]


def test_the_slots_of_a_pickup_come_before_those_that_changed() -> None:
    (system,) = an_exercise("1.1", bars=1).systems
    opened = replace(system, pickup=pickup_bar(system.bars[0].meter, SIXTEENTHS, system.bars[0].slots[:3]))
    assert list(changes_by_system([opened], (0, 5))) == [(3, 8)]
