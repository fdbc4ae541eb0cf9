"""What could also be: where another hand would cost about as much as the one that was chosen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..pattern.stroke import Slot
from .hands import NOTHING, State, microseconds, without_lead
from .path import Moments, Way, other_ways, shortest

NEARLY = 5_000
"""Microseconds by which another way may cost more in all and still be as good."""

_MOST_NAMED = 8


def could_also_be(
    moments: Moments[State], way: Way[State], loops: bool, offered: Sequence[tuple[str, Sequence[Slot]]]
) -> Iterator[str]:
    """What the hands could also do, in words; `offered` are each moment's name and choices.

    First whether all of it could be played with the hands exchanged; then, with the same hand to begin,
    which strokes could change hands.
    """
    open_ones = [number for number, choices in enumerate(moments.choices) if len(choices) > 1]
    least = microseconds(way.cost) + NEARLY
    if all(len(slots) > 1 or not _by_hands(slots[0]) for _, slots in offered):
        turned = _only(moments, {number: 1 - way.choices[number] for number in open_ones})
        if without_lead(shortest(turned, NOTHING, loops).cost) == without_lead(way.cost):
            yield "the hands could also be exchanged throughout"
    pinned = _only(moments, {open_ones[0]: way.choices[open_ones[0]]})
    costs = other_ways(pinned, way, loops)
    strokes: dict[str, list[str]] = {}
    for number in open_ones[1:]:
        other = 1 - way.choices[number]
        if other in costs[number] and microseconds(costs[number][other]) <= least:
            name, slots = offered[number]
            strokes.setdefault(_in_words(slots[other]), []).append(name)
    for hands, names in strokes.items():
        yield f"could also be {hands} on {listed(names)}"


def _only(moments: Moments[State], chosen: dict[int, int]) -> Moments[State]:
    """The same moments where some have one choice alone."""
    choices = [(chosen[number],) if number in chosen else all_ for number, all_ in enumerate(moments.choices)]
    return Moments(choices, moments.step, moments.wrapped)


def _by_hands(slot: Slot) -> bool:
    return any(stroke.limb.is_hand for stroke in slot)


def _in_words(slot: Slot) -> str:
    """Which hand, where one plays; which hand on what, where both do."""
    hands = [stroke for stroke in slot if stroke.limb.is_hand]
    if len(hands) == 1:
        return hands[0].limb.value
    return " and ".join(f"{stroke.limb.value} on {stroke.sound.name}" for stroke in hands)


def listed(names: Sequence[str]) -> str:
    """The first of some places, and how many more there are."""
    named = ", ".join(names[:_MOST_NAMED])
    more = len(names) - _MOST_NAMED
    return f"{named} and {more} more" if more > 0 else named
