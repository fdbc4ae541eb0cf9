import pytest

from typeset.pattern.counts import Place
from typeset.pattern.draft import Draft, Setting, set_in_time
from typeset.pattern.grid import Grid
from typeset.pattern.limb import Limb
from typeset.pattern.meter import Meter
from typeset.pattern.order import read_order
from typeset.pattern.selection import Selection
from typeset.pattern.sound import SOUNDS
from typeset.pattern.steps import DraftStep, Heard, StepError
from typeset.pattern.steps.voicing import Move, Spread, Voice
from typeset.wording.sentences import say

R, L, K, H = Limb
TOMS = (SOUNDS["high-tom"], SOUNDS["mid-tom"])


def draft(order: str) -> Draft:
    return set_in_time(read_order(order), Meter.parse("2/4"), Grid.of("8ths"), Setting(1))


def sounds(step: DraftStep, order: str) -> list[str]:
    return ["+".join(stroke.sound.name for stroke in slot) for slot in step.change(draft(order)).pattern.slots]


def test_voice_says_what_each_limb_plays() -> None:
    step = Voice(((R, SOUNDS["hi-hat"]), (L, SOUNDS["cross-stick"])))
    assert sounds(step, "R L K R") == ["hi-hat", "cross-stick", "kick", "hi-hat"]


def test_voice_remembers_the_voices_in_force() -> None:
    first = Voice(((R, SOUNDS["hi-hat"]),)).change(draft("R L"))
    second = Voice(((L, SOUNDS["ride"]),)).change(first)
    assert dict(second.voices) == {R: SOUNDS["hi-hat"], L: SOUNDS["ride"]}


@pytest.mark.parametrize(("limb", "sound"), [(R, "kick"), (L, "hi-hat-foot"), (K, "snare"), (H, "crash")])
def test_no_limb_plays_what_it_cannot_reach(limb: Limb, sound: str) -> None:
    with pytest.raises(StepError, match=f"cannot play {sound}") as caught:
        Voice(((limb, SOUNDS[sound]),))
    assert (caught.value.key, caught.value.index) == ("sounds", limb.value)


def test_move_goes_round_a_list() -> None:
    assert sounds(Move(Selection(all=True), TOMS), "R L R L") == [
        "high-tom",
        "mid-tom",
        "high-tom",
        "mid-tom",
    ]


def test_move_passes_over_the_feet() -> None:
    step = Move(Selection(at=(Place.parse("1"), Place.parse("2"))), TOMS)
    assert sounds(step, "R+K L R+K L") == ["high-tom+kick", "snare", "mid-tom+kick", "snare"]


def test_move_takes_a_foot_that_is_named() -> None:
    assert sounds(Move(Selection(limb=(K,)), (SOUNDS["hi-hat-foot"],)), "R K") == ["snare", "hi-hat-foot"] * 2


def test_move_cannot_put_a_hand_on_a_pedal() -> None:
    with pytest.raises(StepError, match="cannot play kick") as caught:
        Move(Selection(all=True), (SOUNDS["snare"], SOUNDS["kick"]))
    assert (caught.value.key, caught.value.index) == ("to", 1)


def test_spread_goes_round() -> None:
    assert sounds(Spread(TOMS), "R L R L") == ["high-tom", "mid-tom", "high-tom", "mid-tom"]


def test_spread_goes_out_and_back() -> None:
    over = (SOUNDS["snare"], SOUNDS["high-tom"], SOUNDS["mid-tom"])
    draft_of_six = set_in_time(read_order("R L"), Meter.parse("3/4"), Grid.of("8ths"), Setting(1))
    spread = Spread(over, way="out-and-back").change(draft_of_six)
    assert [slot[0].sound.name for slot in spread.pattern.slots] == [
        "snare",
        "high-tom",
        "mid-tom",
        "high-tom",
        "snare",
        "high-tom",
    ]


def test_spread_leaves_the_feet_alone() -> None:
    assert sounds(Spread(TOMS), "R K L K") == ["high-tom", "kick", "mid-tom", "kick"]


def test_one_sound_is_nothing_to_spread_over() -> None:
    with pytest.raises(StepError, match="two sounds or more"):
        Spread((SOUNDS["snare"],))


def test_a_voice_names_no_limb_that_plays_nothing() -> None:
    step = Voice(((R, SOUNDS["hi-hat"]), (L, SOUNDS["snare"])))
    assert say(step.sentence_for(Heard((), frozenset({R, K}), 1, None))) == "Right hand on the hi-hat."
    assert step.sentence_for(Heard((), frozenset({K}), 1, None)) == step.sentence()
