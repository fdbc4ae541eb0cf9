"""Who plays what: stickings that a teacher would write, and what is said where another would do."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from tests.taking.made import piece, played
from typeset.manuscript.figures import standard_figures
from typeset.pattern.limb import Limb
from typeset.pattern.sound import SOUNDS
from typeset.pattern.stroke import Ornament
from typeset.taking.limbs import Limbed, with_limbs
from typeset.taking.piece import Note, Piece

FIGURES = standard_figures()


def limbed(made: Piece) -> Limbed:
    return with_limbs(made, FIGURES.players["advanced"], FIGURES.kit)


def hands(made: Piece) -> str:
    slots = limbed(made).pattern.slots
    return " ".join("".join(stroke.limb.value for stroke in slot) or "." for slot in slots)


def test_the_feet_play_by_their_sounds() -> None:
    assert hands(piece("k . f . kf . k .", grid="8ths")) == "K . H . KH . K ."


def test_even_strokes_on_one_drum_go_hand_to_hand_from_the_right() -> None:
    assert hands(piece("s s s s s s s s", grid="8ths")) == "R L R L R L R L"


def test_a_line_on_the_hi_hat_stays_in_the_right_hand_over_the_snare() -> None:
    assert hands(piece("hk h hs h hk hk hs h", grid="8ths", tempo=100)) == "RK R RL R RK RK RL R"


def test_fast_sixteenths_on_the_hi_hat_go_to_both_hands() -> None:
    assert hands(piece("h h h h s h h h h h h h s h h h", tempo=110)) == "R L R L R L R L R L R L R L R L"


def test_a_fill_round_the_toms_goes_hand_to_hand() -> None:
    made = piece("s s s s 1 1 1 1 2 2 2 2 3 3 3 3", tempo=100, loops=False)
    assert hands(made) == "R L R L R L R L R L R L R L R L"


def test_a_stroke_after_a_rest_is_the_right_hands() -> None:
    assert hands(piece(". . s s s . . .", grid="8ths", loops=False)).split()[2:5] == ["R", "L", "R"]


def test_hands_do_not_cross_between_floor_tom_and_hi_hat() -> None:
    pattern = limbed(piece("h3 . . . h3 . . .", grid="8ths")).pattern
    assert played(pattern) == ["R(floor-tom)+L(hi-hat) . . . R(floor-tom)+L(hi-hat) . . ."]


def test_what_the_file_says_stays_whatever_it_costs() -> None:
    made = piece("s s s s", meter="2/4", grid="8ths")
    said = replace(
        made.bars[0],
        slots=tuple(tuple(replace(note, limbs=(Limb.LEFT,)) for note in notes) for notes in made.bars[0].slots),
    )
    assert hands(replace(made, bars=(said,))) == "L L L L"


def test_the_rest_is_worked_out_round_what_the_file_says() -> None:
    made = piece("s s s s", meter="2/4", grid="8ths")
    first, *others = made.bars[0].slots
    said = replace(made.bars[0], slots=((replace(first[0], limbs=(Limb.LEFT,)),), *others))
    assert hands(replace(made, bars=(said,))) == "L R L R"


def test_even_strokes_could_also_begin_with_the_left_hand() -> None:
    assert limbed(piece("s s s s s s s s", grid="8ths")).doubts == ("the hands could also be exchanged throughout",)


def test_a_groove_leaves_no_doubt() -> None:
    assert limbed(piece("hk h hs h hk hk hs h", grid="8ths", tempo=100)).doubts == ()


def test_a_stroke_that_either_hand_could_play_is_named() -> None:
    made = piece("s . . . . . . . . . . . s . . .", tempo=40, loops=False)
    assert hands(made).split()[::12] == ["R", "L"]
    assert "could also be R on 4" in limbed(made).doubts


def test_a_third_hand_is_left_out_and_named() -> None:
    found = limbed(piece("hsc h s h", meter="2/4", grid="8ths"))
    assert len(found.pattern.slots[0]) == 2
    assert any("no limb is free" in what and what.endswith("(1)") for what in found.left_out)


def test_two_hands_on_one_head_are_both_there() -> None:
    both = Note(Fraction(0), SOUNDS["snare"], limbs=(Limb.RIGHT, Limb.LEFT))
    made = piece("s s s s", meter="2/4", grid="8ths")
    slots = ((both,), *made.bars[0].slots[1:])
    assert hands(replace(made, bars=(replace(made.bars[0], slots=slots),))).startswith("RL")


def test_a_flam_where_both_hands_play_loses_its_grace() -> None:
    made = piece("hs h s h", meter="2/4", grid="8ths")
    slots = tuple(
        tuple(replace(note, ornament=Ornament.FLAM) for note in notes) for notes in made.bars[0].slots[:1]
    )
    found = limbed(replace(made, bars=(replace(made.bars[0], slots=slots + made.bars[0].slots[1:]),)))
    assert all(stroke.ornament is None for stroke in found.pattern.slots[0])
    assert found.left_out


@pytest.mark.parametrize("meter", ["3/4", "6/8", "7/8", "2/2"])
def test_every_meter_has_its_limbs(meter: str) -> None:
    made = piece("s h " * {"3/4": 3, "6/8": 3, "7/8": 3, "2/2": 4}[meter] + ("s" if meter == "7/8" else ""),
                 meter=meter, grid="8ths")  # fmt: skip
    assert all(limbed(made).pattern.slots)
