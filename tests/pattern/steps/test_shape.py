import pytest

from typeset.pattern.counts import Place
from typeset.pattern.draft import Draft, Setting, set_in_time
from typeset.pattern.grid import Grid
from typeset.pattern.limb import Limb
from typeset.pattern.meter import Meter
from typeset.pattern.order import read_order, write_order
from typeset.pattern.selection import Selection
from typeset.pattern.steps import StepError
from typeset.pattern.steps.shape import Omit, Stop


def draft(order: str, bars: int = 2) -> Draft:
    return set_in_time(read_order(order), Meter.parse("2/4"), Grid.of("8ths"), Setting(bars))


def test_the_stroke_at_a_stop_sounds_and_nothing_after_it() -> None:
    stopped = Stop(Place.parse("2|1&")).change(draft("R L R L"))
    assert write_order(stopped.pattern.slots) == "R L R L R L . ."


def test_without_a_bar_a_stop_is_in_the_last_bar() -> None:
    stopped = Stop(Place.parse("1")).change(draft("R L R L"))
    assert write_order(stopped.pattern.slots) == "R L R L R . . ."


def test_what_stops_is_played_once() -> None:
    assert not Stop(Place.parse("1")).change(draft("R L")).loops


def test_a_stop_needs_a_stroke() -> None:
    with pytest.raises(StepError, match="no stroke on 1& to stop on"):
        Stop(Place.parse("1&")).change(draft("R . R ."))


def test_omit_leaves_silence() -> None:
    omitted = Omit(Selection(limb=(Limb.LEFT,))).change(draft("R L R+L L", bars=1))
    assert write_order(omitted.pattern.slots) == "R . R ."


def test_omitting_everything_is_refused() -> None:
    with pytest.raises(StepError, match="nothing to play"):
        Omit(Selection(all=True)).change(draft("R L"))
