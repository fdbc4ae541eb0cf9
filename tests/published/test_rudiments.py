"""The forty International Drum Rudiments of the Percussive Arts Society.

Names, their order on the list and their stickings are from memory: nobody looked at the list itself. What a
rule says of several rudiments at once is common practice, no source.
"""

from pathlib import Path

import pytest

from typeset.manuscript.shared import SharedSequence, SharedSequences
from typeset.pattern.bar import empty_bar
from typeset.pattern.grid import SIXTEENTHS
from typeset.pattern.limb import Limb
from typeset.pattern.meter import COMMON_TIME
from typeset.pattern.mirror import mirrored
from typeset.pattern.order import Order
from typeset.pattern.stroke import Dynamic, Ornament, Slot, Stroke

SHARED = SharedSequences(Path("no such folder"))

# As players write them: small letters are grace strokes, two capitals together a diddle, z a buzz. One round, led
# by the right hand; silence is left out.
STICKINGS = {
    "single-stroke-roll": "R L",
    "single-stroke-four": "R L R L",
    "single-stroke-seven": "R L R L R L R",
    "multiple-bounce-roll": "zR zL",
    "triple-stroke-roll": "R R R L L L",
    "double-stroke-open-roll": "R R L L",
    "five-stroke-roll": "R R L L R",
    "six-stroke-roll": "R L L R R L",
    "seven-stroke-roll": "R R L L R R L",
    "nine-stroke-roll": "R R L L R R L L R",
    "ten-stroke-roll": "R R L L R R L L R L",
    "eleven-stroke-roll": "R R L L R R L L R R L",
    "thirteen-stroke-roll": "R R L L R R L L R R L L R",
    "fifteen-stroke-roll": "R R L L R R L L R R L L R R L",
    "seventeen-stroke-roll": "R R L L R R L L R R L L R R L L R",
    "single-paradiddle": "R L R R",
    "double-paradiddle": "R L R L R R",
    "triple-paradiddle": "R L R L R L R R",
    "single-paradiddle-diddle": "R L R R L L",
    "flam": "lR",
    "flam-accent": "lR L R",
    "flam-tap": "lR R",
    "flamacue": "lR L R L lR",
    "flam-paradiddle": "lR L R R",
    "single-flammed-mill": "lR R L R",
    "flam-paradiddle-diddle": "lR L R R L L",
    "pataflafla": "lR L R rL",
    "swiss-army-triplet": "lR R L",
    "inverted-flam-tap": "lR L",
    "flam-drag": "lR LL R",
    "drag": "llR",
    "single-drag-tap": "llR L",
    "double-drag-tap": "llR llR L",
    "lesson-25": "llR L R",
    "single-dragadiddle": "RR L R R",
    "drag-paradiddle-1": "R llR L R R",
    "drag-paradiddle-2": "R llR llR L R R",
    "single-ratamacue": "llR L R L",
    "double-ratamacue": "llR llR L R L",
    "triple-ratamacue": "llR llR llR L R L",
}

# Those in which the same hand leads every time, until the player turns them.
KEEP_THEIR_HAND = {
    "single-stroke-four",
    "six-stroke-roll",
    "seven-stroke-roll",
    "ten-stroke-roll",
    "eleven-stroke-roll",
    "fifteen-stroke-roll",
    "single-paradiddle-diddle",
    "pataflafla",
    "swiss-army-triplet",
    "lesson-25",
}

# The shortest cycles of what has no fixed length, and the triple strokes: both hands are in one round.
BOTH_HANDS = {
    "single-stroke-roll",
    "multiple-bounce-roll",
    "triple-stroke-roll",
    "double-stroke-open-roll",
}

NUMBERED = {
    "single-stroke-four": 4,
    "single-stroke-seven": 7,
    "five-stroke-roll": 5,
    "six-stroke-roll": 6,
    "seven-stroke-roll": 7,
    "nine-stroke-roll": 9,
    "ten-stroke-roll": 10,
    "eleven-stroke-roll": 11,
    "thirteen-stroke-roll": 13,
    "fifteen-stroke-roll": 15,
    "seventeen-stroke-roll": 17,
}
OPEN_ROLLS = [
    f"{number}-stroke-roll" for number in ("five", "seven", "nine", "eleven", "thirteen", "fifteen", "seventeen")
]

EVERY_RUDIMENT = pytest.mark.parametrize("name", STICKINGS)


def rudiment(name: str) -> SharedSequence:
    found = SHARED.find(f"rudiments/{name}")
    assert found is not None
    return found


def order_of(name: str) -> Order:
    order = rudiment(name).order
    assert order is not None
    return order


def one_round(name: str) -> Order:
    """The rudiment led by the right hand, without its mirror image."""
    order = order_of(name)
    return order if name in KEEP_THEIR_HAND or name in BOTH_HANDS else order[: len(order) // 2]


def strokes_of(order: Order) -> list[Stroke]:
    return [stroke for slot in order for stroke in slot]


def as_players_write(slot: Slot) -> str:
    (stroke,) = slot
    letter, other = stroke.limb.value, stroke.limb.mirrored.value.lower()
    written = {
        None: letter,
        Ornament.FLAM: other + letter,
        Ornament.DRAG: 2 * other + letter,
        Ornament.BUZZ: "z" + letter,
        Ornament.DIDDLE: 2 * letter,
    }
    return written[stroke.ornament]


def test_there_are_forty() -> None:
    assert len(STICKINGS) == 40


def test_they_stand_in_the_order_of_the_list() -> None:
    names = [name.removeprefix("rudiments/") for name in SHARED.names() if name.startswith("rudiments/")]
    assert names == list(STICKINGS)


@EVERY_RUDIMENT
def test_the_sticking_is_the_one_that_players_know(name: str) -> None:
    assert " ".join(as_players_write(slot) for slot in one_round(name) if slot) == STICKINGS[name]


@EVERY_RUDIMENT
def test_a_rudiment_that_changes_hands_answers_itself_in_the_mirror(name: str) -> None:
    order = order_of(name)
    half = len(order) // 2
    assert (order[half:] == mirrored(order[:half])) is (name not in KEEP_THEIR_HAND)


@EVERY_RUDIMENT
def test_the_right_hand_leads(name: str) -> None:
    assert order_of(name)[0][0].limb is Limb.RIGHT


@pytest.mark.parametrize("name", NUMBERED)
def test_a_roll_has_as_many_strokes_as_its_name_says(name: str) -> None:
    assert len(strokes_of(one_round(name))) == NUMBERED[name]


@pytest.mark.parametrize("name", OPEN_ROLLS)
def test_an_open_roll_is_doubles_and_an_accent(name: str) -> None:
    *doubles, last = strokes_of(one_round(name))
    assert [stroke.limb for stroke in doubles[::2]] == [stroke.limb for stroke in doubles[1::2]]
    assert [stroke.dynamic for stroke in doubles] == [Dynamic.PLAIN] * len(doubles)
    assert last.dynamic is Dynamic.ACCENT
    assert last.limb is not doubles[-1].limb


@pytest.mark.parametrize("name", ["single-stroke-roll", "single-stroke-seven", "single-stroke-four"])
def test_single_strokes_alternate_round_and_round(name: str) -> None:
    limbs = [stroke.limb for stroke in strokes_of(order_of(name))]
    assert all(one is not next_one for one, next_one in zip(limbs, [*limbs[1:], limbs[0]], strict=True))


@pytest.mark.parametrize(("name", "pairs"), [("single", 1), ("double", 2), ("triple", 3)])
def test_a_paradiddle_is_pairs_of_singles_and_a_double(name: str, pairs: int) -> None:
    limbs = "".join(stroke.limb.value for stroke in strokes_of(one_round(f"{name}-paradiddle")))
    assert limbs == "RL" * pairs + "RR"


@pytest.mark.parametrize(("name", "drags"), [("single", 1), ("double", 2), ("triple", 3)])
def test_a_ratamacue_is_drags_three_strokes_and_an_accent(name: str, drags: int) -> None:
    strokes = strokes_of(one_round(f"{name}-ratamacue"))
    assert [stroke.ornament for stroke in strokes] == [Ornament.DRAG] * drags + [None] * 3
    assert [stroke.dynamic for stroke in strokes].index(Dynamic.ACCENT) == len(strokes) - 1


@EVERY_RUDIMENT
def test_flam_rudiments_have_flams_and_drag_rudiments_drags(name: str) -> None:
    ornaments = {stroke.ornament for stroke in strokes_of(order_of(name))}
    place = list(STICKINGS).index(name)
    flams, drags = list(STICKINGS).index("flam"), list(STICKINGS).index("drag")
    assert (Ornament.FLAM in ornaments) is (flams <= place < drags)
    # The dragadiddle begins with its drag as a full diddle.
    wanted = Ornament.DIDDLE if name == "single-dragadiddle" else Ornament.DRAG
    assert (wanted in ornaments) is (place >= drags)


@EVERY_RUDIMENT
def test_a_rudiment_goes_evenly_into_bars_as_it_is_usually_set(name: str) -> None:
    found = rudiment(name)
    bar = len(empty_bar(found.meter or COMMON_TIME, found.grid or SIXTEENTHS).slots)
    assert len(order_of(name)) % bar == 0 or bar % len(order_of(name)) == 0
