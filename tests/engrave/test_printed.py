"""Engravings that look alike are one value."""

from __future__ import annotations

from dataclasses import replace

from tests.notation.made import bar, system
from typeset.compose.engraving import System
from typeset.engrave.printed import printed
from typeset.pattern.bar import pickup_bar
from typeset.pattern.grid import SIXTEENTHS
from typeset.pattern.limb import Limb
from typeset.pattern.sound import SNARE, SOUNDS
from typeset.pattern.stroke import Dynamic, Ornament, Slot, Stroke

HI_HAT = SOUNDS["hi-hat"]


def of_slot(slot: Slot) -> System:
    """A bar with one slot in it."""
    made = bar("4/4", "quarters", ".")
    return system(made.with_slots([slot, (), (), ()]))


def test_which_hand_plays_does_not_show() -> None:
    right = of_slot((Stroke(Limb.RIGHT, HI_HAT), Stroke(Limb.LEFT, SNARE)))
    left = of_slot((Stroke(Limb.RIGHT, SNARE), Stroke(Limb.LEFT, HI_HAT)))
    assert printed(right) == printed(left)


def test_what_is_played_shows() -> None:
    assert printed(of_slot((Stroke(Limb.RIGHT, HI_HAT),))) != printed(of_slot((Stroke(Limb.RIGHT, SNARE),)))
    assert printed(of_slot((Stroke(Limb.RIGHT, SNARE, Dynamic.ACCENT),))) != printed(
        of_slot((Stroke(Limb.RIGHT, SNARE),))
    )


def test_two_hands_on_one_sound_are_one_head_as_loud_as_the_louder() -> None:
    both = of_slot((Stroke(Limb.RIGHT, SNARE, Dynamic.GHOST), Stroke(Limb.LEFT, SNARE, Dynamic.ACCENT)))
    assert printed(both) == printed(of_slot((Stroke(Limb.LEFT, SNARE, Dynamic.ACCENT),)))


def test_an_ornament_of_either_hand_stays() -> None:
    both = of_slot((Stroke(Limb.RIGHT, SNARE), Stroke(Limb.LEFT, SNARE, ornament=Ornament.FLAM)))
    assert printed(both) == printed(of_slot((Stroke(Limb.RIGHT, SNARE, ornament=Ornament.FLAM),)))


def test_less_than_a_thousandth_of_a_millimetre_does_not_show() -> None:
    made = of_slot(())
    assert printed(replace(made, quarter=made.quarter + 0.0001)) == printed(made)


def test_a_pickup_shows_but_not_whose_it_is() -> None:
    base = of_slot(())
    right, left = (
        replace(base, pickup=pickup_bar(base.bars[0].meter, SIXTEENTHS, [(Stroke(limb, SNARE),)]))
        for limb in (Limb.RIGHT, Limb.LEFT)
    )
    assert printed(right) == printed(left) != printed(base)


def test_a_blank_staff_does_not_show_its_answer() -> None:
    one, other = (of_slot((Stroke(Limb.RIGHT, sound),)) for sound in (SNARE, HI_HAT))
    assert printed(replace(one, blank=True)) == printed(replace(other, blank=True)) != printed(of_slot(()))
