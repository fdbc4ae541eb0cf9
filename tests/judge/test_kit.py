import pytest

from typeset.judge.kit import Kit, Target
from typeset.pattern.sound import SOUNDS


def test_a_way_is_measured_between_the_middles_and_to_the_width_of_where_it_leads(kit: Kit) -> None:
    assert kit.ways["snare"]["hi-hat"] == (400, 1)
    assert kit.ways["hi-hat"]["snare"] == (400, 2)


def test_height_counts() -> None:
    targets = dict.fromkeys(SOUNDS, Target(0, 0, 0, 10)) | {"crash": Target(0, 30, 40, 10)}
    kit = Kit("tall", targets, crossing=45, small=frozenset())
    assert kit.ways["snare"]["crash"].mm == 500


def test_the_two_sounds_of_the_hi_hat_are_no_move_apart(kit: Kit) -> None:
    assert kit.ways["hi-hat"]["open-hi-hat"] == (0, 0)


def test_a_mirrored_kit_has_the_same_ways(kit: Kit) -> None:
    assert kit.mirrored().ways == kit.ways
    assert kit.mirrored().targets["floor-tom"].x == -40


def test_mirroring_twice_gives_the_kit_back(kit: Kit) -> None:
    assert kit.mirrored().mirrored() == kit


def test_a_kit_that_lacks_a_sound_says_which() -> None:
    with pytest.raises(ValueError, match="lacks cowbell"):
        Kit("short", {name: Target(0, 0, 0, 10) for name in SOUNDS if name != "cowbell"}, 45, frozenset())
