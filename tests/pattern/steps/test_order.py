from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from typeset.pattern.limb import Limb
from typeset.pattern.order import Order, read_order, write_order, write_played
from typeset.pattern.selection import Selection
from typeset.pattern.steps import Heard, OrderStep, Source, StepError, bind
from typeset.pattern.steps.order import Double, Join, Lead, Repeat, Replace, Reverse, Rotate, Swap
from typeset.pattern.stroke import Ornament, ornamented
from typeset.wording.sentences import say

R, L, K, H = Limb
HANDS = Swap(((R, L), (L, R)))

orders = st.lists(
    st.sampled_from(["R", "L", "K", "H", "r", "l", "R!", ".", "R+K", "L+H"]), min_size=1, max_size=12
).map(lambda letters: read_order(" ".join(["R", *letters])))


def after(step: OrderStep, order: str) -> str:
    return write_order(step.change(read_order(order)))


def test_rotate_begins_so_many_strokes_later() -> None:
    assert after(Rotate(2), "R L R K L") == "R K L R L"


def test_swap_changes_limbs_and_keeps_dynamics() -> None:
    assert after(HANDS, "R! l K") == "L! r K"


def test_a_swapped_stroke_plays_what_its_new_limb_plays() -> None:
    (slot,) = Swap(((R, K),)).change(read_order("R"))
    assert slot[0].sound.name == "kick"


def test_swapped_hands_keep_their_ornaments() -> None:
    flams = tuple(ornamented(slot, Ornament.FLAM) for slot in read_order("R! L"))
    assert write_played(HANDS.change(flams)) == "L!(flam) R(flam)"


def test_a_foot_keeps_a_diddle_and_no_other_ornament() -> None:
    flam, diddle = map(ornamented, read_order("R R"), (Ornament.FLAM, Ornament.DIDDLE))
    assert write_played(Swap(((R, K),)).change((flam, diddle))) == "K K(diddle)"


def test_replace_leaves_the_ornaments_of_other_strokes() -> None:
    order = (ornamented(read_order("R")[0], Ornament.DRAG), *read_order("L"))
    assert write_played(Replace(Selection(limb=(L,)), K).change(order)) == "R(drag) K"


def test_swap_without_any_of_its_limbs_is_refused() -> None:
    with pytest.raises(StepError, match="none of these limbs"):
        after(Swap(((H, K),)), "R L")


def test_swap_cannot_give_one_limb_two_strokes_at_once() -> None:
    with pytest.raises(StepError, match="in slot 2 of the order K would play twice"):
        after(Swap(((R, K),)), "L R+K")


def test_replace_gives_chosen_strokes_to_one_limb() -> None:
    assert after(Replace(Selection(limb=(L,), every=2), K), "L R L R L") == "K R L R K"


def test_double_lets_the_order_grow() -> None:
    assert after(Double(Selection(limb=(R,))), "R L R K L") == "R R L R R K L"


def test_only_the_chosen_limb_of_a_slot_is_doubled() -> None:
    assert after(Double(Selection(limb=(K,))), "R+K L") == "R+K K L"


def test_repeat_plays_it_several_times() -> None:
    assert after(Repeat(3), "R L") == "R L R L R L"


def test_an_order_that_grows_without_end_is_refused() -> None:
    with pytest.raises(StepError, match="1024 is the most"):
        after(Repeat(1_000_000_000), "R L")


def test_join_puts_orders_one_after_the_other() -> None:
    orders = {"stairs": read_order("R L"), "gap": read_order(". K")}
    step = bind(Join((Source("stairs"), Source("gap"))), lambda source: Source(source.name, orders[source.name]))
    assert isinstance(step, Join)
    assert after(step, "R") == "R L . K"


def test_lead_turns_the_hands_round_where_the_other_one_leads() -> None:
    assert after(Lead(L), "R L R K L") == "L R L K R"
    assert after(Lead(R), "K R L R") == "K R L R"


def test_a_foot_cannot_lead() -> None:
    with pytest.raises(StepError, match="a hand leads"):
        Lead(K)


@given(orders, st.integers(0, 40), st.integers(0, 40))
def test_rotations_add_up(order: Order, first: int, second: int) -> None:
    assert Rotate(second).change(Rotate(first).change(order)) == Rotate(first + second).change(order)


@given(orders)
def test_a_rotation_by_its_length_comes_back(order: Order) -> None:
    assert Rotate(len(order)).change(order) == order


@pytest.mark.parametrize("change", [Reverse().change, HANDS.change])
@given(order=orders)
def test_reverse_and_the_swap_of_hands_undo_themselves(change: Callable[[Order], Order], order: Order) -> None:
    if any(stroke.limb.is_hand for slot in order for stroke in slot):
        assert change(change(order)) == order


@given(orders)
def test_double_adds_exactly_the_chosen_strokes(order: Order) -> None:
    chosen = Selection(limb=(R,))
    doubled = Double(chosen).change(order)
    assert len(doubled) == len(order) + len(chosen.in_order(order))


@pytest.mark.parametrize(
    ("order", "by", "says"),
    [
        ("R L K", 1, "Begin at the second stroke."),
        ("R . L . K", 2, "Begin at the second stroke."),
        ("R . L . K", 3, "Begin with the silence before the third stroke."),
        ("R L .", 2, "Begin with the silence before the first stroke."),
        ("R L K", 3, "Begin at the first stroke."),
    ],
)
def test_a_rotation_tells_the_reader_strokes_and_not_silent_slots(order: str, by: int, says: str) -> None:
    heard = Heard(read_order(order), frozenset(), 1, None)
    assert say(Rotate(by).sentence_for(heard)) == says
