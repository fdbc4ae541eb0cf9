"""Steps are read by their declarations, and each value in them has its place."""

from collections.abc import Callable
from dataclasses import fields
from typing import Literal

import pytest
from pydantic_core import SchemaValidator

from typeset.manuscript import Reading, StepLine, parameters_of
from typeset.manuscript.fields import kind_of
from typeset.pattern.counts import Place
from typeset.pattern.limb import Limb
from typeset.pattern.selection import Selection
from typeset.pattern.sound import SOUNDS
from typeset.pattern.steps import STEPS, Step
from typeset.pattern.steps.dynamics import Accent
from typeset.pattern.steps.order import Double, Join, Replace, Reverse, Rotate, Swap
from typeset.pattern.steps.shape import Stop
from typeset.pattern.steps.timing import Fit
from typeset.pattern.steps.voicing import Move, Voice
from typeset.pattern.stroke import Dynamic

Chapter = Callable[[str], Reading]
Said = Callable[[str], list[str]]


def text(step: str) -> str:
    return f"chapter: C\nexercises:\n  - id: b\n    start: R L K\n    steps:\n      - {step}\n"


@pytest.fixture
def line_of(chapter: Chapter) -> Callable[[str], StepLine]:
    """The one step of an exercise; in the file it stands on line 6, its key in column 9."""

    def make(step: str) -> StepLine:
        reading = chapter(text(step))
        assert reading.problems == () and reading.manuscript is not None
        return reading.manuscript.chapters[0].exercises[0].steps[0]

    return make


@pytest.fixture
def said_of(said: Said) -> Said:
    """What is said about the one step of an exercise."""
    return lambda step: said(text(step))


READ = [
    ("rotate: 2", Rotate(2)),
    ("rotate: {by: 2}", Rotate(2)),
    ("reverse: yes", Reverse(True)),
    ("reverse: off", Reverse(False)),
    ("swap: {R: L, L: R}", Swap(((Limb.RIGHT, Limb.LEFT), (Limb.LEFT, Limb.RIGHT)))),
    ("replace: {limb: L, with: K, every: 2}", Replace(Selection(limb=(Limb.LEFT,), every=2), Limb.KICK)),
    ("double: {limb: [R, K]}", Double(Selection(limb=(Limb.RIGHT, Limb.KICK)))),
    ("double: {strokes: 1, run: 2}", Double(Selection(strokes=(1,), run=2))),
    ("fit: 2", Fit(2)),
    ("fit: {bars: 2, by: restarting, from: 1&}", Fit(2, "restarting", Place(1, "&", None))),
    ("fit: {by: resolving}", Fit(None, "resolving")),
    ("accent: [1, 3&]", Accent(Selection(at=(Place(1, "", None), Place(3, "&", None))))),
    ("accent: 2|3.2", Accent(Selection(at=(Place(3, "", 2, 2),)))),
    ("accent: {all: yes}", Accent(Selection(all=True))),
    ("accent: {at: 3e, where-missing: skip}", Accent(Selection(at=(Place(3, "e", None),), where_missing="skip"))),
    (
        "accent: {sound: ride-bell, dynamic: [plain, ghost], in-bars: [1, 3]}",
        Accent(
            Selection(
                sound=(SOUNDS["ride-bell"],), dynamic=(Dynamic.PLAIN, Dynamic.GHOST), in_bars=(1, 3)
            )
        ),
    ),
    ("voice: {R: hi-hat, K: kick}", Voice(((Limb.RIGHT, SOUNDS["hi-hat"]), (Limb.KICK, SOUNDS["kick"])))),
    ("move: {at: 3a, to: high-tom}", Move(Selection(at=(Place(3, "a", None),)), (SOUNDS["high-tom"],))),
    ("stop: 2|4", Stop(Place(4, "", None, 2))),
]  # fmt: skip


@pytest.mark.parametrize(("written", "step"), READ)
def test_a_step_is_read_as_it_is_declared(line_of: Callable[[str], StepLine], written: str, step: Step) -> None:
    assert line_of(written).step == step


def test_one_step_may_stand_alone_for_a_list(chapter: Chapter) -> None:
    reading = chapter("chapter: C\nexercises:\n  - id: b\n    start: R L\n    steps: {rotate: 1}\n")
    assert reading.manuscript is not None
    (line,) = reading.manuscript.chapters[0].exercises[0].steps
    assert line.step == Rotate(1) and (line.mark.line, line.mark.column) == (5, 13)


def test_the_orders_of_a_join_are_names_or_written_out(line_of: Callable[[str], StepLine]) -> None:
    step = line_of("join: [stairs, R L K]").step
    assert isinstance(step, Join) and [source.name for source in step.orders] == ["stairs", "R L K"]


@pytest.mark.parametrize("key", STEPS)
def test_the_example_of_every_step_can_be_written_in_a_book(said_of: Said, key: str) -> None:
    assert said_of(f"{key}: {STEPS[key].example.value}") == []


@pytest.mark.parametrize("key", STEPS)
def test_every_parameter_of_every_step_is_in_the_reference(key: str) -> None:
    listed = {parameter.name for parameter in parameters_of(STEPS[key])}
    for one in fields(STEPS[key]):
        assert one.name.rstrip("_").replace("_", "-") in listed or {"limb", "every"} <= listed


def test_the_reference_says_what_a_parameter_takes() -> None:
    described = {one.name: one for one in parameters_of(Move)}
    assert described["to"].required and described["to"].kind == "sounds"
    assert described["at"].selects and described["at"].alone and not described["at"].required
    assert described["dynamic"].kind == "dynamics (plain, accent, ghost)"


def test_a_step_before_time_offers_no_counts_in_the_reference() -> None:
    assert {"at", "sound", "in-bars"}.isdisjoint(one.name for one in parameters_of(Double))


MISTAKES = [
    ("rotate", "6:9: a step is a key and a value: write rotate: 2"),
    ("turn", "6:9: a step is a key and a value, as in rotate: 2; 'turn' is none"),
    ("[rotate]", "6:9: a step is a key and a value, as in rotate: 2, not a list"),
    ("rotat: 2", "6:9: there is no step 'rotat'; did you mean 'rotate'?"),
    ("rotate: two", "6:17: 'two' is no whole number"),
    ("rotate: 2.5", "6:17: '2.5' is no whole number"),
    ("rotate: {by: 2, bye: 3}", "6:25: there is no key 'bye' here; did you mean 'by'?"),
    ("rotate: -1", "6:17: rotate counts forward: 1 begins at the second stroke, 2 at the third"),
    ("reverse: perhaps", "6:18: 'perhaps' is neither yes nor no"),
    ("swap: {R: L, Q: R}", "6:22: 'Q' is no limb; write R, L, K or H"),
    ("swap: {R: l}", "6:19: 'l' is no limb; did you mean 'L'?"),
    ("swap: [R, L]", "6:15: write pairs in braces: a limb (R, L, K, H) before the colon, a limb (R, L, K, H)"),
    ("voice: {}", "6:16: this is empty; write pairs in braces: a limb (R, L, K, H) before the colon, a"),
    ("voice: {R: hihat}", "6:20: 'hihat' is no sound; did you mean 'hi-hat'?"),
    ("voice: {L: snare, R: kick}", "6:30: R is a hand, and a hand cannot play kick"),
    ("voice: {K: [snare]}", "6:20: a list is no sound; write "),
    ("move: {at: [1, 3x], to: snare}", "6:24: '3x' is no count; write it as"),
    ("move: {at: 1, to: [snare, kick]}", "6:35: R is a hand, and a hand cannot play kick"),
    ("move: {at: 1}", "6:15: the key 'to' is missing here"),
    ("move: {to: snare}", "6:15: this does not say which strokes; choose them by at, limb,"),
    ("accent: []", "6:17: this list is empty; write a value, or take the key out"),
    ("accent: {all: no}", "6:17: this does not say which strokes"),
    ("accent: {every: 0}", "6:25: 0 is too small; this is counted from 1"),
    ("accent: {in-bars: [1, 0]}", "6:31: 0 is too small; this is counted from 1"),
    ("accent: {limb: R, dynamic: loud}", "6:36: 'loud' is no dynamic; write plain, accent or ghost"),
    ("accent: {at: 1, where-missing: pass}", "6:40: 'pass' cannot stand here; write error or skip"),
    ("accent: {atx: 1}", "6:18: there is no key 'atx' here; did you mean 'at'?"),
    ("accent: 0", "6:17: '0' is no count; bars, numbers and slots are counted from 1"),
    ("double: [1, 2]", "6:17: before time there are no counts; choose by limb, every, run or strokes: [1, 3]"),
    ("double: {at: 1}", "6:18: 'at' needs time, and this step comes before it; say limb, every, run or strokes"),
    ("fit: {bars: 2, by: restart}", "6:28: 'restart' cannot stand here; did you mean 'restarting'?"),
    ("fit: {bars: 0}", "6:21: an exercise has 1 to "),
    ("fit: {from: 1x}", "6:21: '1x' is no count"),
    ("stop: [1, 2]", "6:15: a count is expected here, not a list"),
    ("join: [stairs, {a: b}]", "6:24: text is expected here, not a mapping; put it in quotes"),
]  # fmt: skip


@pytest.mark.parametrize(("written", "message"), MISTAKES)
def test_a_mistake_in_a_step_is_reported_at_its_place(said_of: Said, written: str, message: str) -> None:
    (found,) = said_of(written)
    assert found.startswith(message)


def test_two_steps_in_one_entry_are_told_apart(said: Said) -> None:
    assert said(text("accent: [1]\n        ghost: [2]")) == [
        "6:9: a step has one key, and here are 2: accent, ghost; "
        "begin each step with its own -, and indent further what belongs to it"
    ]


def test_a_parameter_at_the_depth_of_its_step_is_one_mistake(said: Said) -> None:
    assert said(text("fit:\n        bars: 2")) == [
        "6:9: the key 'fit' has no value; give it one, or take the key out"
    ]


def test_all_mistakes_of_one_exercise_come_together(said: Said) -> None:
    found = said(text("acent: 1\n      - fit: {bars: no, by: cutting}\n      - stop: 5x\n    times: 0"))
    assert [line.split(": ")[0] for line in found] == ["6:9", "7:21", "7:29", "8:15", "9:12"]


PLACES = [
    ("accent: [1, 3&]", "at", 1, 21),
    ("accent: {at: [1, 3&]}", "at", 1, 26),
    ("accent: {at: 3&}", "at", 0, 22),
    ("accent: 3&", "at", 0, 17),
    ("move: {at: 1, to: [snare, crash], in-bars: [1]}", "in-bars", 0, 53),
    ("move: {at: 1, to: snare, in-bars: [1]}", "in_bars", 0, 44),
    ("move: {at: 1, to: [snare, crash]}", "to", 1, 35),
    ("fit: {bars: 2, from: 1&}", "from_", None, 30),
    ("fit: {bars: 2, from: 1&}", "from", None, 30),
    ("fit: 2", "bars", None, 14),
    ("voice: {L: snare, K: kick}", "sounds", "K", 30),
    ("replace: {limb: L, with: K}", "with_", None, 34),
    ("accent: [1]", "limb", None, 17),
    ("accent: [1]", None, None, 9),
]  # fmt: skip


@pytest.mark.parametrize(("written", "key", "index", "column"), PLACES)
def test_a_step_knows_the_place_of_each_value(
    line_of: Callable[[str], StepLine], written: str, key: str | None, index: int | str | None, column: int
) -> None:
    mark = line_of(written).mark_of(key, index)
    assert (mark.line, mark.column) == (6, column)


def test_a_union_takes_the_first_kind_that_fits() -> None:
    kind = kind_of(Literal["beats", "8ths"] | tuple[Place, ...])
    reader = SchemaValidator(kind.core)
    assert reader.validate_python("beats") == "beats"
    assert reader.validate_python("2&") == (Place(2, "&", None),)


def test_a_type_that_no_reader_is_known_for_is_a_programming_error() -> None:
    with pytest.raises(TypeError, match="nobody knows how to read"):
        kind_of(complex)
