"""What a teacher would want to know of a chapter before it is printed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from ..judge.collisions import Collision
from ..judge.words import collision_in_words
from ..problem import Problem, Weight
from .ground import Work
from .judging import Judge

BIGGEST_JUMP = 2
"""Levels that a chapter may rise or fall by from one exercise to the next without a word."""


def advice_on(works: Sequence[Work], judge: Judge, *, is_whole: bool = True) -> Iterator[Problem]:
    """Warnings on goals above the ceiling and on levels that jump; errors on what no one can play.

    Of a chapter that is not whole, because something has errors, nobody knows what will stand beside what.
    """
    for work in works:
        yield from _collisions(work, judge)
        yield from _goal(work, judge)
    for before, after in pairwise(works) if is_whole else ():
        # A series is a family in an order of its author's choice.
        if before.series is None or before.series != after.series:
            yield from _jump(before, after, judge)


def _collisions(work: Work, judge: Judge) -> Iterator[Problem]:
    """Each kind of collision once, at its first place, with the number of further ones."""
    kinds: dict[object, list[Collision]] = {}
    for collision in judge(work).collisions:
        kinds.setdefault((collision.clash, collision.limbs, collision.sounds), []).append(collision)
    for first, *others in kinds.values():
        weight = Weight.WARNING if first.can_be_played else Weight.ERROR
        more = f", and in {len(others)} more places" if len(others) > 1 else ", and once more" if others else ""
        yield Problem(work.text.mark, f"'{work.id}': {collision_in_words(first)}{more}", weight, work.id)


def _goal(work: Work, judge: Judge) -> Iterator[Problem]:
    tempo, ceiling = work.ground.tempo, judge(work).ceiling
    if tempo and tempo.goal > ceiling.tempo:
        yield Problem(
            work.text.mark,
            f"'{work.id}' aims at {tempo.goal}, and can be played up to {ceiling.tempo}",
            Weight.WARNING,
            work.id,
        )


def _jump(before: Work, after: Work, judge: Judge) -> Iterator[Problem]:
    was, is_ = judge(before).level.value, judge(after).level.value
    if abs(is_ - was) > BIGGEST_JUMP:
        way = "jumps up to" if is_ > was else "goes back to"
        what = f"'{after.id}' {way} level {is_}, right after '{before.id}' of level {was}"
        yield Problem(after.text.mark, what, Weight.WARNING)
