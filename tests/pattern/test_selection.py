import pytest

from typeset.pattern.counts import Place
from typeset.pattern.draft import Draft, Setting, set_in_time
from typeset.pattern.grid import SIXTEENTHS
from typeset.pattern.limb import Limb
from typeset.pattern.meter import COMMON_TIME
from typeset.pattern.order import read_order
from typeset.pattern.selection import NothingChosen, Selection, SelectionError, longest_run, runs_of
from typeset.pattern.sound import SOUNDS
from typeset.pattern.stroke import Dynamic

R, L, K, H = Limb


def set_bars(order: str, bars: int = 1, play: str | None = None) -> Draft:
    return set_in_time(read_order(order), COMMON_TIME, SIXTEENTHS, Setting(bars), play)


def slots(draft: Draft, selection: Selection) -> list[int]:
    return [slot for slot, _ in draft.choose(selection)]


def places(*texts: str) -> tuple[Place, ...]:
    return tuple(Place.parse(text) for text in texts)


def test_counts_choose_the_strokes_there() -> None:
    assert slots(set_bars("R L"), Selection(at=places("1", "3&"))) == [0, 10]


def test_a_count_chooses_every_limb_there() -> None:
    assert set_bars("R+K L").choose(Selection(at=places("1"))) == ((0, R), (0, K))


def test_all_keys_have_to_hold() -> None:
    draft = set_bars("R l R L")
    assert slots(draft, Selection(limb=(L,), dynamic=(Dynamic.GHOST,))) == [1, 5, 9, 13]


def test_every_counts_only_what_the_other_keys_chose() -> None:
    assert slots(set_bars("R L"), Selection(limb=(R,), every=3)) == [0, 6, 12]


def test_in_bars_looks_into_those_bars_alone() -> None:
    assert slots(set_bars("R . . . . . . .", bars=3), Selection(in_bars=(1, 3), all=True)) == [0, 8, 32, 40]


def test_strokes_are_numbered_through_the_order_in_each_pass() -> None:
    assert slots(set_bars("R L R K L"), Selection(strokes=(1,))) == [0, 5, 10, 15]


def test_a_run_is_exactly_that_long() -> None:
    order = read_order("R L R R L L R L")
    assert {slot for slot, _ in runs_of(order, 2, goes_round=False)} == {2, 3, 4, 5}
    assert {slot for slot, _ in runs_of(order, 1, goes_round=False)} == {0, 1, 6, 7}


def test_a_run_goes_round_the_end_of_a_loop() -> None:
    order = read_order("R L L R")
    assert {slot for slot, _ in runs_of(order, 2, goes_round=True)} == {0, 1, 2, 3}
    assert {slot for slot, _ in runs_of(order, 2, goes_round=False)} == {1, 2}


def test_what_is_played_once_has_no_run_round_its_end() -> None:
    assert slots(set_bars("R L . L R . . . . . . . . . . .", play="once"), Selection(run=1)) == [0, 4]


def test_silence_does_not_end_a_run() -> None:
    assert longest_run(read_order("R . R L"), goes_round=False) == 2


def test_one_limb_alone_is_one_run_all_the_way_round() -> None:
    assert longest_run(read_order("R R R"), goes_round=True) == 3


def test_choosing_nothing_is_an_error() -> None:
    with pytest.raises(NothingChosen):
        set_bars("R L").choose(Selection(limb=(H,)))


def test_a_count_that_is_missing_names_the_key_and_the_value() -> None:
    with pytest.raises(SelectionError, match="no count 2trip") as caught:
        set_bars("R L").choose(Selection(at=places("1", "2trip")))
    assert (caught.value.key, caught.value.index) == ("at", 1)


def test_a_missing_count_can_be_passed_over() -> None:
    selection = Selection(at=places("1", "2trip"), where_missing="skip")
    assert slots(set_bars("R L"), selection) == [0]


def test_before_time_there_are_no_counts() -> None:
    with pytest.raises(SelectionError, match="'at' needs time"):
        Selection(at=places("1")).in_order(read_order("R L"))


def test_before_time_strokes_are_chosen_by_number() -> None:
    assert Selection(strokes=(1, 3)).in_order(read_order("R L R K L")) == ((0, R), (2, R))


def test_a_choice_of_nothing_says_what_there_is() -> None:
    with pytest.raises(NothingChosen, match="there are R, L, K, on snare, kick"):
        set_bars("R L K L").choose(Selection(sound=(SOUNDS["ride"],)))


def test_a_choice_that_finds_feet_alone_says_how_to_mean_them() -> None:
    with pytest.raises(NothingChosen, match=r"only feet play here, .* limb: K"):
        set_bars("R L K L").choose(Selection(at=places("1&")), hands_only=True)
