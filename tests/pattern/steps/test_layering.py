import pytest

from typeset.pattern.counts import Place
from typeset.pattern.draft import Draft, Setting, set_in_time
from typeset.pattern.grid import Grid
from typeset.pattern.layer import LayerError
from typeset.pattern.limb import Limb
from typeset.pattern.meter import Meter
from typeset.pattern.order import read_order, write_order, write_played
from typeset.pattern.selection import Selection
from typeset.pattern.sound import SOUNDS
from typeset.pattern.steps import Source, StepError
from typeset.pattern.steps.layering import LayerStep, Ornamented

HAT = SOUNDS["hi-hat-foot"]


def draft(order: str, meter: str = "2/4", grid: str = "8ths") -> Draft:
    return set_in_time(read_order(order), Meter.parse(meter), Grid.of(grid), Setting(1))


def lay(step: LayerStep, order: str = "R L R L", meter: str = "2/4", grid: str = "8ths") -> str:
    return write_order(step.change(draft(order, meter, grid)).pattern.slots)


def test_a_layer_on_the_beats() -> None:
    assert lay(LayerStep(Limb.HAT, HAT, "beats")) == "R+H L R+H L"


def test_a_layer_on_the_beats_of_a_compound_meter() -> None:
    assert lay(LayerStep(Limb.HAT, HAT, "beats"), "R L", "6/8") == "R+H L R L+H R L"


def test_a_layer_on_the_offbeats() -> None:
    assert lay(LayerStep(Limb.HAT, HAT, "offbeats")) == "R L+H R L+H"


def test_a_layer_in_eighths_on_sixteenths() -> None:
    step = LayerStep(Limb.RIGHT, SOUNDS["ride"], "8ths")
    assert lay(step, "K L . L", grid="16ths") == "R+K L R L R+K L R L"


def test_a_layer_on_counts() -> None:
    assert lay(LayerStep(Limb.HAT, HAT, (Place.parse("2"),))) == "R L R+H L"


def test_a_layer_of_its_own_sequence_goes_round() -> None:
    assert lay(LayerStep(sequence=Source("feet", read_order("K . H")))) == "R+K L R+H L+K"


def test_a_place_that_the_grid_lacks_is_refused() -> None:
    with pytest.raises(LayerError, match="no slot for the 8ths after 1"):
        lay(LayerStep(Limb.HAT, HAT, "8ths"), grid="triplets")


def test_a_limb_that_is_busy_is_refused_with_its_place() -> None:
    with pytest.raises(LayerError, match="R is busy on 1 already"):
        lay(LayerStep(Limb.RIGHT, SOUNDS["ride"], "beats"))


def test_a_layer_says_who_plays() -> None:
    with pytest.raises(StepError, match="which limb plays"):
        LayerStep(at="beats")


def test_a_layer_is_places_or_a_sequence() -> None:
    with pytest.raises(StepError, match="not both"):
        LayerStep(Limb.HAT, HAT, "beats", Source("feet"))


def test_an_ornament_is_put_on_the_hands_alone() -> None:
    flammed = Ornamented(Selection(at=(Place.parse("1"),)), "flam").change(draft("R+K L R L"))
    assert write_played(flammed.pattern.slots) == "R(flam)+K L R L"


def test_a_foot_plays_a_diddle_when_it_is_named() -> None:
    played = Ornamented(Selection(limb=(Limb.KICK,)), "diddle").change(draft("R K R L"))
    assert write_played(played.pattern.slots) == "R K(diddle) R L"


def test_a_foot_plays_no_flam() -> None:
    with pytest.raises(StepError, match="no flam"):
        Ornamented(Selection(limb=(Limb.KICK,)), "flam")


def test_a_flam_takes_both_hands() -> None:
    with pytest.raises(StepError, match="takes both hands"):
        Ornamented(Selection(at=(Place.parse("1"),)), "flam").change(draft("R+L L R L"))
