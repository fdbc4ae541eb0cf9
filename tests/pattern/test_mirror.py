from typeset.pattern.draft import Setting, set_in_time
from typeset.pattern.grid import SIXTEENTHS
from typeset.pattern.limb import Limb
from typeset.pattern.meter import COMMON_TIME
from typeset.pattern.mirror import mirrored
from typeset.pattern.order import read_order, write_order
from typeset.pattern.selection import Selection
from typeset.pattern.sound import SOUNDS
from typeset.pattern.steps.dynamics import Accent
from typeset.pattern.steps.voicing import Voice

PATTERN = set_in_time(read_order("R! l R+L+K H"), COMMON_TIME, SIXTEENTHS, Setting(1)).pattern


def test_hands_change_places_and_feet_stay() -> None:
    assert write_order(mirrored(read_order("R! l R+K H"))) == "L! r L+K H"


def test_strokes_together_stay_in_the_order_of_limbs() -> None:
    assert write_order(mirrored(read_order("R+L!"))) == "R!+L"


def test_mirroring_twice_gives_the_same_pattern() -> None:
    assert mirrored(mirrored(PATTERN)) == PATTERN
    assert mirrored(PATTERN) != PATTERN


def test_the_sounds_and_the_time_stay() -> None:
    turned = mirrored(PATTERN)
    assert turned.onsets == PATTERN.onsets
    assert [stroke.sound for stroke in turned.strokes] == [stroke.sound for stroke in PATTERN.strokes]


def test_a_step_is_mirrored_too() -> None:
    ride = SOUNDS["ride"]
    assert mirrored(Voice(((Limb.RIGHT, ride),))) == Voice(((Limb.LEFT, ride),))
    assert mirrored(Accent(Selection(limb=(Limb.LEFT,)))) == Accent(Selection(limb=(Limb.RIGHT,)))
