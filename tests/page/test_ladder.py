"""The tempo ladder: round, even steps from the start to what can be reached."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from typeset.compose.book import Exercise
from typeset.page.exercise import exercise_pieces
from typeset.page.ladder import ladder, rungs
from typeset.page.marks import Box, Mark, Words
from typeset.page.reading import how_to_read
from typeset.page.setting import points
from typeset.pattern.tempo import Tempo

from .made import a_book, a_chapter, a_setting, a_style, an_exercise
from .test_exercise import HALF, set_for

YES = {"ladder": True}


def ticked(exercise: Exercise, **parts: object) -> list[str]:
    marks: tuple[Mark, ...] = exercise_pieces([exercise], set_for(exercise, **{"exercises": YES, **parts}))[0].marks
    boxes = [mark for mark in marks if isinstance(mark, Box)]
    return [
        mark.words for box in boxes for mark in marks if isinstance(mark, Words) and mark.x == box.x1 + points(1)
    ]


@pytest.mark.parametrize(
    ("start", "goal", "way"),
    [
        (60, 100, (60, 70, 80, 90, 100)),
        (120, 200, (120, 140, 160, 180, 200)),
        (44, 76, (44, 52, 60, 68, 76)),
        (60, 64, (60, 62, 64)),
        (80, 80, ()),
        (80, 70, ()),
    ],
)
def test_steps_are_round(start: int, goal: int, way: tuple[int, ...]) -> None:
    assert rungs(start, goal) == way


@given(st.integers(20, 200), st.integers(1, 300))
def test_a_ladder_begins_at_the_start_ends_at_the_goal_and_climbs_evenly(start: int, climb: int) -> None:
    way = rungs(start, start + climb)
    assert (way[0], way[-1]) == (start, start + climb)
    assert len(way) <= 8 and (len(way) >= 5 or climb < 12)
    steps = [above - below for below, above in pairwise(way)]
    assert all(step == steps[0] for step in steps[:-1]) and 0 < steps[-1] < 1.25 * steps[0] + 1


def test_each_tempo_has_its_box_under_the_last_line_of_music() -> None:
    assert ticked(an_exercise("1.1")) == ["60", "70", "80", "90", "100"]
    assert ticked(an_exercise("1.1"), exercises={"ladder": False}) == []


def test_a_ladder_ends_where_nobody_could_go_on() -> None:
    assert ticked(an_exercise("1.1", ceiling=85))[-1] == "85"
    assert ticked(an_exercise("1.1", ceiling=60)) == ticked(an_exercise("1.1", tempo=None)) == []


def test_ladders_of_exercises_that_share_a_line_are_level_and_no_wider_than_their_staffs() -> None:
    left = an_exercise("1.1", changed=(3,), **HALF)
    right = an_exercise("1.2", tempo=Tempo(100, 140), **HALF)
    setting = set_for(left, right, exercises=YES)
    (piece,) = exercise_pieces([left, right], setting)
    boxes = [mark for mark in piece.marks if isinstance(mark, Box)]
    assert len({box.y0 for box in boxes}) == 1
    assert max(box.x1 for box in boxes if box.x1 < setting.measure / 2) < points(left.systems[0].width)


def test_a_ladder_that_would_be_crowded_is_left_out() -> None:
    assert ladder((60, 70, 80), points(20), set_for(an_exercise("1.1"))) is None


def test_the_boxes_are_explained_where_the_book_has_them() -> None:
    book = a_book(a_chapter(1, [an_exercise("1.1")]))
    for is_there in (True, False):
        setting = a_setting(book, a_style(exercises={"ladder": is_there}))
        said = [
            mark.words
            for piece in how_to_read(book, setting).pieces
            for mark in piece.marks
            if isinstance(mark, Words)
        ]
        assert ("The boxes" in said) is is_there
