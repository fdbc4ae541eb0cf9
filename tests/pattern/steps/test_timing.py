from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from typeset.pattern.counts import Place
from typeset.pattern.draft import Setting, SettingError, set_in_time
from typeset.pattern.grid import GRIDS, Grid
from typeset.pattern.limb import Limb
from typeset.pattern.meter import COMMON_TIME, Meter
from typeset.pattern.order import Order, read_order, write_order
from typeset.pattern.selection import Selection
from typeset.pattern.steps import Heard, Passage
from typeset.pattern.steps.dynamics import Accent
from typeset.pattern.steps.layering import LayerStep
from typeset.pattern.steps.shape import Splice
from typeset.pattern.steps.timing import Displace, Fit, Regrid, Remeter
from typeset.wording.sentences import say

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


def test_regrid_sets_the_order_again_in_as_many_bars() -> None:
    draft = set_in_time(read_order("R L R K L"), COMMON_TIME, Grid.of("8ths"), Setting(2))
    again = Regrid(Grid.of("triplets")).change(draft)
    assert len(again.pattern.bars) == 2
    assert write_order(again.pattern.bars[0].slots) == "R L R K L R L R K L R L"


def test_what_is_said_on_strokes_travels_to_the_new_grid() -> None:
    draft = set_in_time(read_order("R L"), COMMON_TIME, Grid.of("quarters"), Setting(1))
    accented = Accent(Selection(strokes=(1,))).change(draft)
    again = Regrid(Grid.of("8ths")).change(accented)
    assert write_order(again.pattern.slots) == "R! L R! L R! L R! L"


def test_layers_are_laid_anew_on_the_new_grid() -> None:
    draft = set_in_time(read_order("R L L"), COMMON_TIME, Grid.of("8ths"), Setting(1))
    layered = LayerStep(limb=Limb.HAT, at="beats").change(draft)
    again = Regrid(Grid.of("triplets")).change(layered)
    assert write_order(again.pattern.slots) == " ".join(["R+H L L"] * 4)


def test_remeter_sets_the_order_again_in_another_meter() -> None:
    draft = set_in_time(read_order("R L R K L"), COMMON_TIME, Grid.of("8ths"), Setting(2))
    again = Remeter(Meter.parse("3/4")).change(draft)
    assert [write_order(bar.slots) for bar in again.pattern.bars] == ["R L R K L R", "L R K L R L"]


def test_what_was_displaced_stays_displaced() -> None:
    draft = Displace(1).change(set_in_time(read_order("R L K ."), COMMON_TIME, Grid.of("8ths"), Setting(1)))
    assert write_order(Regrid(Grid.of("quarters")).change(draft).pattern.slots) == ". R L K"


def test_spliced_music_cannot_be_set_again() -> None:
    draft = set_in_time(read_order("R L"), COMMON_TIME, Grid.of("8ths"), Setting(1))
    spliced = Splice(Place.parse("3"), Passage("roll", read_order("R R"))).change(draft)
    with pytest.raises(SettingError, match="music from elsewhere"):
        Regrid(Grid.of("16ths")).change(spliced)


@pytest.mark.parametrize(
    ("fit", "bars", "passes", "says"),
    [
        (Fit(2, "exactly"), 2, 4, "Repeat the order; it fills two bars exactly."),
        (Fit(2, "exactly"), 2, 1, "Play the order once; it fills two bars exactly."),
        (Fit(None, "resolving"), 5, 1, "Play the order once; it fills five bars exactly."),
        (Fit(1, "trimming"), 1, Fraction(1, 2), "Play as much of the order as fills one bar."),
        (Fit(1, "restarting"), 1, Fraction(16, 5), "Repeat the order to fill one bar."),
        (Fit(2, "restarting"), 2, 6, "Repeat the order to fill two bars, beginning again at each bar."),
        (Fit(1, "resting"), 1, 1, "Play the order once in one bar, then rest."),
    ],
)
def test_a_fit_speaks_of_repeating_only_where_something_is(
    fit: Fit, bars: int, passes: Fraction, says: str
) -> None:
    assert say(fit.sentence_for(Heard((), frozenset(), bars, Fraction(passes)))) == says
