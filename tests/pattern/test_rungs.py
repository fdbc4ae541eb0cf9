"""The rungs of a tempo ladder."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from typeset.pattern.rungs import rungs


@pytest.mark.parametrize(
    ("start", "goal", "way"),
    [
        (60, 100, (60, 70, 80, 90, 100)),
        (120, 208, (120, 140, 160, 180, 200, 208)),
        (44, 80, (44, 50, 60, 70, 80)),
        (46, 72, (46, 50, 55, 60, 65, 72)),
        (60, 64, (60, 62, 64)),
        (80, 80, ()),
        (80, 70, ()),
    ],
)
def test_steps_are_round(start: int, goal: int, way: tuple[int, ...]) -> None:
    assert rungs(start, goal) == way


def test_like_ranges_are_climbed_alike() -> None:
    assert rungs(50, 84) == (50, 60, 70, 80, 84)
    assert rungs(50, 90) == (50, 60, 70, 80, 90)
    assert rungs(54, 90) == (54, 60, 70, 80, 90)


@given(st.integers(20, 200), st.integers(1, 300))
def test_a_ladder_begins_at_the_start_ends_at_the_goal_and_climbs_evenly(start: int, climb: int) -> None:
    way = rungs(start, start + climb)
    assert (way[0], way[-1]) == (start, start + climb)
    assert len(way) <= 7 and (len(way) >= 4 or climb < 12)
    inner = way[1:-1]
    steps = {above - below for below, above in pairwise(inner)}
    assert len(steps) <= 1 and all(rung % step == 0 for step in steps for rung in inner)
    assert climb < 8 or way[-1] - way[-2] >= min(4, *steps, 4)
