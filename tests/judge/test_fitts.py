import pytest

from typeset.judge.fitts import index_of_difficulty


def test_a_target_as_far_as_it_is_wide_is_one_bit() -> None:
    assert index_of_difficulty(20, 20) == 1


def test_twice_the_distance_is_one_bit_more() -> None:
    assert index_of_difficulty(80, 20) == index_of_difficulty(40, 20) + 1


def test_a_stick_that_hangs_over_its_target_has_no_way_to_go() -> None:
    assert index_of_difficulty(0, 20) == 0
    assert index_of_difficulty(9, 20) == 0


def test_a_target_without_width_is_refused() -> None:
    with pytest.raises(ValueError, match="cannot be hit"):
        index_of_difficulty(10, 0)
