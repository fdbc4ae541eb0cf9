"""Dealing the exercises of a term out to its weeks."""

from collections.abc import Sequence
from itertools import groupby, pairwise

from hypothesis import given
from hypothesis import strategies as st

from typeset.compose.book import Exercise
from typeset.compose.plan import Planned, Week, crowded, weeks_of
from typeset.pattern.bar import Pattern
from typeset.pattern.tempo import Tempo

SIXTY_TO_A_HUNDRED = Tempo(60, 100)


def planned(levels: Sequence[int], tempo: Tempo | None = SIXTY_TO_A_HUNDRED, ceiling: int = 120) -> list[Planned]:
    """Exercises of these levels; their music does not matter to a plan."""
    return [
        Planned(
            "rooms",
            Exercise(
                id=f"no-{number}",
                number=f"1.{number}",
                title="",
                instruction=(),
                steps=(),
                pattern=Pattern(()),
                tempo=tempo,
                plays_on=True,
                times=None,
                feel="straight",
                systems=(),
                level=level,
                ceiling=ceiling,
            ),
        )
        for number, level in enumerate(levels, start=1)
    ]


def learnt(weeks: Sequence[Week]) -> list[list[str]]:
    return [[one.exercise.number for one in week.learn.practices] for week in weeks]


def settling(weeks: Sequence[Week]) -> list[list[str]]:
    return [[one.exercise.number for one in week.settle.practices] for week in weeks]


def tempos(weeks: Sequence[Week], number: str) -> list[str]:
    practices = [one for week in weeks for block in (week.learn, week.settle) for one in block.practices]
    return [str(one.tempo) for one in practices if one.exercise.number == number]


def test_each_week_learns_a_share_and_settles_the_one_before_and_the_last_brings_nothing_new() -> None:
    weeks = weeks_of(planned([2, 2, 2, 2]), 3, 20)
    assert learnt(weeks) == [["1.1", "1.2"], ["1.3", "1.4"], []]
    assert settling(weeks) == [[], ["1.1", "1.2"], ["1.3", "1.4"]]


def test_harder_exercises_take_more_of_the_weeks() -> None:
    # Shares are level + 2: four times 3, then 12; the middle of each share falls into its week.
    assert learnt(weeks_of(planned([1, 1, 1, 1, 10]), 3, 20))[:2] == [["1.1", "1.2", "1.3", "1.4"], ["1.5"]]


def test_with_fewer_exercises_than_weeks_each_is_new_for_several() -> None:
    weeks = weeks_of(planned([1, 7]), 5, 20)
    assert learnt(weeks) == [["1.1"], ["1.2"], ["1.2"], ["1.2"], []]
    assert tempos(weeks, "1.2") == ["60-70", "70-80", "80-90", "90-100"]


def test_tempos_follow_the_rungs_of_the_ladder_from_the_start_to_the_goal() -> None:
    assert tempos(weeks_of(planned([3, 3]), 3, 20), "1.1") == ["60-80", "80-100"]


def test_tempos_end_at_the_ceiling_where_the_goal_is_above_it() -> None:
    assert tempos(weeks_of(planned([3, 3], ceiling=80), 3, 20), "1.1")[-1].endswith("-80")
    assert tempos(weeks_of(planned([3, 3], ceiling=50), 3, 20), "1.1") == ["50", "50"]


def test_without_a_tempo_there_is_none_to_aim_at() -> None:
    assert tempos(weeks_of(planned([3, 3], tempo=None), 3, 20), "1.1") == ["None", "None"]


def test_in_a_term_of_one_week_everything_is_new_and_goes_to_its_goal() -> None:
    (week,) = weeks_of(planned([3, 3]), 1, 20)
    assert [str(one.tempo) for one in week.learn.practices] == ["60-100", "60-100"]
    assert week.learn.minutes == 20 and not week.settle.practices


def test_two_thirds_of_a_day_are_for_what_is_new() -> None:
    weeks = weeks_of(planned([2, 2, 2, 2]), 3, 15)
    assert [(week.learn.minutes, week.settle.minutes) for week in weeks] == [(15, 0), (10, 5), (0, 15)]


def test_minutes_follow_the_levels() -> None:
    first = weeks_of(planned([1, 7]), 1, 16)[0]
    assert [one.minutes for one in first.learn.practices] == [5, 11]


def test_where_minutes_are_too_few_exercises_take_turns() -> None:
    weeks = weeks_of(planned([3] * 12), 2, 10)
    assert all(one.minutes is None for one in weeks[0].learn.practices)
    assert [(week, block.minutes) for week, block in crowded(weeks)] == [(1, 10), (2, 7), (2, 3)]


def test_a_term_without_exercises_has_empty_weeks() -> None:
    assert learnt(weeks_of([], 4, 20)) == [[], [], [], []]


@given(st.lists(st.integers(1, 10), min_size=1, max_size=40), st.integers(1, 20), st.integers(5, 90))
def test_everything_is_learnt_in_order_and_no_minute_is_lost(levels: list[int], count: int, minutes: int) -> None:
    exercises = planned(levels)
    weeks = weeks_of(exercises, count, minutes)
    learning = weeks[:-1] if count >= 3 else weeks
    assert all(week.learn.practices for week in learning)
    in_order = [number for week in learnt(weeks) for number in week]
    assert [number for number, _ in groupby(in_order)] == [one.exercise.number for one in exercises]
    for week in weeks:
        if week.learn.practices or week.settle.practices:
            assert week.learn.minutes + week.settle.minutes == minutes
        for block in (week.learn, week.settle):
            if block.practices and not block.in_turn:
                assert sum(one.minutes or 0 for one in block.practices) == block.minutes


@given(st.lists(st.integers(1, 10), min_size=1, max_size=30), st.integers(1, 20), st.integers(40, 200))
def test_a_week_begins_at_the_tempo_at_which_the_last_one_ended(levels: list[int], count: int, goal: int) -> None:
    weeks = weeks_of(planned(levels, Tempo(40, goal), 150), count, 30)
    for number in range(1, len(levels) + 1):
        ways = [
            one.tempo
            for week in weeks
            for block in (week.learn, week.settle)
            for one in block.practices
            if one.exercise.number == f"1.{number}" and one.tempo
        ]
        assert ways[0].start == 40 and ways[-1].goal == min(goal, 150)
        assert all(before.goal == after.start for before, after in pairwise(ways))
