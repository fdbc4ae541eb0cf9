import pytest

from typeset.pattern.limb import Limb
from typeset.pattern.order import SequenceError, read_order, write_order
from typeset.pattern.stroke import Dynamic


def test_spaces_are_free() -> None:
    assert read_order("RLR KL") == read_order("R L R K L")


def test_a_dot_is_a_silent_slot() -> None:
    assert [len(slot) for slot in read_order("R . L")] == [1, 0, 1]


def test_an_order_may_be_silence_alone_to_be_joined_to_others() -> None:
    assert read_order(". .") == ((), ())


def test_a_small_letter_is_a_ghost_stroke() -> None:
    assert read_order("r")[0][0].dynamic is Dynamic.GHOST


def test_a_mark_of_exclamation_is_an_accent() -> None:
    assert read_order("R! L")[0][0].dynamic is Dynamic.ACCENT


def test_plus_puts_strokes_together_in_the_order_of_limbs() -> None:
    (slot,) = read_order("K+R")
    assert [stroke.limb for stroke in slot] == [Limb.RIGHT, Limb.KICK]


def test_a_group_repeats() -> None:
    assert write_order(read_order("(R L K)x3")) == "R L K R L K R L K"


def test_groups_stand_inside_each_other() -> None:
    assert write_order(read_order("((R L)x2 K) x2 .")) == "R L R L K R L R L K ."


def test_what_is_read_is_written_the_same() -> None:
    text = "R L R! k . R+K h L!+K"
    assert write_order(read_order(text)) == text.replace("k", "k")


def test_before_anything_is_said_hands_play_the_snare_and_feet_their_pedals() -> None:
    order = read_order("R L K H")
    assert [slot[0].sound.name for slot in order] == ["snare", "snare", "kick", "hi-hat-foot"]


@pytest.mark.parametrize(
    ("text", "offset", "part"),
    [
        ("R X", 2, "'X' is no stroke"),
        ("R (L K", 2, "no )"),
        ("R+R", 0, "R would play twice"),
        ("R+", 2, "the end is no stroke"),
        ("r! L", 1, "ghost stroke and an accent"),
        ("", 0, "nothing in this sequence"),
        ("(R)x0", 3, "at least once"),
        ("(R L)x999999", 0, "more than 1024"),
        ("R)", 1, "')' is no stroke"),
        ("(((((((((R)))))))))", 8, "more than 8 deep"),
    ],
)
def test_a_mistake_is_told_with_its_place(text: str, offset: int, part: str) -> None:
    with pytest.raises(SequenceError, match=part.replace("(", r"\(").replace(")", r"\)")) as caught:
        read_order(text)
    assert caught.value.offset == offset
