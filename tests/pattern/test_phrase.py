import pytest

from typeset.pattern.draft import Draft, Setting, SettingError, set_in_time
from typeset.pattern.grid import Grid
from typeset.pattern.limb import Limb
from typeset.pattern.meter import Meter
from typeset.pattern.order import read_order, write_order, write_played
from typeset.pattern.phrase import Part, join_parts, with_endings
from typeset.pattern.sound import SOUNDS
from typeset.pattern.steps.shape import Land


def draft(order: str, bars: int, meter: str = "2/4", by: str = "trimming") -> Draft:
    return set_in_time(read_order(order), Meter.parse(meter), Grid.of("8ths"), Setting(bars, by))


def test_parts_follow_each_other_as_often_as_asked() -> None:
    joined = join_parts([Part(draft("R L", 2), bars=1, times=3), Part(draft("R K", 1))])
    assert [write_order(bar.slots) for bar in joined.pattern.bars] == ["R L R L"] * 3 + ["R K R K"]


def test_parts_keep_their_meters() -> None:
    joined = join_parts([Part(draft("R L", 1, "3/4")), Part(draft("R L", 1, "2/4"))])
    assert [str(bar.meter) for bar in joined.pattern.bars] == ["3/4", "2/4"]


def test_a_phrase_plays_once_when_its_last_part_does() -> None:
    rests = draft("R L K", 1, by="resting")
    assert not join_parts([Part(draft("R L", 1)), Part(rests)]).loops
    assert join_parts([Part(rests), Part(draft("R L", 1))]).loops


def test_a_part_with_too_few_bars_is_refused() -> None:
    with pytest.raises(SettingError, match="it has 1 bar, not 2"):
        join_parts([Part(draft("R L", 1), bars=2)])


def test_a_phrase_without_end_is_refused() -> None:
    with pytest.raises(SettingError, match="at most 64 bars"):
        join_parts([Part(draft("R L", 1), times=1_000_000_000)])


def test_a_part_lands_on_the_first_beat_of_the_next() -> None:
    fill = Land(((Limb.RIGHT, SOUNDS["crash"]), (Limb.KICK, SOUNDS["kick"]))).change(draft("R L", 1))
    joined = join_parts([Part(fill), Part(draft("R+H L", 1))])
    assert write_played(joined.finished.slots) == "R L R L R(crash)+K+H L R+H L"


def test_the_last_part_lands_in_a_bar_more() -> None:
    fill = Land(((Limb.KICK, SOUNDS["kick"]),)).change(draft("R L", 1))
    joined = join_parts([Part(draft("R L", 1)), Part(fill)])
    assert len(joined.finished.bars) == 3


def bars_of(made: Draft) -> list[str]:
    return [write_order(bar.slots) for bar in made.pattern.bars]


def test_endings_follow_the_body_and_end_it() -> None:
    made = with_endings(draft("R L", 2), [Part(draft("R K", 2), bars=1), Part(draft("L K", 2))])
    assert bars_of(made) == ["R L R L"] * 2 + ["R K R K"] + ["L K L K"] * 2
    assert made.pattern.endings == (1, 2) and made.pattern.body == 2
    assert not made.loops


def test_a_body_lands_on_the_first_beat_of_each_ending() -> None:
    lands = Land(((Limb.KICK, SOUNDS["kick"]),)).change(draft("R L", 1))
    made = with_endings(lands, [Part(draft("L", 1)), Part(draft("R", 1))])
    assert bars_of(made)[1:] == ["L+K L L L", "R+K R R R"]
    assert not made.landing


def test_the_last_ending_may_land_in_a_bar_more() -> None:
    lands = Land(((Limb.KICK, SOUNDS["kick"]),)).change(draft("R L", 1))
    made = with_endings(draft("R L", 1), [Part(draft("L", 1)), Part(lands)])
    assert made.finished.endings == (1, 2)
    assert write_order(made.finished.bars[-1].slots) == "K . . ."


def test_an_ending_that_leads_back_does_not_land() -> None:
    lands = Land(((Limb.KICK, SOUNDS["kick"]),)).change(draft("R L", 1))
    with pytest.raises(SettingError, match="only the last ending can land"):
        with_endings(draft("R L", 1), [Part(lands), Part(draft("L", 1))])


def test_as_a_part_it_is_what_is_heard_of_it() -> None:
    made = with_endings(draft("R L", 1), [Part(draft("R K", 1)), Part(draft("L K", 1))])
    joined = join_parts([Part(made), Part(draft("K", 1))])
    assert bars_of(joined) == ["R L R L", "R K R K", "R L R L", "L K L K", "K K K K"]
    assert len(joined.origins) == len(joined.pattern.slots)
    assert joined.pattern.endings == ()
