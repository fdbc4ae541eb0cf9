"""A stroke, and the slot that holds the strokes of one moment."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import Enum

from .limb import Limb
from .sound import Sound, first_sound


class Dynamic(Enum):
    """How loud a stroke is meant."""

    PLAIN = "plain"
    ACCENT = "accent"
    GHOST = "ghost"


class Ornament(Enum):
    """What a single stroke can carry: grace notes before it, or more strokes in its time."""

    FLAM = "flam"
    DRAG = "drag"
    BUZZ = "buzz"
    DIDDLE = "diddle"


_GRACES: dict[Ornament | None, int] = {Ornament.FLAM: 1, Ornament.DRAG: 2}


@dataclass(frozen=True, slots=True)
class Stroke:
    """One stroke of one limb on one sound."""

    limb: Limb
    sound: Sound
    dynamic: Dynamic = Dynamic.PLAIN
    ornament: Ornament | None = None

    @property
    def graces(self) -> tuple[Limb, ...]:
        """The limbs that play the grace notes before it: the other hand, once or twice."""
        return (self.limb.mirrored,) * _GRACES.get(self.ornament, 0)


Slot = tuple[Stroke, ...]
"""The strokes of one moment, at most one a limb, in the order R L K H. Empty: silence."""

SILENCE: Slot = ()


def slot_of(strokes: Iterable[Stroke]) -> Slot:
    """Put strokes that sound together into one slot.

    Raises ValueError when one limb would have to play two of them.
    """
    together = sorted(strokes, key=lambda stroke: stroke.limb.rank)
    limbs = [stroke.limb for stroke in together]
    for limb in Limb:
        if limbs.count(limb) > 1:
            raise ValueError(f"{limb.value} would play twice at the same time")
    return tuple(together)


def plain_stroke(limb: Limb, dynamic: Dynamic = Dynamic.PLAIN) -> Stroke:
    """A stroke on what its limb plays before anything is said."""
    return Stroke(limb, first_sound(limb), dynamic)


def ornamented(slot: Slot, ornament: Ornament) -> Slot:
    """The slot with an ornament on what the hands play there, or on the feet's where no hand plays.

    Raises ValueError where nothing there can carry it.
    """
    hands = [stroke for stroke in slot if stroke.limb.is_hand]
    if not slot:
        raise ValueError("is silent")
    if not hands and ornament is not Ornament.DIDDLE:
        raise ValueError(f"is a foot's; a foot plays diddles, and no {ornament.value}")
    if len(hands) > 1 and ornament in (Ornament.FLAM, Ornament.DRAG):
        raise ValueError(f"is both hands'; a {ornament.value} needs one of them before it")
    if any(stroke.ornament for stroke in slot):
        raise ValueError("has an ornament already")
    carriers = hands or slot
    return tuple(replace(stroke, ornament=ornament) if stroke in carriers else stroke for stroke in slot)
