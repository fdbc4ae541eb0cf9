"""The rungs of a tempo ladder: the tempos on the way from a start to a goal."""

from __future__ import annotations

_FEWEST, _BEST, _MOST = 5, 6, 8
_STEPS = {
    5: 0,
    10: 0,
    2: 1,
    4: 1,
    20: 1,
    8: 2,
    15: 2,
    25: 2,
    12: 3,
    16: 3,
    30: 3,
    40: 3,
    50: 3,
    60: 3,
    80: 3,
    100: 3,
}
"""How far apart rungs may be, in beats a minute, and how much rounder steps are preferred."""


def rungs(start: int, goal: int) -> tuple[int, ...]:
    """The tempos from a start to a goal in even steps; the last step may be shorter.

    Five to eight of them where the way is long enough; none where there is no way to go.
    """
    if goal <= start:
        return ()
    ways = {step: _climb(start, goal, step) for step in _STEPS}
    good = {step: way for step, way in ways.items() if _FEWEST <= len(way) <= _MOST}
    if not good:
        return ways[2] if len(ways[2]) < _FEWEST else ways[max(_STEPS)]
    return min(good.values(), key=lambda way: _cost(way, way[1] - way[0]))


def _climb(start: int, goal: int, step: int) -> tuple[int, ...]:
    """Every step up to the goal, without one that would come next to it."""
    way = list(range(start, goal, step))
    if len(way) > 1 and 4 * (goal - way[-1]) < step:
        way.pop()
    return (*way, goal)


def _cost(way: tuple[int, ...], step: int) -> float:
    """How bad a way is: round, even steps are good, and about six of them."""
    unevenness = abs(way[-1] - way[-2] - step) / step
    return 6 * unevenness + abs(len(way) - _BEST) + _STEPS[step]
