"""The tempo ladder: round, even steps from the start to what can be reached."""

import pytest

from typeset.compose.book import Exercise
from typeset.page.exercise import exercise_pieces
from typeset.page.ladder import ladder
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
    words = [mark for mark in marks if isinstance(mark, Words)]
    return [mark.words for box in boxes for mark in words if mark.x == pytest.approx(box.x1 + 0.35 * mark.size)]


def test_each_tempo_has_its_box_under_the_last_line_of_music() -> None:
    assert ticked(an_exercise("1.1")) == ["60", "70", "80", "90", "100"]
    assert ticked(an_exercise("1.1"), exercises={"ladder": False}) == []


def test_a_ladder_ends_where_nobody_could_go_on() -> None:
    assert ticked(an_exercise("1.1", ceiling=85))[-1] == "85"
    assert ticked(an_exercise("1.1", ceiling=60)) == ticked(an_exercise("1.1", tempo=None)) == []


def test_ladders_of_exercises_that_share_a_line_are_level_and_apart() -> None:
    left = an_exercise("1.1", changed=(3,), **HALF)
    right = an_exercise("1.2", tempo=Tempo(100, 140), **HALF)
    setting = set_for(left, right, exercises=YES)
    (piece,) = exercise_pieces([left, right], setting)
    boxes = [mark for mark in piece.marks if isinstance(mark, Box)]
    assert len({box.y0 for box in boxes}) == 1
    gap = points(setting.style.spacing.gap)
    assert all(box.x1 <= (setting.measure - gap) / 2 or box.x0 >= (setting.measure + gap) / 2 for box in boxes)


def test_a_ladder_that_would_be_crowded_in_one_row_has_two_of_like_length() -> None:
    made = ladder((60, 70, 80, 90, 100), points(30), set_for(an_exercise("1.1")))
    boxes = [mark for mark in made.marks if isinstance(mark, Box)] if made else []
    assert [box.y0 == boxes[0].y0 for box in boxes] == [True, True, True, False, False]
    assert max(box.x1 for box in boxes) < points(30)


def test_a_short_staff_keeps_its_ladder() -> None:
    short = an_exercise("1.1", bars=1, quarter=5.0)
    assert ticked(short) == ticked(an_exercise("1.1"))


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
