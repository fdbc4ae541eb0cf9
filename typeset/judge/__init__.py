"""Can a person play it: level, ceiling tempo and collisions of a pattern."""

from __future__ import annotations

from dataclasses import dataclass

from ..pattern.bar import Pattern
from ..pattern.swing import Swing
from .ceiling import Ceiling, ceiling_of
from .collisions import Collision, collisions_of
from .kit import Kit
from .level import Level, Weights, level_of
from .player import Player
from .timeline import timeline

__all__ = ["Judgement", "judge"]


@dataclass(frozen=True, slots=True)
class Judgement:
    """What the judge says of a pattern."""

    level: Level
    ceiling: Ceiling
    collisions: tuple[Collision, ...]


def judge(
    pattern: Pattern,
    loops: bool,
    player: Player,
    kit: Kit,
    weights: Weights,
    linear: bool = False,
    swing: Swing | None = None,
) -> Judgement:
    """Judge a pattern for a player at a kit.

    In a loop the end leads back to the start. `linear` makes any two strokes together a collision. A
    pickup, which is played once, counts for the ceiling and for collisions; the level is that of the bars.
    A swing makes every second of two notes come late: that counts for the ceiling, which is a matter of time.
    """
    line = timeline(pattern)
    opening = timeline(pattern, with_pickup=True) if pattern.pickup else line
    timed = timeline(pattern, swing=swing) if swing else line
    return Judgement(
        level=level_of(line, pattern, loops, kit, weights),
        ceiling=ceiling_of(timed, pattern, loops, player, kit, swing),
        collisions=collisions_of(opening, pattern, kit, linear, loops),
    )
