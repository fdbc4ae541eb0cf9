"""Collisions: what two hands and two feet cannot do at the same time."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from math import dist

from ..pattern.bar import Pattern
from ..pattern.counts import Place
from ..pattern.limb import Limb
from ..pattern.sound import Sound
from ..pattern.stroke import Ornament, Slot, Stroke
from .kit import Kit
from .places import place_at
from .timeline import Moment, Timeline, timeline

_BOTH_HANDS = 3


class Clash(Enum):
    """What collides."""

    ONE_LIMB_TWICE = "one limb twice"
    THREE_HANDS = "three hands"
    TOGETHER = "together"
    CROSSED_HANDS = "crossed hands"
    SMALL_SOUND = "small sound"


@dataclass(frozen=True, slots=True)
class Collision:
    """What collides at which place, the limbs and sounds it takes, and for crossed hands by how many cm.

    `bar` counts from 1; `place` names its bar too when the pattern has several.
    """

    clash: Clash
    bar: int
    place: Place
    limbs: tuple[Limb, ...]
    sounds: tuple[Sound, ...]
    cm: int | None = None

    @property
    def can_be_played(self) -> bool:
        """True for what is only awkward: crossed hands, two sticks on a small cymbal."""
        return self.clash in (Clash.CROSSED_HANDS, Clash.SMALL_SOUND)


def collisions(pattern: Pattern, kit: Kit, linear: bool = False) -> tuple[Collision, ...]:
    """Everything that collides, in order of time; `linear` makes any two strokes together a collision."""
    return collisions_of(timeline(pattern), pattern, kit, linear)


def collisions_of(line: Timeline, pattern: Pattern, kit: Kit, linear: bool = False) -> tuple[Collision, ...]:
    """The collisions of a pattern whose timeline is at hand."""
    found: list[Collision] = []
    for moment in line.moments:
        # Nearly every moment is one stroke without an ornament, which collides with nothing.
        if len(moment.strokes) == 1:
            continue
        for clash, strokes, cm in _clashes(moment, kit, linear):
            place = place_at(pattern, moment.bar, moment.slot)
            limbs = tuple(stroke.limb for stroke in strokes)
            found.append(
                Collision(clash, moment.bar + 1, place, limbs, tuple(stroke.sound for stroke in strokes), cm)
            )
    return tuple(found)


def _clashes(moment: Moment, kit: Kit, linear: bool) -> Iterator[tuple[Clash, Slot, int | None]]:
    strokes = moment.strokes
    if linear:
        yield Clash.TOGETHER, strokes, None
    for limb in Limb:
        same = tuple(stroke for stroke in strokes if stroke.limb is limb)
        if len(same) > 1:
            yield Clash.ONE_LIMB_TWICE, same, None
    if moment.mask & _BOTH_HANDS == 0:
        return
    hands = tuple(stroke for stroke in strokes if stroke.limb.is_hand)
    if len(hands) + any(stroke.ornament in (Ornament.FLAM, Ornament.DRAG) for stroke in hands) > 2:
        yield Clash.THREE_HANDS, hands, None
    elif moment.mask & _BOTH_HANDS == _BOTH_HANDS:
        yield from _two_hands(hands, kit)


def _two_hands(hands: Slot, kit: Kit) -> Iterator[tuple[Clash, Slot, int | None]]:
    """What the two hands, one stroke each, do to each other."""
    right, left = hands
    crossed = kit.targets[left.sound.name].x - kit.targets[right.sound.name].x
    if crossed > kit.crossing:
        yield Clash.CROSSED_HANDS, hands, round(crossed)
    if _share_a_small_sound(right, left, kit):
        yield Clash.SMALL_SOUND, hands, None


def _share_a_small_sound(right: Stroke, left: Stroke, kit: Kit) -> bool:
    """True when both sticks go to one small thing, by one name or by two (hi-hat, open hi-hat)."""
    if right.sound.name not in kit.small or left.sound.name not in kit.small:
        return False
    first, second = kit.targets[right.sound.name], kit.targets[left.sound.name]
    return (
        dist((first.x, first.y, first.z), (second.x, second.y, second.z)) < min(first.width, second.width) / 2
    )
