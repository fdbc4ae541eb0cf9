"""How fast and how often an exercise is played."""

from __future__ import annotations

from dataclasses import replace

from tests.notation.made import bar
from tests.sound.made import exercise
from typeset.sound.performance import AS_WRITTEN, Performance, tempos_of, times_of

BAR = bar("4/4", "16ths", "s")


def test_it_is_played_at_its_start() -> None:
    assert tempos_of(exercise(BAR, tempo="60-100"), AS_WRITTEN) == (60,)


def test_a_ladder_always_ends_on_the_goal() -> None:
    assert tempos_of(exercise(BAR, tempo="60-95"), Performance(ladder=10)) == (60, 70, 80, 90, 95)


def test_a_ladder_climbs_from_the_tempo_asked_for() -> None:
    assert tempos_of(exercise(BAR, tempo="60-100"), Performance(tempo=80, ladder=10)) == (80, 90, 100)


def test_without_a_faster_goal_a_ladder_has_one_rung() -> None:
    assert tempos_of(exercise(BAR, tempo="72"), Performance(ladder=5)) == (72,)


def test_an_exercise_without_a_tempo_is_played_no_faster_than_it_can_be() -> None:
    assert tempos_of(exercise(BAR, tempo=None), AS_WRITTEN) == (80,)
    assert tempos_of(replace(exercise(BAR, tempo=None), ceiling=64), AS_WRITTEN) == (64,)


def test_a_loop_goes_round_for_eight_bars_at_least_and_twice_at_least() -> None:
    assert times_of(exercise(BAR), AS_WRITTEN) == 8
    assert times_of(exercise(*[BAR] * 3), AS_WRITTEN) == 3
    assert times_of(exercise(*[BAR] * 9), AS_WRITTEN) == 2


def test_what_the_exercise_says_counts_unless_more_is_asked_for() -> None:
    assert times_of(exercise(BAR, times=4), AS_WRITTEN) == 4
    assert times_of(exercise(BAR, times=4), Performance(times=6)) == 6


def test_what_ends_is_played_once() -> None:
    assert times_of(exercise(BAR, loops=False), AS_WRITTEN) == 1
