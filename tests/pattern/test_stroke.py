import pickle

import pytest

from typeset.pattern.order import read_order, write_played
from typeset.pattern.sound import SOUNDS
from typeset.pattern.stroke import Dynamic, Ornament, ornamented


def carrying(slot: str, ornament: Ornament) -> str:
    return write_played([ornamented(read_order(slot)[0], ornament)])


def test_the_hand_carries_the_ornament_where_a_foot_plays_too() -> None:
    assert carrying("R+K", Ornament.FLAM) == "R(flam)+K"


def test_both_hands_can_buzz_together() -> None:
    assert carrying("R+L", Ornament.BUZZ) == "R(buzz)+L(buzz)"


def test_a_foot_alone_plays_a_diddle() -> None:
    assert carrying("K", Ornament.DIDDLE) == "K(diddle)"


@pytest.mark.parametrize(
    ("slot", "ornament", "why"),
    [
        ("K", Ornament.BUZZ, "a foot's; a foot plays diddles, and no buzz"),
        ("R+L", Ornament.DRAG, "both hands'; a drag needs one of them"),
    ],
)
def test_an_ornament_that_nobody_could_play_is_refused(slot: str, ornament: Ornament, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        carrying(slot, ornament)


def test_silence_carries_no_ornament() -> None:
    with pytest.raises(ValueError, match="is silent"):
        ornamented((), Ornament.FLAM)


def test_a_stroke_carries_one_ornament() -> None:
    flam = ornamented(read_order("R")[0], Ornament.FLAM)
    with pytest.raises(ValueError, match="has an ornament already"):
        ornamented(flam, Ornament.BUZZ)


def test_strokes_of_one_kind_are_one_stroke() -> None:
    assert read_order("R L R")[0][0] is read_order("K R")[1][0]


def test_a_stroke_in_another_process_is_the_same_stroke() -> None:
    stroke = read_order("R!")[0][0].carrying(Ornament.FLAM)
    assert pickle.loads(pickle.dumps(stroke)) == stroke


def test_another_dynamic_changes_nothing_else() -> None:
    flam = read_order("R!")[0][0].carrying(Ornament.FLAM).on(SOUNDS["ride"])
    assert write_played([(flam.played(Dynamic.GHOST),)]) == "r(ride flam)"
