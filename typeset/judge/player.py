"""The player: the least time that each limb needs, in whole microseconds.

Whole numbers keep the ceiling exact. The figures themselves are data (`players.yaml`), each with a
sentence on where it comes from.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class LimbTimes:
    """The least times between two strokes of one limb, in microseconds.

    `alternating`: the other hand (the other foot) strikes in between. `rebound`: the second of two on one
    surface, where the first came after the other hand's stroke or after at least twice the time. `repeated`:
    the third in a row and on, and a second one on another surface. `ghost`: a ghost stroke after an accent.
    """

    alternating: int
    rebound: int
    repeated: int
    ghost: int


@dataclass(frozen=True, slots=True)
class Player:
    """What a player can do; both hands alike, so no exercise is harder for leading with the left.

    All in microseconds. `grace`: between the grace stroke of a flam and the same hand's stroke before it or
    after; `drag`: from a stroke to the grace strokes of a drag by the same hand; `buzz`: from a buzz to the
    same hand's next stroke. Of several figures the longest counts. A move to another surface adds `reach`,
    and `bit` for every bit of its index of difficulty.
    """

    name: str
    hand: LimbTimes
    kick: LimbTimes
    hat: LimbTimes
    grace: int
    drag: int
    buzz: int
    reach: int
    bit: int
