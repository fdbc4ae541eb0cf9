import pytest

from typeset.pattern.counts import Place
from typeset.pattern.draft import Setting, set_in_time
from typeset.pattern.grid import Grid
from typeset.pattern.limb import Limb
from typeset.pattern.meter import Meter
from typeset.pattern.order import read_order, write_order
from typeset.pattern.selection import Selection
from typeset.pattern.steps import DraftStep, StepError
from typeset.pattern.steps.dynamics import Accent, Ghost, Plain, Swell, Travel
from typeset.pattern.written import write_music


def after(step: DraftStep, order: str) -> str:
    draft = set_in_time(read_order(order), Meter.parse("2/4"), Grid.of("8ths"), Setting(1))
    return write_order(step.change(draft).pattern.slots)


def test_accent_accents() -> None:
    assert after(Accent(Selection(at=(Place.parse("2"),))), "R L R L") == "R L R! L"


def test_ghost_takes_the_accent_with_it() -> None:
    assert after(Ghost(Selection(limb=(Limb.LEFT,))), "R L! R L") == "R l R l"


def test_plain_takes_accents_and_ghosts_off() -> None:
    assert after(Plain(Selection(all=True)), "R! l R L") == "R L R L"


def test_accents_travel_one_stroke_later_on_each_pass() -> None:
    assert after(Travel(1), "R! L") == "R! L R L!"


def test_nothing_travels_without_an_accent() -> None:
    with pytest.raises(StepError, match="no accent that could travel"):
        after(Travel(1), "R L")


@pytest.mark.parametrize(
    ("step", "form", "written"),
    [
        (Swell(), "louder all", "(< R L R L)"),
        (Swell(Place.parse("1&"), way="softer"), "softer from", "R (> L R L)"),
        (Swell(None, Place.parse("2")), "louder to", "(< R L R) L"),
        (Swell(Place.parse("1"), Place.parse("2"), "softer"), "softer from to", "(> R L R) L"),
    ],
)
def test_a_swell_has_a_form_for_what_is_said_of_it(step: Swell, form: str, written: str) -> None:
    draft = set_in_time(read_order("R L R L"), Meter.parse("2/4"), Grid.of("8ths"), Setting(1))
    assert step.form == form
    assert write_music(step.change(draft).finished) == written
