"""Steps and orders as they are written, each read back as what it was."""

from __future__ import annotations

from pathlib import Path

import pytest

from typeset.manuscript.parse import parse
from typeset.manuscript.steps import read_parameters
from typeset.pattern.counts import Place
from typeset.pattern.grid import Grid
from typeset.pattern.limb import Limb
from typeset.pattern.order import read_order
from typeset.pattern.selection import Selection
from typeset.pattern.sound import SOUNDS
from typeset.pattern.steps import STEPS, Passage, Step
from typeset.pattern.steps.dynamics import Accent, Ghost
from typeset.pattern.steps.layering import Ornamented
from typeset.pattern.steps.order import Rotate
from typeset.pattern.steps.shape import Splice, Stop
from typeset.pattern.steps.timing import Fit
from typeset.pattern.steps.voicing import Move, Voice
from typeset.pattern.stroke import Dynamic
from typeset.taking.chapter import quoted
from typeset.taking.names import Names
from typeset.taking.sequences import Sequences
from typeset.taking.writing import folded, order_lines, step_text


def at(*places: str) -> tuple[Place, ...]:
    return tuple(map(Place.parse, places))


STEPS_AND_TEXTS: list[tuple[Step, str]] = [
    (Fit(2, "exactly"), "fit: {bars: 2, by: exactly}"),
    (Fit(1, "resting", Place.parse("3&")), "fit: {bars: 1, by: resting, from: 3&}"),
    (Rotate(2), "rotate: 2"),
    (Stop(Place.parse("2|4")), "stop: 2|4"),
    (Accent(Selection(at("2", "4"))), "accent: [2, 4]"),
    (Accent(Selection(at("2"))), "accent: 2"),
    (Accent(Selection(strokes=(5,))), "accent: {strokes: 5}"),
    (Accent(Selection(all=True)), "accent: {all: yes}"),
    (Ghost(Selection(limb=(Limb.LEFT,), dynamic=(Dynamic.PLAIN,))), "ghost: {limb: L, dynamic: plain}"),
    (Ghost(Selection(in_bars=(1, 3), sound=(SOUNDS["snare"],))), "ghost: {sound: snare, in-bars: [1, 3]}"),
    (Voice(((Limb.RIGHT, SOUNDS["hi-hat"]),)), "voice: {R: hi-hat}"),
    (Move(Selection(at("3.2")), (SOUNDS["crash"],)), "move: {at: 3.2, to: crash}"),
    (Ornamented(Selection(limb=(Limb.RIGHT,)), "flam"), "ornament: {limb: R, as: flam}"),
    (
        Splice(Place.parse("4|1"), Passage("R L L"), Grid.of("8ths", "triplets")),
        "splice: {from: 4|1, use: R L L, grid: [8ths, triplets]}",
    ),
]


@pytest.mark.parametrize(("step", "text"), STEPS_AND_TEXTS)
def test_a_step_is_written_as_it_is_read(step: Step, text: str) -> None:
    assert step_text(step) == text
    read = parse(text, Path("made.yaml"), frozenset())
    assert read.root is not None
    ((key, value),) = read.root.items()
    assert read_parameters(STEPS[key], value) == step


def test_a_long_list_goes_on_below() -> None:
    long = f"accent: [{', '.join(f'{bar}|{count}' for bar in range(1, 9) for count in range(1, 5))}]"
    lines = folded(long, "      ").splitlines()
    assert len(lines) == 2
    assert " ".join(line.strip() for line in lines) == long


def test_an_order_has_a_line_for_each_bar_and_says_how_often() -> None:
    order = read_order("(R L L K)x3 R L R L")
    assert order_lines(order, [4, 4, 4, 4]) == ["(R L L K)x3", "R L R L"]
    assert read_order(" ".join(order_lines(order, [4, 4, 4, 4]))) == order


@pytest.mark.parametrize(
    ("title", "text"),
    [
        ("As a groove", "As a groove"),
        ("Paradiddle #3", '"Paradiddle #3"'),
        ("Now: go", '"Now: go"'),
        ("no", '"no"'),
        ('"Quick"', '"\\"Quick\\""'),
        ("- so", '"- so"'),
        ("Höfe", '"Höfe"'),
        ("3.2", '"3.2"'),
    ],
)
def test_titles_are_quoted_where_yaml_would_take_them_for_something_else(title: str, text: str) -> None:
    assert quoted(title) == text
    read = parse(f"title: {text}", Path("made.yaml"), frozenset({"title"}))
    assert (dict(read.root or {}), list(read.problems)) == ({"title": title}, [])


def test_ids_are_made_of_titles_and_each_is_used_once() -> None:
    names = Names()
    assert [names.id_of(title) for title in ("As a groove!", "As a groove", "Über", "?")] == [
        "as-a-groove", "as-a-groove-2", "uber", "exercise",
    ]  # fmt: skip


def test_short_orders_are_called_by_their_letters_and_long_ones_by_their_exercise() -> None:
    names = Names()
    assert names.sequence(read_order("R L K"), "First") == "rlk"
    assert names.sequence(read_order("R+K . L"), "First") == "first-order"


def test_an_order_begun_elsewhere_is_the_same_one_turned() -> None:
    first, turned = read_order("R L R K L"), read_order("R K L R L")
    sequences = Sequences.of([(first, "One"), (turned, "Two")], Names())
    assert list(sequences.names.values()) == ["rlrkl"]
    assert sequences.start(turned) == ("rlrkl", [Rotate(2)])
