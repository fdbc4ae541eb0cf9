from __future__ import annotations

from collections.abc import Callable

from typeset.compose import Composition
from typeset.problem import Weight

Compose = Callable[[str], Composition]

HEAD = "chapter: Advice\nexercises:\n"
EASY = "  - {id: easy, start: R L, grid: quarters}\n"
HARD = "  - {id: hard, start: R+K! l R L!+H k R+H L!, grid: 16ths, meter: 5/4}\n"


def warnings(composition: Composition) -> list[str]:
    assert all(problem.weight is Weight.WARNING for problem in composition.problems)
    return [problem.what for problem in composition.problems]


def test_a_goal_above_the_ceiling_is_a_warning(composed: Compose) -> None:
    (what,) = warnings(composed(HEAD + "  - {id: fast, start: R R R R, tempo: 60-200}\n"))
    assert what.startswith("'fast' aims at 200, and can be played up to ")


def test_a_level_that_jumps_is_a_warning(composed: Compose) -> None:
    assert any("'hard' jumps up to level" in what for what in warnings(composed(HEAD + EASY + HARD)))


def test_a_level_that_falls_is_a_warning(composed: Compose) -> None:
    assert any("'easy' goes back to level 1" in what for what in warnings(composed(HEAD + HARD + EASY)))


def test_levels_are_compared_where_nothing_between_them_was_left_out(composed: Compose) -> None:
    broken = "  - {id: broken, start: nothing}\n"
    problems = composed(HEAD + EASY + broken + HARD).problems
    assert [one.what.partition(";")[0] for one in problems] == ["there is no sequence or exercise 'nothing'"]


def test_a_series_that_keeps_none_of_its_members_stands_between_nothing(composed: Compose) -> None:
    none = "  - {series: none, start: R L, each: {rotate: all}, keep: {at-least: 400}}\n"
    assert any("'hard' jumps up to level" in what for what in warnings(composed(HEAD + EASY + none + HARD)))


def test_a_collision_is_told_once_with_the_number_of_further_places(composed: Compose) -> None:
    made = composed(HEAD + "  - id: three\n    start: R+L K\n    steps: [{voice: {R: splash, L: splash}}]\n")
    assert [problem.weight for problem in made.problems] == [Weight.WARNING]
    assert made.problems[0].what.endswith("two sticks have no room there, and in 7 more places")
