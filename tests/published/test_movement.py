"""Movement times, against Fitts's reciprocal tapping.

P. M. Fitts, "The information capacity of the human motor system in controlling the amplitude of movement",
*Journal of Experimental Psychology* 47 (1954), pages 381 to 391, table 1: sixteen conditions, four widths by
four distances in inches, with an index of difficulty of log2(2A/W) bits, and the mean time in seconds from
tap to tap with the stylus of one ounce. The table is written from memory.
"""

from itertools import combinations
from statistics import correlation, linear_regression, mean

import pytest

from typeset.judge.fitts import index_of_difficulty
from typeset.manuscript.figures import standard_figures

# (width, distance): (bits, seconds)
TAPPING = {
    (0.25, 2): (4, 0.392),
    (0.25, 4): (5, 0.484),
    (0.25, 8): (6, 0.580),
    (0.25, 16): (7, 0.731),
    (0.5, 2): (3, 0.281),
    (0.5, 4): (4, 0.372),
    (0.5, 8): (5, 0.469),
    (0.5, 16): (6, 0.595),
    (1, 2): (2, 0.212),
    (1, 4): (3, 0.260),
    (1, 8): (4, 0.357),
    (1, 16): (5, 0.481),
    (2, 2): (1, 0.180),
    (2, 4): (2, 0.203),
    (2, 8): (3, 0.279),
    (2, 16): (4, 0.388),
}


@pytest.mark.parametrize("condition", TAPPING)
def test_his_conditions_have_his_indices_of_difficulty(condition) -> None:
    width, distance = condition
    assert index_of_difficulty(distance, width) == TAPPING[condition][0]


def test_his_times_lie_on_a_straight_line_over_our_index() -> None:
    """The line that is usually quoted for the table: 12.8 ms and 94.7 ms a bit, r = 0.98 (from memory)."""
    bits = [index_of_difficulty(distance, width) for width, distance in TAPPING]
    times = [seconds for _, seconds in TAPPING.values()]
    slope, start = linear_regression(bits, times)
    assert slope == pytest.approx(0.0947, abs=0.0005)
    assert start == pytest.approx(0.0128, abs=0.0005)
    assert correlation(bits, times) > 0.98


def test_a_harder_condition_took_longer_on_average() -> None:
    at = {bits: mean(time for index, time in TAPPING.values() if index == bits) for bits in range(1, 8)}
    assert all(at[low] < at[high] for low, high in combinations(at, 2))


def test_what_a_move_adds_is_less_than_his_movement_from_rest_to_rest() -> None:
    """A stick travels while it is lifted, so a move adds to a stroke only part of his time."""
    bits = [index_of_difficulty(distance, width) for width, distance in TAPPING]
    slope, _ = linear_regression(bits, [seconds for _, seconds in TAPPING.values()])
    for player in standard_figures().players.values():
        assert 0 < player.bit < slope * 1_000_000
