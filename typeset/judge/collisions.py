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

_HANDS = 3
_PEDAL = "hi-hat-foot"
_ASKS_THE_OTHER = (Ornament.FLAM, Ornament.DRAG)


class Clash(Enum):
    """What collides."""

    ONE_LIMB_TWICE = "one limb twice"
    THREE_HANDS = "three hands"
    TOGETHER = "together"
    CROSSED_HANDS = "crossed hands"
    SMALL_SOUND = "small sound"
    OPEN_AND_SHUT = "open and shut"
    SHUT_TWICE = "shut twice"


_AT_THE_PEDAL = {"open-hi-hat": Clash.OPEN_AND_SHUT, "hi-hat": Clash.SHUT_TWICE}
"""What a stick on the hi-hat comes to where the foot strikes with it."""


@dataclass(frozen=True, slots=True)
class Collision:
    """What collides at which place, the limbs and sounds it takes, and for crossed hands by how many cm.

    `bar` counts from 1, and is 0 in a pickup; `place` names its bar too when the pattern has several.
    """

    clash: Clash
    bar: int
    place: Place
    limbs: tuple[Limb, ...]
    sounds: tuple[Sound, ...]
    cm: int | None = None

    @property
    def can_be_played(self) -> bool:
        """True for what is only awkward: crossed hands, a small cymbal, a hi-hat that sounds otherwise."""
        return self.clash in _AWKWARD


_AWKWARD = (Clash.CROSSED_HANDS, Clash.SMALL_SOUND, Clash.OPEN_AND_SHUT, Clash.SHUT_TWICE)


def collisions(pattern: Pattern, kit: Kit, linear: bool = False, loops: bool = False) -> tuple[Collision, ...]:
    """Everything that collides, in order of time; `linear` makes any two strokes together a collision.

    In a loop the hands come from its end to its start.
    """
    return collisions_of(timeline(pattern), pattern, kit, linear, loops)


def collisions_of(
    line: Timeline, pattern: Pattern, kit: Kit, linear: bool = False, loops: bool = False
) -> tuple[Collision, ...]:
    """The collisions of a pattern whose timeline is at hand."""
    found: list[Collision] = []
    crossing = _ever_cross(line, kit)
    for index, moment in enumerate(line.moments):
        if len(moment.strokes) > 1:
            clashes = _at_once(moment, kit, linear)
        elif crossing and moment.mask & _HANDS:
            clashes = _reaching_past(line, index, loops, kit)
        else:
            continue
        for clash, strokes, cm in clashes:
            place = place_at(pattern, moment.bar, moment.slot)
            limbs = tuple(stroke.limb for stroke in strokes)
            sounds = tuple(stroke.sound for stroke in strokes)
            found.append(Collision(clash, moment.bar + 1, place, limbs, sounds, cm))
    return tuple(found)


_Found = Iterator[tuple[Clash, Slot, int | None]]


def _ever_cross(line: Timeline, kit: Kit) -> bool:
    """True when the hands use surfaces that they would have to cross too far for; most patterns have none."""
    rights = {kit.targets[hit.sound].x for hit in line.hits[0]}
    lefts = {kit.targets[hit.sound].x for hit in line.hits[1]}
    return bool(rights and lefts) and max(lefts) - min(rights) > kit.crossing


def _at_once(moment: Moment, kit: Kit, linear: bool) -> _Found:
    """What strokes that sound together do to each other."""
    strokes = moment.strokes
    if linear:
        yield Clash.TOGETHER, strokes, None
    for limb in Limb:
        same = tuple(stroke for stroke in strokes if stroke.limb is limb)
        if len(same) > 1:
            yield Clash.ONE_LIMB_TWICE, same, None
    hands = tuple(stroke for limb in (Limb.RIGHT, Limb.LEFT) for stroke in strokes if stroke.limb is limb)
    if len(hands) + any(stroke.ornament in _ASKS_THE_OTHER for stroke in hands) > 2:
        yield Clash.THREE_HANDS, hands, None
    elif moment.mask & _HANDS == _HANDS:
        right, left = hands
        crossed = _crossed_by(right, left, kit)
        if crossed > kit.crossing:
            yield Clash.CROSSED_HANDS, hands, round(crossed)
        if _share_a_small_sound(right, left, kit):
            yield Clash.SMALL_SOUND, hands, None
    yield from _at_the_hi_hat(strokes)


def _reaching_past(line: Timeline, index: int, loops: bool, kit: Kit) -> _Found:
    """Hands that cross because the other one has no time to get out of the way of the middle stroke."""
    for before, middle, after in _framed(line, index, loops):
        stroke = middle.strokes[0]
        others = [one for moment in (before, after) for one in moment.strokes if one.limb is stroke.limb.mirrored]
        pairs = [(one, stroke) if stroke.limb is Limb.LEFT else (stroke, one) for one in others]
        crossed = min(_crossed_by(right, left, kit) for right, left in pairs)
        if crossed > kit.crossing:
            yield Clash.CROSSED_HANDS, pairs[0], round(crossed)
            return


def _framed(line: Timeline, index: int, loops: bool) -> Iterator[tuple[Moment, Moment, Moment]]:
    """A hand's stroke with those of the other hand right before and after it, an eighth apart or less.

    In a loop the last comes before the first as well, and the first after the last.
    """
    moments = line.moments
    middle = moments[index]
    other = _HANDS & ~middle.mask
    befores, afters = moments[max(0, index - 1) : index], moments[index + 1 : index + 2]
    if loops:
        # A pickup is played once, and the loop leads back to bar 1.
        first = next((place for place, moment in enumerate(moments) if moment.bar >= 0), 0)
        if index == first:
            befores = [*befores, _later(moments[-1], -line.length)]
        if index == len(moments) - 1:
            afters = [_later(moments[first], line.length)]
    for before in befores:
        for after in afters:
            if before.mask & after.mask & other == other and 8 * (after.tick - before.tick) <= line.whole:
                yield before, middle, after


def _later(moment: Moment, ticks: int) -> Moment:
    return moment._replace(tick=moment.tick + ticks)


def _at_the_hi_hat(strokes: Slot) -> _Found:
    """A stick on the hi-hat that the foot is closing at that moment, whatever it is meant to sound like."""
    feet = [stroke for stroke in strokes if not stroke.limb.is_hand and stroke.sound.name == _PEDAL]
    for stroke in strokes:
        clash = _AT_THE_PEDAL.get(stroke.sound.name)
        if feet and clash:
            yield clash, (stroke, feet[0]), None


def _crossed_by(right: Stroke, left: Stroke, kit: Kit) -> float:
    """How many cm the left hand is to the right of the right hand; below 0 when they are not crossed."""
    return kit.targets[left.sound.name].x - kit.targets[right.sound.name].x


def _share_a_small_sound(right: Stroke, left: Stroke, kit: Kit) -> bool:
    """True when both sticks go to one small thing, by one name or by two (hi-hat, open hi-hat)."""
    if right.sound.name not in kit.small or left.sound.name not in kit.small:
        return False
    first, second = kit.targets[right.sound.name], kit.targets[left.sound.name]
    return dist((first.x, first.y, first.z), (second.x, second.y, second.z)) < min(first.width, second.width) / 2
