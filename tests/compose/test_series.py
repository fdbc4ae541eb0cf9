from __future__ import annotations

from collections.abc import Callable

import pytest

from typeset.compose import Composition
from typeset.pattern.order import write_order
from typeset.problem import Weight

Compose = Callable[[str], Composition]

HEAD = "chapter: Series\nsequences: {stairs: R L R K L}\nset: {meter: 2/4, grid: 8ths}\nexercises:\n"


def ids(composition: Composition) -> list[str]:
    assert not composition.problems
    return [exercise.id for exercise in composition.book.exercises]


def lines(composition: Composition) -> list[str]:
    assert not composition.problems
    return [" | ".join(write_order(bar.slots) for bar in one.pattern.bars) for one in composition.book.exercises]


def titles(composition: Composition) -> list[str]:
    return [exercise.title for exercise in composition.book.exercises]


def test_two_keys_make_every_pair_the_first_varying_slowest(composed: Compose) -> None:
    made = composed(
        HEAD + "  - series: turned\n"
        "    title: '{rotate}: {grid}'\n"
        "    start: stairs\n"
        "    each: {rotate: all, grid: [8ths, triplets, 16ths]}\n"
    )
    assert len(made.book.exercises) == 5 * 3
    assert titles(made)[:4] == ["1: in eighths", "1: in triplets", "1: in sixteenths", "2: in eighths"]


def test_a_title_counts_strokes_and_not_silent_slots(composed: Compose) -> None:
    made = composed(
        HEAD + "  - series: turned\n"
        "    title: From stroke {rotate}\n"
        "    start: R . . L K\n"
        "    each: {rotate: all}\n"
        "  - {series: said, title: '{what}', start: R . L, each: {rotate: [1]}}\n"
    )
    assert titles(made) == [
        "From stroke 1",
        "From stroke 2, two places earlier",
        "From stroke 2, one place earlier",
        "From stroke 2",
        "From stroke 3",
        "From stroke 2, one place earlier",
    ]


def test_a_title_counts_the_strokes_of_what_the_series_starts_from(composed: Compose) -> None:
    made = composed(
        HEAD + "  - {id: turned, start: R . L K, steps: [{rotate: 2}]}\n"
        "  - {series: again, title: '{rotate}', start: turned, each: {rotate: [1, 2, 3]}}\n"
    )
    # The parent is L K R ., so the slot after its third stroke is the silent one before its first.
    assert titles(made)[1:] == ["2", "3", "1, one place earlier"]


def test_members_are_numbered_as_they_are_made_whatever_is_kept(composed: Compose) -> None:
    made = composed(
        HEAD + "  - series: turned\n"
        "    start: K R L\n"
        "    each: {rotate: all, grid: [16ths, quarters]}\n"
        "    keep: {distinct: rotation}\n"
        "    order: easiest-first\n"
    )
    assert ids(made) == ["turned/2", "turned/1"]


def test_distinct_keeps_the_first_of_each(composed: Compose) -> None:
    made = composed(
        HEAD + "  - series: turned\n    start: R L R L\n    each: {rotate: all}\n    keep: {distinct: order}\n"
    )
    assert ids(made) == ["turned/1", "turned/2"]


def test_distinct_up_to_several_likenesses(composed: Compose) -> None:
    made = composed(
        HEAD + "  - series: turned\n"
        "    start: R L R L\n"
        "    each: {rotate: all}\n"
        "    keep: {distinct: [rotation, hand-swap]}\n"
    )
    assert ids(made) == ["turned/1"]


def test_a_limit_stops_the_making(composed: Compose) -> None:
    made = composed(
        HEAD
        + "  - series: all\n    each: {orders: {length: 16, limbs: [R, L, K], longest-run: 2}}\n    limit: 12\n"
    )
    assert ids(made) == [f"all/{number}" for number in range(1, 13)]


def test_orders_that_obey_come_in_the_order_of_the_limbs(composed: Compose) -> None:
    made = composed(HEAD + "  - series: all\n    each: {orders: {length: 3, limbs: [R, K], longest-run: 2}}\n")
    assert [line[:5] for line in lines(made)] == ["R R K", "R K R", "R K K", "K R R", "K R K", "K K R"]


def test_easiest_first_puts_the_levels_in_order(composed: Compose) -> None:
    made = composed(
        HEAD + "  - series: turned\n"
        "    start: stairs\n"
        "    each: {grid: [16ths, quarters, 8ths]}\n"
        "    order: easiest-first\n"
    )
    levels = [exercise.level for exercise in made.book.exercises]
    assert levels == sorted(levels)
    assert ids(made)[-1] == "turned/1"


def test_what_cannot_be_played_that_fast_is_not_kept(composed: Compose) -> None:
    made = composed(
        HEAD + "  - series: turned\n    start: R\n    each: {grid: [quarters, 32nds]}\n    keep: {at-least: 100}\n"
    )
    assert ids(made) == ["turned/1"]


def test_every_choice_of_accents(composed: Compose) -> None:
    made = composed(
        HEAD + "  - series: accents\n    start: R L R K\n    each: {accents: {choose: 2, among: {limb: [R, L]}}}\n"
    )
    assert lines(made) == ["R! L! R K", "R! L R! K", "R L! R! K"]
    assert titles(made)[0] == "Accents on 1 and 1&"


def test_voices_and_displacements_come_last(composed: Compose) -> None:
    made = composed(
        HEAD + "  - series: late\n"
        "    start: R L . .\n"
        "    each: {displace: [0, 1], voice: [{R: ride}, {R: hi-hat}]}\n"
        "    steps: [{accent: 1}]\n"
    )
    assert lines(made) == ["R! L . .", "R! L . .", ". R! L .", ". R! L ."]


def test_an_exercise_starts_from_a_member(composed: Compose) -> None:
    made = composed(
        HEAD + "  - series: turned\n"
        "    start: stairs\n"
        "    each: {rotate: all}\n"
        "    limit: 1\n"
        "  - {id: child, start: turned/3}\n"
    )
    assert lines(made)[-1].startswith("R K L R")


def test_a_choice_of_nothing_is_a_warning_in_a_series(composed: Compose) -> None:
    made = composed(
        HEAD + "  - series: some\n"
        "    each: {orders: {length: 2, limbs: [R, K]}}\n"
        "    steps: [{accent: {limb: K}}]\n"
    )
    (problem,) = made.problems
    assert problem.weight is Weight.WARNING
    assert len(made.book.exercises) == 4


@pytest.mark.parametrize(
    ("rest", "part"),
    [
        ("limit: 3\n    order: easiest-first", "59,049 exercises to put in order, and 20,000 is the most"),
        ("", "59,049 exercises, and 1,000 is the most"),
    ],
)
def test_too_many_are_refused_with_their_number(composed: Compose, rest: str, part: str) -> None:
    made = composed(HEAD + f"  - series: all\n    each: {{orders: {{length: 10, limbs: [R, L, K]}}}}\n    {rest}\n")
    (problem,) = made.problems
    assert part in problem.what
    assert problem.mark.line == 6


def test_a_step_on_the_order_that_finds_nothing_leaves_a_member_as_it_was(composed: Compose) -> None:
    made = composed(
        HEAD + "  - series: turned\n"
        "    start: R L K\n"
        "    each: {rotate: all}\n"
        "    steps: [replace: {limb: L, with: K}, replace: {limb: L, with: K}]\n"
    )
    assert len(made.book.exercises) == 3
    assert {problem.weight for problem in made.problems} == {Weight.WARNING}
