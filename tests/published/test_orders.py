"""The number of orders, against counts that this project did not write.

Up to rotation, reversal and the swap of hands by Burnside's lemma and the necklace and bracelet formulas
(Pólya; from memory), with sympy's necklace generator as an independent witness; orders without long runs
against brute force and a transfer matrix written here.
"""

from __future__ import annotations

from itertools import product
from math import gcd

import pytest
import sympy
from sympy.utilities.iterables import bracelets, necklaces

from typeset.pattern.limb import Limb
from typeset.pattern.orders import count_orders, make_orders

LIMBS = tuple(Limb)
# Sizes 1 to 10 where brute force is quick.
SIZES = [(length, limbs) for limbs, most in ((2, 10), (3, 8), (4, 6)) for length in range(1, most + 1)]


def number_made(length: int, limbs: int, *distinct: str, longest: int | None = None) -> int:
    return sum(1 for _ in make_orders(length, LIMBS[:limbs], longest, distinct))  # type: ignore[arg-type]


def necklace_formula(length: int, beads: int) -> int:
    return sum(beads ** gcd(length, turn) for turn in range(length)) // length


def burnside_with_hand_swap(length: int, limbs: int) -> int:
    """Orders up to rotation and the swap of R and L: the mean of those that each symmetry leaves alone."""
    fixed = 0
    for turn in range(length):
        cycles = gcd(length, turn)
        size = length // cycles
        fixed += limbs**cycles
        # With the hands swapped a cycle of odd length can hold feet alone.
        fixed += (limbs if size % 2 == 0 else limbs - 2) ** cycles
    return fixed // (2 * length)


@pytest.mark.parametrize(("length", "limbs"), SIZES)
def test_up_to_rotation_there_are_as_many_as_necklaces(length: int, limbs: int) -> None:
    made = number_made(length, limbs, "rotation")
    assert made == necklace_formula(length, limbs)
    assert made == sum(1 for _ in necklaces(length, limbs))


@pytest.mark.parametrize(("length", "limbs"), SIZES)
def test_up_to_rotation_and_reversal_there_are_as_many_as_bracelets(length: int, limbs: int) -> None:
    assert number_made(length, limbs, "rotation", "reversal") == sum(1 for _ in bracelets(length, limbs))


@pytest.mark.parametrize(("length", "limbs"), SIZES)
def test_up_to_rotation_and_hand_swap_there_are_as_many_as_burnside_says(length: int, limbs: int) -> None:
    assert number_made(length, limbs, "rotation", "hand-swap") == burnside_with_hand_swap(length, limbs)


@pytest.mark.parametrize(("length", "limbs"), [size for size in SIZES if size[0] < 8])
def test_orders_without_long_runs_are_those_that_brute_force_finds(length: int, limbs: int) -> None:
    for longest in range(1, length + 1):
        words = product(range(limbs), repeat=length)
        found = sum(1 for word in words if longest_run_round(word) <= longest)
        assert number_made(length, limbs, longest=longest) == found
        assert count_orders(length, limbs, longest) == found


def longest_run_round(word: tuple[int, ...]) -> int:
    longest = run = 1
    for before, after in zip(word * 2, (word * 2)[1:], strict=False):
        run = run + 1 if before == after else 1
        longest = max(longest, run)
    return min(longest, len(word))


@pytest.mark.parametrize("limbs", [2, 3, 4])
@pytest.mark.parametrize("length", range(3, 11))
@pytest.mark.parametrize("longest", [1, 2])
def test_the_count_is_the_trace_of_the_transfer_matrix(length: int, limbs: int, longest: int) -> None:
    # A state is a limb and how long its run is; a closed walk of `length` steps is an order that goes round.
    states = [(limb, run) for limb in range(limbs) for run in range(1, longest + 1)]
    matrix = sympy.Matrix(
        [[int(to == (limb, run + 1) or (to[0] != limb and to[1] == 1)) for to in states] for limb, run in states]
    )
    assert count_orders(length, limbs, longest) == (matrix**length).trace()
