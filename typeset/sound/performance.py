"""How an exercise is played: how fast, how often, with what swing, with or without a click."""

from __future__ import annotations

from dataclasses import dataclass

from ..compose.book import Exercise
from ..pattern.swing import Swing

USUAL_TEMPO = 80
"""Beats a minute where an exercise names none and can be played as fast."""

SHORTEST_LOOP = 8
"""Bars that an exercise which goes round is played for at least, where it does not say how often."""


@dataclass(frozen=True, slots=True)
class Performance:
    """What is asked for; None is what the exercise says itself.

    `tempo` counts the tempo unit of its first bar. With `ladder` it climbs from there to its goal in
    steps of so many beats a minute. `times` is how often it is played at each tempo. A count-in of one
    bar comes before each tempo.
    """

    tempo: int | None = None
    ladder: int | None = None
    times: int | None = None
    swing: Swing | None = None
    click: bool = True
    count_in: bool = True


AS_WRITTEN = Performance()
"""As the exercise itself says, with a count-in and a click."""


def tempos_of(exercise: Exercise, performance: Performance) -> tuple[int, ...]:
    """Every tempo that the exercise is played at, in order; one without a faster goal has no ladder."""
    start = performance.tempo or _own_tempo(exercise)
    goal = exercise.tempo.goal if exercise.tempo else start
    if performance.ladder is None or goal <= start:
        return (start,)
    return (*range(start, goal, performance.ladder), goal)


def _own_tempo(exercise: Exercise) -> int:
    if exercise.tempo:
        return exercise.tempo.start
    return min(USUAL_TEMPO, exercise.ceiling)


def times_of(exercise: Exercise, performance: Performance) -> int:
    """How often it is played at each tempo."""
    said = performance.times or exercise.times
    if said:
        return said
    if not exercise.plays_on:
        return len(exercise.pattern.endings) or 1
    return max(2, -(-SHORTEST_LOOP // len(exercise.pattern.bars)))
