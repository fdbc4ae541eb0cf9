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
