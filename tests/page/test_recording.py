"""The code beside an exercise that leads to its recording."""

from __future__ import annotations

from dataclasses import replace

import pytest

from typeset.compose.book import Exercise
from typeset.page.exercise import exercise_pieces
from typeset.page.faces import width_of
from typeset.page.marks import Begins, Code, Link, Mark, Music, Role, Words
from typeset.page.setting import Setting, points

from .made import a_book, a_chapter, a_setting, a_style, an_exercise

ADDRESS = "https://recordings.lantern-yard.example/quiet-doors/1.1.opus"
LONGEST = "https://a.example/" + "x" * 102
QUIET = 4
"""Modules of white round a code (ISO/IEC 18004)."""


def set_for(*exercises: Exercise, **parts: object) -> Setting:
    return a_setting(a_book(a_chapter(1, exercises)), a_style(**parts))


def recorded(number: str = "1.1", address: str = ADDRESS, **more: object) -> Exercise:
    return replace(an_exercise(number, **more), recording=address)  # type: ignore[arg-type]


def set_alone(exercise: Exercise, **parts: object) -> tuple[Mark, ...]:
    (piece,) = exercise_pieces([exercise], set_for(exercise, **parts))
    return piece.marks


def code_in(marks: tuple[Mark, ...]) -> Code:
    (code,) = (mark for mark in marks if isinstance(mark, Code))
    return code


def side_of(code: Code) -> float:
    return code.size * (1 + max(row for row, _, _ in code.dark))


def test_an_exercise_without_a_recording_has_no_code() -> None:
    assert not [mark for mark in set_alone(an_exercise("1.1")) if isinstance(mark, Code)]


def test_a_style_may_leave_codes_out() -> None:
    assert not [mark for mark in set_alone(recorded(), exercises={"recordings": False}) if isinstance(mark, Code)]


@pytest.mark.parametrize("side", [15, 22])
def test_it_is_as_large_as_the_style_says(side: float) -> None:
    assert side_of(code_in(set_alone(recorded(), exercises={"code": side}))) == pytest.approx(points(side))


def test_a_long_address_has_a_larger_code_whose_modules_are_no_finer_than_can_be_read() -> None:
    code = code_in(set_alone(recorded(address=LONGEST)))
    assert side_of(code) == pytest.approx(points(18))
    assert code.size == pytest.approx(points(0.4))


def test_it_is_a_link_to_the_address_and_nowhere_else() -> None:
    marks = set_alone(recorded())
    code = code_in(marks)
    (link,) = (mark for mark in marks if isinstance(mark, Link))
    assert (link.to, link.outside) == (ADDRESS, True)
    assert (link.x0, link.y0) == (code.x, code.y)
    assert link.x1 - link.x0 == pytest.approx(side_of(code))


def test_it_is_read_aloud_as_its_address() -> None:
    assert Begins(Role.FIGURE, says=f"Recording: {ADDRESS}") in set_alone(recorded())


def test_it_ends_where_the_measure_ends() -> None:
    exercise = recorded()
    code = code_in(set_alone(exercise))
    assert code.x + side_of(code) == pytest.approx(set_for(exercise).measure)


@pytest.mark.parametrize("parts", [{}, {"exercises": {"number": "inline", "code": 20}}, {"type": {"exercise": 20}}])
@pytest.mark.parametrize("title", ["Low", "A title that is so long that it takes more than a line of any book"])
def test_words_and_music_keep_out_of_the_white_round_it(parts: dict[str, object], title: str) -> None:
    exercise = recorded(title=title, times=4, feel="swing-8ths")
    setting = set_for(exercise, **parts)
    (piece,) = exercise_pieces([exercise], setting)
    code = code_in(piece.marks)
    white = code.size * QUIET
    for mark in piece.marks:
        if isinstance(mark, Words) and mark.y - mark.size < code.y + side_of(code) + white:
            assert mark.x + width_of(mark.words, mark.font, mark.size) <= code.x - white
        if isinstance(mark, Music) and mark.scale == 1:
            reaches = mark.y - setting.blocks[mark.engraving].ink[3]
            assert reaches >= code.y + side_of(code) + white - 1e-6


def test_beside_a_short_staff_it_takes_no_further_height() -> None:
    exercise = an_exercise("1.1", bars=1)
    (without,) = exercise_pieces([exercise], set_for(exercise))
    exercise = recorded(bars=1)
    (with_code,) = exercise_pieces([exercise], set_for(exercise))
    assert with_code.height == without.height


def test_where_there_is_no_white_round_exercises_it_brings_its_own() -> None:
    crowded = {"exercises": {"space": 0.1}, "spacing": {"gap": 0}, "type": {"exercise": 9}}
    exercise = recorded()
    code = code_in(set_alone(exercise, **crowded))
    white = code.size * QUIET
    assert code.y >= white - points(0.1) - 1e-6
    assert code.x + side_of(code) <= set_for(exercise, **crowded).measure - white + 1e-6


def test_two_exercises_on_a_line_have_one_each() -> None:
    half = {"bars": 1, "quarter": 14.0}
    pair = [recorded("1.1", **half), recorded("1.2", **half)]
    setting = set_for(*pair)
    (piece,) = exercise_pieces(pair, setting)
    left, right = (mark for mark in piece.marks if isinstance(mark, Code))
    assert left.y == right.y
    assert left.x + side_of(left) == pytest.approx((setting.measure - points(setting.style.spacing.gap)) / 2)
    assert right.x + side_of(right) == pytest.approx(setting.measure)
