"""What it costs to play a stroke with one hand or the other, by the judge's figures.

The cost of a way through the music is, in microseconds, the time that the hands spend moving, a strain for
every stroke that comes soon after the same hand's last, and a little for what players avoid. What is equal then
goes to uncrossed hands, to alternation, and to the right hand for the first stroke. What players avoid and
prefer is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from ..judge.ceiling import time_needed
from ..judge.collisions import collisions
from ..judge.kit import Kit
from ..judge.player import Player
from ..judge.timeline import GRACE, SECOND, Hit, Timeline
from ..pattern.bar import Bar, Beat, Pattern
from ..pattern.meter import COMMON_TIME
from ..pattern.stroke import Slot

_UNIT = 1 << 44
"""A microsecond; below it there is room for the counts that decide between equals."""

_CROSSED, _AGAIN, _FIRST = 1 << 30, 1 << 16, 1

_STRAIN = 1_000_000
"""What a stroke costs where its hand has half of the time that it needs left; below half, strain is nothing.
Our own estimate, set so that sixteenths on a cymbal go to both hands from about 90 quarters a minute."""

_UNPLAYABLE = 10_000_000
"""What a stroke costs for which there is less time than it needs, or that the hands cross too far for."""

_AGAIN_BY_TURNS, _AGAIN_IN_HASTE = 70_000, 30_000
"""What it costs to strike with the hand that struck last where hands take turns: on drums, and on a cymbal that
both are at; a little more than a usual move. A line on a cymbal that one hand has alone stays there, and costs
something only where it is a strain. Our own estimate."""

_LEFT_ON_CYMBAL, _LEFT_ON_BEAT = 15_000, 20_000
"""What it costs the left hand to strike a cymbal alone, for the right hand has the hi-hat and the ride; and to
strike one on a beat, for the right hand leads. Our own estimate."""

_IN_THE_WAY = 100_000
"""What it costs to strike while the hands cross farther than they may at one moment. Our own estimate."""

_CYMBALS = {"hi-hat", "open-hi-hat", "ride", "ride-bell", "crash", "splash", "china", "cowbell"}

FREE = -1
"""Stands for the time before a hand's last stroke where the other hand struck in between."""


class Hand(NamedTuple):
    """A hand's last stroke: when, on what, what was special about it, and how long before it the last was."""

    tick: int
    sound: str
    marks: int
    before: int


State = tuple[Hand | None, Hand | None]
"""The right hand and the left; None before their first strokes."""

NOTHING: State = (None, None)


class Hands:
    """Follows both hands through a pattern's moments, whose first and second choices are two timelines.

    `tempo` counts beats of `unit` a minute; strokes have to be playable at it.
    """

    def __init__(
        self, lines: Sequence[Timeline], tempo: int, unit: Fraction, player: Player, kit: Kit, beats: frozenset[int]
    ) -> None:
        self.lines = lines
        self.player = player
        self.kit = kit
        self.beats = beats
        self.tick = Fraction(60_000_000, tempo) / (unit * lines[0].whole)
        self.horizon = self._horizon()
        self.events = [_events(line) for line in lines]
        self.first = next((number for number, one in enumerate(lines[0].moments) if one.mask & 3), -1)
        self.way = lru_cache(maxsize=None)(self._way)
        self.apart = lru_cache(maxsize=None)(self._apart)
        self.together = lru_cache(maxsize=None)(self._together)

    def step(self, number: int, choice: int, state: State) -> tuple[int, State]:
        """What the choice costs at a moment, and where the hands are after it."""
        moment = self.lines[choice].moments[number]
        cost = self.together(moment.strokes) if moment.mask & 3 == 3 else 0
        cost += _FIRST * (number == self.first and moment.mask & 3 == 2)
        for tick, struck in self.events[choice][number]:
            cost += sum(self._stroke(hand, hit, state) for hand, hit in struck)
            state = self._after(state, tick, struck)
            right, left = state
            if right and left and min(right.tick, left.tick) > tick - self.horizon:
                cost += self.apart(right.sound, left.sound)
        return cost, state

    def wrapped(self, state: State) -> State:
        """The hands at the end of a loop as they are at its beginning."""
        length = self.lines[0].length
        right, left = (hand and hand._replace(tick=hand.tick - length) for hand in state)
        return self._settled((right, left), 0)

    def _together(self, strokes: Slot) -> int:
        """What it costs both hands to strike these at once."""
        found = collisions(Pattern((Bar(COMMON_TIME, (Beat(COMMON_TIME.length, (strokes,)),)),)), self.kit)
        return _UNPLAYABLE * _UNIT * len(found)

    def _apart(self, right: str, left: str) -> int:
        """What it costs that the hands are where they are; over a cymbal they may cross a little."""
        crossed = self.kit.targets[left].x - self.kit.targets[right].x
        if crossed > self.kit.crossing:
            return _IN_THE_WAY * _UNIT
        return _CROSSED * (crossed > 0 and not {right, left} & _CYMBALS)

    def _stroke(self, hand: int, hit: Hit, state: State) -> int:
        last, other = state[hand], state[1 - hand]
        shared = other is not None and other.sound == hit.sound and other.tick > hit.tick - self.horizon
        cost = 0
        if not hit.marks & (SECOND | GRACE):
            left = _LEFT_ON_CYMBAL * (not shared) + _LEFT_ON_BEAT * (hit.tick in self.beats)
            cost += hand * _UNIT * left * (hit.sound in _CYMBALS)
        if last is None:
            return cost
        ticks = hit.tick - last.tick
        crossed = other is not None and other.tick > last.tick
        rested = last.before == FREE or last.before >= 2 * ticks
        return cost + self.way(last.sound, last.marks, hit.sound, hit.marks, ticks, crossed, rested, shared)

    def _way(
        self,
        start: str,
        start_marks: int,
        end: str,
        end_marks: int,
        ticks: int,
        crossed: bool,
        rested: bool,
        shared: bool,
    ) -> int:
        """What it costs one hand to get from stroke to stroke; `shared` says that the other is where it ends."""
        player = self.player
        hits = Hit(0, start, start_marks, 0), Hit(ticks, end, end_marks, 0)
        _, needs, moving = time_needed(*hits, crossed, rested, player.hand, player, self.kit)
        has = round(ticks * self.tick)
        lacks = max(2 * needs - has, 0)
        cost = moving + _STRAIN * lacks * lacks // (4 * has * has) + _UNPLAYABLE * (needs > has)
        again = not crossed and not end_marks & (SECOND | GRACE)
        if again and ticks < self.horizon and (shared or end not in _CYMBALS):
            cost += _AGAIN_BY_TURNS
        elif again and lacks:
            cost += _AGAIN_IN_HASTE
        return cost * _UNIT + again * _AGAIN

    def _after(self, state: State, tick: int, struck: Sequence[tuple[int, Hit]]) -> State:
        hands = list(state)
        for hand, hit in struck:
            last, other = state[hand], state[1 - hand]
            crossed = last is None or (other is not None and other.tick > last.tick)
            hands[hand] = Hand(tick, hit.sound, hit.marks, FREE if crossed or last is None else tick - last.tick)
        return self._settled((hands[0], hands[1]), tick)

    def _settled(self, state: State, now: int) -> State:
        """The state without what no longer matters, so that what comes to the same is the same."""
        right, left = state
        return self._forgotten(right, left, now), self._forgotten(left, right, now)

    def _forgotten(self, hand: Hand | None, other: Hand | None, now: int) -> Hand | None:
        if hand is None:
            return None
        crossed = other is not None and other.tick > hand.tick
        # However long ago it was: which hand struck last stays.
        tick = max(hand.tick, now - self.horizon - crossed)
        if crossed or tick != hand.tick or hand.before >= 2 * self.horizon:
            return hand._replace(tick=tick, before=FREE)
        return hand

    def _horizon(self) -> int:
        """Ticks after which any stroke has more than twice the time that it needs."""
        player = self.player
        hand = player.hand
        farthest = max(way.bits for ways in self.kit.ways.values() for way in ways.values())
        figures = (hand.alternating, hand.rebound, hand.repeated, hand.ghost)
        longest = max(*figures, player.grace, player.drag, player.buzz) + player.reach + player.bit * farthest
        return int(2 * longest / self.tick) + 1


def microseconds(cost: int) -> int:
    """The part of a cost that is time."""
    return cost // _UNIT


def without_lead(cost: int) -> int:
    """A cost without what only decides which hand leads."""
    return cost // _AGAIN


Events = list[tuple[int, list[tuple[int, Hit]]]]
"""Ticks, and what each hand strikes at each."""


def _events(line: Timeline) -> list[Events]:
    """The hands' hits of each moment: a diddle's second and an ornament's grace strokes too."""
    by_moment: list[dict[int, list[tuple[int, Hit]]]] = [{} for _ in line.moments]
    for hand in (0, 1):
        for hit in line.hits[hand]:
            by_moment[hit.moment].setdefault(hit.tick, []).append((hand, hit))
    return [sorted(by_tick.items()) for by_tick in by_moment]
