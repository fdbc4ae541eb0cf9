"""What a teacher would want to know of a chapter before it is printed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from ..judge.words import collision_in_words
from ..problem import Problem, Weight
from .ground import Work
from .series import Judge

BIGGEST_JUMP = 2
"""Levels that a chapter may rise by from one exercise to the next without a word."""


def advice_on(works: Sequence[Work], judge: Judge) -> Iterator[Problem]:
    """Warnings on goals above the ceiling and on levels that jump; errors on what no one can play."""
    for work in works:
        yield from _collisions(work, judge)
        yield from _goal(work, judge)
    for before, after in pairwise(works):
        yield from _jump(before, after, judge)


def _collisions(work: Work, judge: Judge) -> Iterator[Problem]:
    for collision in judge(work.draft).collisions:
        weight = Weight.WARNING if collision.can_be_played else Weight.ERROR
        yield Problem(work.text.mark, f"'{work.id}': {collision_in_words(collision)}", weight)


def _goal(work: Work, judge: Judge) -> Iterator[Problem]:
    tempo, ceiling = work.ground.tempo, judge(work.draft).ceiling
    if tempo and tempo.goal > ceiling.tempo:
        yield Problem(
            work.text.mark,
            f"'{work.id}' aims at {tempo.goal}, and can be played up to {ceiling.tempo}",
            Weight.WARNING,
        )


def _jump(before: Work, after: Work, judge: Judge) -> Iterator[Problem]:
    low, high = judge(before.draft).level.value, judge(after.draft).level.value
    if high - low > BIGGEST_JUMP:
        what = f"'{after.id}' is level {high}, right after '{before.id}' of level {low}"
        yield Problem(after.text.mark, what, Weight.WARNING)
