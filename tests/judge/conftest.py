"""A player and a kit with round figures, so that every ceiling can be worked out in the head."""

import random
from collections.abc import Callable
from dataclasses import replace

import pytest

from typeset.judge.kit import Kit, Target
from typeset.judge.player import LimbTimes, Player
from typeset.pattern.bar import Pattern, empty_bar
from typeset.pattern.draft import Setting, set_in_time
from typeset.pattern.grid import Grid
from typeset.pattern.limb import Limb
from typeset.pattern.meter import Meter
from typeset.pattern.order import read_order
from typeset.pattern.sound import SOUNDS, Sound, first_sound
from typeset.pattern.stroke import Dynamic, Ornament, Slot, Stroke, slot_of

MS = 1000


@pytest.fixture
def player() -> Player:
    return Player(
        name="round figures",
        hand=LimbTimes(alternating=200 * MS, rebound=100 * MS, repeated=150 * MS, ghost=180 * MS),
        kick=LimbTimes(alternating=250 * MS, rebound=150 * MS, repeated=200 * MS, ghost=220 * MS),
        hat=LimbTimes(alternating=300 * MS, rebound=200 * MS, repeated=240 * MS, ghost=260 * MS),
        grace=190 * MS,
        drag=260 * MS,
        buzz=210 * MS,
        reach=10 * MS,
        bit=40 * MS,
    )


@pytest.fixture
def kit() -> Kit:
    """Everything is where the snare is, 20 cm wide, but for floor tom and hi-hat.

    The floor tom is 40 cm to the right: 2 bits, which take 90 ms. The hi-hat, twice as wide, is 40 cm to the
    left: 1 bit, which takes 50 ms.
    """
    targets = dict.fromkeys(SOUNDS, Target(0, 30, 65, 20))
    targets["floor-tom"] = Target(40, 30, 65, 20)
    targets["hi-hat"] = targets["open-hi-hat"] = Target(-40, 30, 65, 40)
    return Kit("round figures", targets, crossing=45, small=frozenset({"hi-hat", "open-hi-hat", "splash"}))


Played = Callable[..., Pattern]


@pytest.fixture
def played() -> Played:
    """Set an order in time: `played("R L", grid="8ths", ornaments={1: "flam"}, sounds={2: "ride"})`.

    `ornaments` and `sounds` go to the hand's stroke in that slot, counted from 1.
    """

    def play(
        order: str,
        meter: str = "4/4",
        grid: str = "16ths",
        bars: int | None = None,
        voices: dict[str, str] | None = None,
        ornaments: dict[int, str] | None = None,
        sounds: dict[int, str] | None = None,
    ) -> Pattern:
        draft = set_in_time(read_order(order), Meter.parse(meter), Grid.of(*grid.split()), Setting(bars))
        voiced = {Limb(letter): SOUNDS[sound] for letter, sound in (voices or {}).items()}
        slots = [
            [replace(stroke, sound=voiced.get(stroke.limb, stroke.sound)) for stroke in slot]
            for slot in draft.pattern.slots
        ]
        for place, name in (ornaments or {}).items():
            slots[place - 1][0] = replace(slots[place - 1][0], ornament=Ornament(name))
        for place, name in (sounds or {}).items():
            slots[place - 1][0] = replace(slots[place - 1][0], sound=SOUNDS[name])
        return draft.pattern.with_slots([tuple(slot) for slot in slots])

    return play


GRIDS = {
    "4/4": ["8ths", "16ths", "triplets", "16ths sextuplets", "8ths quintuplets 16ths"],
    "3/4": ["16ths", "septuplets 8ths"],
    "2/2": ["8ths", "8ths 16ths"],
    "6/8": ["8ths", "16ths"],
    "7/8": ["16ths"],
    "5/8": ["32nds"],
}
HANDS_PLAY = [sound for sound in SOUNDS.values() if sound.by_hand]


@pytest.fixture
def random_pattern() -> Callable[[random.Random], Pattern]:
    """Make a pattern of one or two bars with a given die: any limbs, surfaces, dynamics and ornaments."""

    def make(dice: random.Random) -> Pattern:
        meter = dice.choice(list(GRIDS))
        bar = empty_bar(Meter.parse(meter), Grid.of(*dice.choice(GRIDS[meter]).split()))
        surfaces = dice.sample(HANDS_PLAY, dice.choice([1, 1, 2, 4]))
        limbs = dice.sample(list(Limb), dice.choice([1, 2, 2, 3, 4]))
        rests, odd = dice.random() * 0.6, dice.random() * 0.5
        bars = range(dice.choice([1, 1, 1, 2]))
        return Pattern(
            tuple(
                bar.with_slots([_random_slot(dice, limbs, surfaces, rests, odd) for _ in bar.slots]) for _ in bars
            )
        )

    return make


def _random_slot(dice: random.Random, limbs: list[Limb], surfaces: list[Sound], rests: float, odd: float) -> Slot:
    if dice.random() < rests:
        return ()
    together = dice.sample(limbs, min(dice.choice([1, 1, 1, 2]), len(limbs)))
    return slot_of(_random_stroke(dice, limb, surfaces, odd) for limb in together)


def _random_stroke(dice: random.Random, limb: Limb, surfaces: list[Sound], odd: float) -> Stroke:
    sound = dice.choice(surfaces) if limb.is_hand else first_sound(limb)
    dynamic = dice.choice(list(Dynamic)) if dice.random() < odd else Dynamic.PLAIN
    ornament = dice.choice(list(Ornament)) if dice.random() < odd / 2 else None
    return Stroke(limb, sound, dynamic, ornament)
