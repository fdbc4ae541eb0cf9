"""The sounds of a drum kit: one table, from which voicing, staff, drum key and MIDI all follow.

Staff places and heads follow Weinberg, *Guide to Standardized Drumset Notation* (Percussive Arts
Society, 1998), from memory. MIDI notes are the General MIDI 1 percussion key map (MIDI Manufacturers
Association, 1991).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from .limb import Limb


class Head(Enum):
    """The shapes of note heads."""

    NORMAL = "normal"
    CROSS = "cross"
    DIAMOND = "diamond"
    TRIANGLE = "triangle"
    SLASHED = "slashed"
    CIRCLED_CROSS = "circled cross"


@dataclass(frozen=True, slots=True)
class Sound:
    """One sound of the kit.

    `place` counts staff steps up from the middle line (a line or a space each); `midi` is a General
    MIDI key; `drum` is the name that LilyPond's drum mode knows it by; `open` asks for the small circle
    above the note.
    """

    name: str
    by_hand: bool
    place: int
    head: Head
    midi: int
    drum: str
    open: bool = False

    def __hash__(self) -> int:
        return hash(self.name)

    def can_be_played_by(self, limb: Limb) -> bool:
        """Hands play what hands play, feet what feet play."""
        return limb.is_hand == self.by_hand


_TABLE = (
    Sound("kick", False, -3, Head.NORMAL, 36, "bassdrum"),
    Sound("snare", True, 1, Head.NORMAL, 38, "acousticsnare"),
    Sound("cross-stick", True, 1, Head.CROSS, 37, "sidestick"),
    Sound("rim-shot", True, 1, Head.SLASHED, 40, "electricsnare"),
    Sound("hi-hat", True, 5, Head.CROSS, 42, "closedhihat"),
    Sound("open-hi-hat", True, 5, Head.CROSS, 46, "openhihat", open=True),
    Sound("hi-hat-foot", False, -5, Head.CROSS, 44, "pedalhihat"),
    Sound("ride", True, 4, Head.CROSS, 51, "ridecymbal"),
    Sound("ride-bell", True, 4, Head.DIAMOND, 53, "ridebell"),
    Sound("crash", True, 6, Head.CROSS, 49, "crashcymbal"),
    Sound("splash", True, 7, Head.CROSS, 55, "splashcymbal"),
    Sound("china", True, 7, Head.CIRCLED_CROSS, 52, "chinesecymbal"),
    Sound("high-tom", True, 3, Head.NORMAL, 50, "hightom"),
    Sound("mid-tom", True, 2, Head.NORMAL, 47, "lowmidtom"),
    Sound("floor-tom", True, -1, Head.NORMAL, 43, "highfloortom"),
    Sound("cowbell", True, 3, Head.TRIANGLE, 56, "cowbell"),
)

SOUNDS: dict[str, Sound] = {sound.name: sound for sound in _TABLE}

SNARE = SOUNDS["snare"]
KICK = SOUNDS["kick"]
HAT_FOOT = SOUNDS["hi-hat-foot"]


def first_sound(limb: Limb) -> Sound:
    """What a limb plays before anything is said: the snare, the kick, the hi-hat's pedal."""
    if limb.is_hand:
        return SNARE
    return KICK if limb is Limb.KICK else HAT_FOOT
