from hypothesis import given
from hypothesis import strategies as st

from typeset.pattern.draft import Setting, set_in_time
from typeset.pattern.grid import GRIDS, Grid
from typeset.pattern.meter import COMMON_TIME
from typeset.pattern.order import Order, read_order, write_order
from typeset.pattern.steps.timing import Displace, Fit

orders = st.lists(st.sampled_from(["R", "L", "K", "r", "."]), max_size=20).map(
    lambda s: read_order(" ".join(["R", *s]))
)
grids = st.sampled_from(sorted(GRIDS)).map(Grid.of)


def test_fit_sets_the_order_again() -> None:
    draft = set_in_time(read_order("R L R K L"), COMMON_TIME, Grid.of("8ths"), Setting())
    assert write_order(Fit(1).change(draft).pattern.slots) == "R L R K L R L R"


def test_displace_moves_everything_later() -> None:
    draft = set_in_time(read_order("R . . ."), COMMON_TIME, Grid.of("8ths"), Setting(1))
    assert write_order(Displace(1).change(draft).pattern.slots) == ". R . . . R . ."


@given(orders, grids, st.integers(1, 4))
def test_fit_never_loses_or_invents_a_stroke(order: Order, grid: Grid, bars: int) -> None:
    slots = set_in_time(order, COMMON_TIME, grid, Setting(bars)).pattern.slots
    assert all(slot == order[index % len(order)] for index, slot in enumerate(slots))


@given(orders, grids)
def test_resting_plays_every_stroke_once(order: Order, grid: Grid) -> None:
    draft = set_in_time(order, COMMON_TIME, grid, Setting(by="resting"))
    played = [slot for slot in draft.pattern.slots if slot]
    assert played == [slot for slot in order if slot]


@given(orders, grids, st.integers(-50, 50))
def test_displacing_there_and_back_changes_nothing(order: Order, grid: Grid, by: int) -> None:
    draft = set_in_time(order, COMMON_TIME, grid, Setting(2))
    assert Displace(-by).change(Displace(by).change(draft)) == draft
