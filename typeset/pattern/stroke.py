"""A stroke, and the slot that holds the strokes of one moment."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import Enum
from functools import cached_property, lru_cache
from itertools import pairwise

from .limb import Limb
from .sound import Sound, first_sound


class Dynamic(Enum):
    """How loud a stroke is meant."""

    __hash__ = object.__hash__

    PLAIN = "plain"
    ACCENT = "accent"
    GHOST = "ghost"


class Ornament(Enum):
    """What a single stroke can carry: grace notes before it, or more strokes in its time."""

    __hash__ = object.__hash__

    FLAM = "flam"
    DRAG = "drag"
    BUZZ = "buzz"
    DIDDLE = "diddle"


_GRACES: dict[Ornament | None, int] = {Ornament.FLAM: 1, Ornament.DRAG: 2}


@dataclass(frozen=True)
class Stroke:
    """One stroke of one limb on one sound."""

    limb: Limb
    sound: Sound
    dynamic: Dynamic = Dynamic.PLAIN
    ornament: Ornament | None = None

    def __hash__(self) -> int:
        return self._hash

    def __reduce__(self) -> tuple[Callable[..., Stroke], tuple[Limb, Sound, Dynamic, Ornament | None]]:
        """It travels without its hash, which is another in another process."""
        return stroke_of, (self.limb, self.sound, self.dynamic, self.ornament)

    @cached_property
    def _hash(self) -> int:
        return hash((self.limb, self.sound, self.dynamic, self.ornament))

    def on(self, sound: Sound) -> Stroke:
        """The same stroke on another sound."""
        return stroke_of(self.limb, sound, self.dynamic, self.ornament)

    def played(self, dynamic: Dynamic) -> Stroke:
        """The same stroke in another dynamic."""
        return stroke_of(self.limb, self.sound, dynamic, self.ornament)

    def carrying(self, ornament: Ornament | None) -> Stroke:
        """The same stroke with an ornament, or without one."""
        return stroke_of(self.limb, self.sound, self.dynamic, ornament)

    @property
    def graces(self) -> tuple[Limb, ...]:
        """The limbs that play the grace notes before it: the other hand, once or twice."""
        return (self.limb.mirrored,) * _GRACES.get(self.ornament, 0)


@lru_cache(maxsize=4096)
def stroke_of(limb: Limb, sound: Sound, dynamic: Dynamic, ornament: Ornament | None) -> Stroke:
    """A stroke. There are few different ones, and music is made of them again and again, so each is made once."""
    return Stroke(limb, sound, dynamic, ornament)


Slot = tuple[Stroke, ...]
"""The strokes of one moment, at most one a limb, in the order R L K H. Empty: silence."""

SILENCE: Slot = ()


def slot_of(strokes: Iterable[Stroke]) -> Slot:
    """Put strokes that sound together into one slot.

    Raises ValueError when one limb would have to play two of them.
    """
    together = tuple(sorted(strokes, key=lambda stroke: stroke.limb.rank))
    for before, stroke in pairwise(together):
        if before.limb is stroke.limb:
            raise ValueError(f"{stroke.limb.value} would play twice at the same time")
    return together


def plain_stroke(limb: Limb, dynamic: Dynamic = Dynamic.PLAIN) -> Stroke:
    """A stroke on what its limb plays before anything is said."""
    return stroke_of(limb, first_sound(limb), dynamic, None)


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
    return tuple(stroke.carrying(ornament) if stroke in carriers else stroke for stroke in slot)
