from hypothesis import given
from hypothesis import strategies as st

from typeset.pattern.likeness import first_of_each, key_of, least_rotation
from typeset.pattern.mirror import mirrored
from typeset.pattern.order import Order, read_order, write_order

orders = st.lists(st.sampled_from(["R", "L", "K", "r", "R+K", "."]), max_size=9).map(
    lambda letters: read_order(" ".join(["R", *letters]))
)


@given(st.lists(st.sampled_from("abc"), min_size=1, max_size=12).map(tuple))
def test_the_least_rotation_is_the_least_of_all_rotations(key: tuple[str, ...]) -> None:
    assert least_rotation(key) == min(key[turn:] + key[:turn] for turn in range(len(key)))


@given(orders, st.integers(0, 20))
def test_rotations_are_alike(order: Order, turn: int) -> None:
    turn %= len(order)
    assert key_of(order[turn:] + order[:turn], ["rotation"]) == key_of(order, ["rotation"])


@given(orders)
def test_an_order_is_like_its_reversal_and_its_mirror(order: Order) -> None:
    assert key_of(order[::-1], ["reversal"]) == key_of(order, ["reversal"])
    assert key_of(mirrored(order), ["hand-swap"]) == key_of(order, ["hand-swap"])


def test_identical_means_dynamics_too() -> None:
    assert key_of(read_order("R l"), ["order"]) != key_of(read_order("R L"), ["order"])


def test_the_first_of_each_kind_is_kept() -> None:
    made = [read_order(text) for text in ("R L R", "L R R", "R R K", "K R R")]
    kept = first_of_each(made, lambda order: key_of(order, ["rotation"]))
    assert [write_order(order) for order in kept] == ["R L R", "R R K"]
