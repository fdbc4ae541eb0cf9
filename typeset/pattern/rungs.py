"""The rungs of a tempo ladder: the tempos on the way from a start to a goal."""

from __future__ import annotations

_MOST = 7
_STEPS = (2, 4, 5, 10, 20, 40, 50, 100)
"""How far apart rungs may be, in beats a minute: what a metronome's wheel or a hand on a dial goes by. From
memory, common practice, no source."""

_SLIP = 4
"""The least of a last step whose others are longer."""


def rungs(start: int, goal: int) -> tuple[int, ...]:
    """The tempos from a start to a goal, at most seven: all but the first and the last on round numbers.

    They lie on multiples of one step, the finest that is not too many, so ranges of like width are climbed
    alike. The first and the last step may be longer than the others, and the last is never a mere slip. None where
    there is no way to go.
    """
    if goal <= start:
        return ()
    return next((way for step in _STEPS if len(way := _climb(start, goal, step)) <= _MOST), (start, goal))


def _climb(start: int, goal: int, step: int) -> tuple[int, ...]:
    """Every multiple of the step between start and goal, but one that would come next to either."""
    first = -(-(2 * start + step) // (2 * step)) * step
    last_step = max(min(step, _SLIP), step / 5)
    return (start, *(rung for rung in range(first, goal, step) if goal - rung >= last_step), goal)
