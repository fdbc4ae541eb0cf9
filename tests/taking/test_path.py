"""The shortest way, held to trying every way there is."""

from __future__ import annotations

from itertools import product
from random import Random

import pytest

from typeset.taking.path import Moments, other_ways, shortest


def made(seed: int, size: int = 7) -> Moments[tuple[int, int]]:
    """Moments with two choices each, whose costs depend on the two choices before."""
    random = Random(seed)
    costs = {
        (number, choice, before): random.randrange(20)
        for number in range(size)
        for choice in (0, 1)
        for before in product((-1, 0, 1), repeat=2)
    }

    def step(number: int, choice: int, state: tuple[int, int]) -> tuple[int, tuple[int, int]]:
        return costs[number, choice, state], (state[1], choice)

    return Moments([(0, 1)] * size, step, lambda state: state)


START = (-1, -1)


def cost(moments: Moments[tuple[int, int]], choices: tuple[int, ...], start: tuple[int, int]) -> int:
    total, state = 0, start
    for number, choice in enumerate(choices):
        paid, state = moments.step(number, choice, state)
        total += paid
    return total


def every_way(moments: Moments[tuple[int, int]]) -> list[tuple[int, ...]]:
    return list(product(*moments.choices))


@pytest.mark.parametrize("seed", range(12))
def test_no_way_costs_less(seed: int) -> None:
    moments = made(seed)
    way = shortest(moments, START, loops=False)
    assert way.cost == cost(moments, way.choices, START)
    assert way.cost == min(cost(moments, choices, START) for choices in every_way(moments))


@pytest.mark.parametrize("seed", range(12))
def test_no_way_round_a_loop_costs_less(seed: int) -> None:
    moments = made(seed)
    way = shortest(moments, START, loops=True)
    # Round a loop the two choices before the first are the last two.
    assert way.cost == cost(moments, way.choices, way.choices[-2:])
    assert way.cost == min(cost(moments, choices, choices[-2:]) for choices in every_way(moments))


@pytest.mark.parametrize("seed", range(6))
def test_what_every_other_choice_costs_is_the_least_it_can(seed: int) -> None:
    moments = made(seed)
    way = shortest(moments, START, loops=False)
    for number, costs in enumerate(other_ways(moments, way, loops=False)):
        for choice, least in costs.items():
            ways = [choices for choices in every_way(moments) if choices[number] == choice]
            assert least == min(cost(moments, choices, START) for choices in ways)


def test_of_equal_ways_the_first_choices_are_taken() -> None:
    free = Moments([(0, 1)] * 4, lambda number, choice, state: (0, state), lambda state: state)
    assert shortest(free, START, loops=True).choices == (0, 0, 0, 0)
