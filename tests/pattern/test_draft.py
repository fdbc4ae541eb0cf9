import pytest

from typeset.pattern.again import set_again
from typeset.pattern.counts import Place
from typeset.pattern.draft import Draft, Setting, SettingError, displace, set_in_time
from typeset.pattern.grid import SIXTEENTHS, Grid
from typeset.pattern.meter import COMMON_TIME, Meter
from typeset.pattern.order import read_order, write_order

STAIRS = read_order("R L R K L")


def fit(order: str, setting: Setting, meter: str = "4/4", grid: str = "8ths") -> Draft:
    return set_in_time(read_order(order), Meter.parse(meter), Grid.of(grid), setting)


def bars(draft: Draft) -> list[str]:
    return [write_order(bar.slots) for bar in draft.pattern.bars]


def test_without_a_number_an_order_gets_as_many_bars_as_one_pass_needs() -> None:
    assert bars(fit("R L R K L R L R K L", Setting())) == ["R L R K L R L R", "K L R L R K L R"]


def test_trimming_repeats_and_cuts_what_is_left_over() -> None:
    assert bars(fit("R L R K L", Setting(2))) == ["R L R K L R L R", "K L R L R K L R"]


def test_restarting_begins_again_at_each_bar() -> None:
    assert bars(fit("R L R K L", Setting(2, "restarting"))) == ["R L R K L R L R"] * 2


def test_resting_plays_once_and_then_rests() -> None:
    draft = fit("R L R K L", Setting(2, "resting"))
    assert bars(draft) == ["R L R K L . . .", ". . . . . . . ."]
    assert not draft.loops


def test_exactly_takes_whole_passes() -> None:
    assert bars(fit("R L", Setting(1, "exactly"))) == ["R L R L R L R L"]


def test_exactly_refuses_a_remainder_and_says_how_much() -> None:
    with pytest.raises(SettingError, match="5 slots do not fill 16 exactly: 3 passes leave 1 over"):
        fit("R L R K L", Setting(2, "exactly"))


def test_five_strokes_on_sixteenths_resolve_in_five_bars() -> None:
    draft = set_in_time(STAIRS, COMMON_TIME, SIXTEENTHS, Setting(by="resolving"))
    assert len(draft.pattern.bars) == 5
    assert write_order(draft.pattern.slots) == " ".join(["R L R K L"] * 16)


def test_resolving_finds_its_own_number_of_bars() -> None:
    with pytest.raises(SettingError, match="leave 'bars' out"):
        fit("R L R", Setting(2, "resolving"))


def test_from_leaves_silence_before_that_place() -> None:
    assert bars(fit("R L R K L", Setting(1, start=Place.parse("2&")))) == [". . . R L R K L"]


def test_restarting_begins_later_in_the_first_bar_only() -> None:
    assert bars(fit("R L R", Setting(2, "restarting", Place.parse("3")))) == [
        ". . . . R L R R",
        "R L R R L R R L",
    ]


def test_resting_without_room_for_one_pass_is_refused() -> None:
    with pytest.raises(SettingError, match="one pass is 10 slots, and there is room for 8"):
        fit("R L R K L R L R K L", Setting(1, "resting"))


def test_from_is_a_place_of_the_first_bar() -> None:
    with pytest.raises(SettingError, match="not in bar 1"):
        fit("R L", Setting(2, start=Place.parse("2|1")))


def test_too_many_bars_are_refused() -> None:
    with pytest.raises(SettingError, match="at most 64"):
        fit("R L", Setting(1_000_000))


def test_displacing_goes_round_the_end() -> None:
    assert bars(displace(fit("R L K .", Setting(1)), 1)) == [". R L K . R L K"]


def test_displacing_back_undoes_it() -> None:
    draft = fit("R L R K L", Setting(2))
    assert displace(displace(draft, 3), -3) == draft


def test_what_is_said_on_strokes_travels_when_they_are_set_again() -> None:
    draft = fit("R L R K L", Setting(1))
    omitted = draft.with_strokes([(1, STAIRS[1][0].limb)], lambda _stroke, _number: None)
    again = set_again(omitted, draft.meter, draft.grid, Setting(2))
    assert bars(again) == ["R . R K L R L R", "K L R L R K L R"]
