from dataclasses import replace

import pytest

from typeset.judge.collisions import Clash, collisions, collisions_of
from typeset.judge.timeline import timeline
from typeset.manuscript.figures import standard_figures
from typeset.pattern.bar import Bar, Beat, Pattern, pickup_bar
from typeset.pattern.grid import Grid
from typeset.pattern.limb import Limb
from typeset.pattern.meter import Meter
from typeset.pattern.mirror import mirrored
from typeset.pattern.sound import SOUNDS
from typeset.pattern.stroke import Ornament, Slot, Stroke


def one_slot(*strokes: Stroke) -> Pattern:
    """A bar that may hold what no order can be written as."""
    meter = Meter.parse("2/4")
    silent: Slot = ()
    return Pattern((Bar(meter, (Beat(meter.pulse, (silent,)), Beat(meter.pulse, (strokes,)))),))


def stroke(limb: Limb, sound: str, ornament: Ornament | None = None) -> Stroke:
    return Stroke(limb, SOUNDS[sound], ornament=ornament)


def test_one_limb_in_two_places_cannot_be(kit) -> None:
    found = collisions(one_slot(stroke(Limb.RIGHT, "hi-hat"), stroke(Limb.RIGHT, "snare")), kit)
    assert [(one.clash, str(one.place), one.limbs) for one in found] == [
        (Clash.ONE_LIMB_TWICE, "2", (Limb.RIGHT, Limb.RIGHT))
    ]
    assert not found[0].can_be_played


def test_three_strokes_by_hands_take_three_hands(kit) -> None:
    strokes = [stroke(Limb.RIGHT, "snare"), stroke(Limb.LEFT, "snare"), stroke(Limb.LEFT, "floor-tom")]
    assert [one.clash for one in collisions(one_slot(*strokes), kit)] == [
        Clash.ONE_LIMB_TWICE,
        Clash.THREE_HANDS,
    ]


def test_a_flam_while_the_other_hand_plays_takes_three_hands(kit) -> None:
    strokes = [stroke(Limb.RIGHT, "snare", Ornament.FLAM), stroke(Limb.LEFT, "snare")]
    assert [one.clash for one in collisions(one_slot(*strokes), kit)] == [Clash.THREE_HANDS]


def test_hands_and_feet_together_are_no_collision(kit, played) -> None:
    assert collisions(played("R+L+K+H R+K L+H R"), kit) == ()


def test_strokes_together_collide_in_a_linear_exercise_only(kit, played) -> None:
    pattern = played("R L R+K L", meter="2/4", grid="8ths")
    assert collisions(pattern, kit) == ()
    assert [(one.clash, str(one.place)) for one in collisions(pattern, kit, linear=True)] == [(Clash.TOGETHER, "2")]


def test_hands_cross_when_the_left_is_right_of_the_right_by_more_than_usual(kit, played) -> None:
    crossed = played("R+L", meter="2/4", grid="quarters", voices={"R": "hi-hat", "L": "floor-tom"})
    found = collisions(crossed, kit)
    assert [(one.clash, one.cm) for one in found] == [(Clash.CROSSED_HANDS, 80)] * 2
    assert found[0].can_be_played


def test_the_right_hand_over_the_left_on_the_hi_hat_is_usual(played) -> None:
    kits = standard_figures().kits.values()
    groove = played("R+K . R . R+L . R .", voices={"R": "hi-hat"})
    assert [collisions(groove, kit) for kit in kits] == [()] * 3


def test_a_hand_that_has_no_time_to_leave_is_crossed_too(kit, played) -> None:
    voices = {"R": "hi-hat", "L": "floor-tom"}
    found = collisions(played("R L R . . . . .", voices=voices), kit)
    assert [(one.clash, str(one.place), one.cm) for one in found] == [
        (Clash.CROSSED_HANDS, place, 80) for place in ("1e", "3e")
    ]
    assert collisions(played("R L R . . . . .", grid="8ths", voices=voices), kit) == ()


def test_a_hand_that_has_left_is_not_crossed(kit, played) -> None:
    pattern = played("R L R .", bars=1, voices={"R": "ride", "L": "floor-tom"}, sounds={1: "hi-hat", 5: "hi-hat"})
    assert collisions(pattern, kit) == ()


def test_in_a_loop_a_hand_comes_back_round_the_end(kit, played) -> None:
    voices = {"R": "hi-hat", "L": "floor-tom"}
    around = played("L R . . . . . . . . . . . . . R", voices=voices)
    assert collisions(around, kit) == ()
    found = collisions(around, kit, loops=True)
    assert [(one.clash, str(one.place), one.cm) for one in found] == [(Clash.CROSSED_HANDS, "1", 80)]
    ended = played("R . . . . . . . . . . . . . R L", voices=voices)
    assert [str(one.place) for one in collisions(ended, kit, loops=True)] == ["4a"]


@pytest.mark.parametrize(("before", "order"), [("R", "L R . . . . . ."), ("K", "L R . . . . . R")])
def test_bar_1_comes_after_the_pickup_and_after_the_loop_s_end(before: str, order: str, kit, played) -> None:
    voices = {"R": "hi-hat", "L": "floor-tom"}
    pattern = played(order, bars=1, voices=voices, meter="2/4")
    before_it = played(before, voices=voices).slots[:1]
    opened = replace(pattern, pickup=pickup_bar(Meter.parse("2/4"), Grid.of("16ths"), before_it))
    found = collisions_of(timeline(opened, with_pickup=True), opened, kit, loops=True)
    assert [(one.clash, str(one.place)) for one in found] == [(Clash.CROSSED_HANDS, "1")]


@pytest.mark.parametrize(("sound", "clash"), [("open-hi-hat", Clash.OPEN_AND_SHUT), ("hi-hat", Clash.SHUT_TWICE)])
def test_a_stick_and_the_foot_do_not_play_the_hi_hat_at_one_moment(sound: str, clash: Clash, kit) -> None:
    (found,) = collisions(one_slot(stroke(Limb.RIGHT, sound), stroke(Limb.HAT, "hi-hat-foot")), kit)
    assert (found.clash, found.limbs) == (clash, (Limb.RIGHT, Limb.HAT))
    assert found.can_be_played


def test_the_stick_may_play_the_hi_hat_between_the_foot_s_strokes(kit, played) -> None:
    assert collisions(played("H R H R", grid="8ths", voices={"R": "hi-hat"}), kit) == ()
    assert collisions(played("R+H", grid="8ths", voices={"R": "ride"}), kit) == ()


def test_two_sticks_have_no_room_on_a_small_cymbal(kit) -> None:
    found = collisions(one_slot(stroke(Limb.RIGHT, "hi-hat"), stroke(Limb.LEFT, "open-hi-hat")), kit)
    assert [one.clash for one in found] == [Clash.SMALL_SOUND]


def test_two_sticks_on_two_small_cymbals_have_room(kit) -> None:
    assert collisions(one_slot(stroke(Limb.RIGHT, "splash"), stroke(Limb.LEFT, "hi-hat")), kit) == ()


def test_two_sticks_have_room_on_a_drum(kit) -> None:
    assert collisions(one_slot(stroke(Limb.RIGHT, "snare"), stroke(Limb.LEFT, "snare")), kit) == ()


def test_bars_and_places_are_told(kit, played) -> None:
    found = collisions(played(". . . . . . R+L .", grid="8ths", meter="2/4", bars=2), kit, linear=True)
    assert [(one.bar, str(one.place)) for one in found] == [(2, "2|2")]


def test_a_mirrored_pattern_on_the_mirrored_kit_collides_alike(kit, played) -> None:
    pattern = played("R+L . R L R .", voices={"R": "hi-hat", "L": "floor-tom"}, bars=1)
    right, left = collisions(pattern, kit), collisions(mirrored(pattern), kit.mirrored())
    assert len(right) > 1
    assert [(one.clash, one.place, one.cm) for one in right] == [(one.clash, one.place, one.cm) for one in left]
