"""What holds for every step, whatever it does."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from typeset.pattern.counts import Place
from typeset.pattern.draft import Draft, Setting, set_in_time
from typeset.pattern.grid import Grid
from typeset.pattern.limb import Limb
from typeset.pattern.meter import Meter
from typeset.pattern.order import Order, read_order
from typeset.pattern.selection import Selection
from typeset.pattern.sound import SOUNDS
from typeset.pattern.steps import STEPS, DraftStep, Passage, Phase
from typeset.pattern.steps.dynamics import Accent, Ghost, Plain
from typeset.pattern.steps.layering import Ornamented
from typeset.pattern.steps.shape import Omit, Splice, Stop, Thin
from typeset.pattern.steps.timing import Displace
from typeset.pattern.steps.voicing import Move, Spread, Voice

FIRST = Selection(strokes=(1,))
ONE = Place.parse("1")
DRUMS = (SOUNDS["snare"], SOUNDS["high-tom"], SOUNDS["floor-tom"])

IN_THEIR_BARS: list[DraftStep] = [
    Accent(FIRST),
    Ghost(FIRST),
    Plain(FIRST),
    Voice(((Limb.RIGHT, SOUNDS["ride"]),)),
    Move(FIRST, DRUMS),
    Spread(DRUMS),
    Ornamented(FIRST, "diddle"),
    Thin(FIRST),
    Omit(Selection(limb=(Limb.KICK,))),
    Stop(Place(1, "", None, 1)),
    Splice(ONE, Passage("roll", read_order("R R L L"))),
    Displace(3),
]
"""Steps that change what stands in the bars, and leave the bars."""

orders = st.lists(st.sampled_from(["R", "L", "K", "r", "."]), max_size=12).map(
    lambda letters: read_order(" ".join(["R", "K", *letters]))
)
meters = st.sampled_from(["2/4", "4/4", "5/4", "6/8", "7/8"]).map(Meter.parse)


def draft(order: Order, meter: Meter) -> Draft:
    return set_in_time(order, meter, Grid.of("16ths"), Setting(2))


@pytest.mark.parametrize("step", IN_THEIR_BARS, ids=lambda step: step.key)
@given(order=orders, meter=meters)
def test_the_bars_keep_their_length_and_their_slots(step: DraftStep, order: Order, meter: Meter) -> None:
    before = draft(order, meter)
    after = step.change(before)
    assert after.pattern.length == before.pattern.length
    assert after.pattern.onsets == before.pattern.onsets
    assert len(after.origins) == len(after.pattern.slots)


@pytest.mark.parametrize("step", IN_THEIR_BARS, ids=lambda step: step.key)
@given(order=orders)
def test_a_step_changes_nothing_but_what_it_gives_back(step: DraftStep, order: Order) -> None:
    before = draft(order, Meter.parse("4/4"))
    same = draft(order, Meter.parse("4/4"))
    step.change(before)
    assert before == same
    assert step.change(before) == step.change(before)


def test_the_steps_in_a_bar_s_own_time_are_all_here() -> None:
    elsewhere = {"fit", "regrid", "remeter", "layer", "answer", "land", "travel", "swell"}
    later = {key for key, step in STEPS.items() if step.phase is not Phase.ORDER}
    assert {step.key for step in IN_THEIR_BARS} == later - elsewhere
