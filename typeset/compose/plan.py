"""A term's plan: which exercises belong to which week, how many minutes a day, and up to which tempo.

The shares in here are common practice, no source: a teacher changes the plan by what a student can do.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate
from typing import NamedTuple

from ..pattern.rungs import rungs
from ..pattern.tempo import Tempo
from .book import Exercise

SHARE_OF_NEW = Fraction(2, 3)
"""How much of a day goes to what is new; the rest settles what was new the week before."""

LEAST_NEW, LEAST_SETTLING = 2, 1
"""Below so many minutes a day's practice of one exercise is no practice, and exercises take turns."""

SHORTEST_WITH_REST = 3
"""From so many weeks on, the last one brings nothing new."""


class Planned(NamedTuple):
    """An exercise of a term, and what the curriculum calls the book it stands in."""

    book: str
    exercise: Exercise


@dataclass(frozen=True, slots=True)
class Practice:
    """An exercise in one week: minutes a day, and the tempos at the week's beginning and end.

    No minutes where the exercises of a week take turns, no tempo where the book names none.
    """

    book: str
    exercise: Exercise
    minutes: int | None
    tempo: Tempo | None


@dataclass(frozen=True, slots=True)
class Block:
    """A part of a day's practice: its minutes and its exercises, in the order of the curriculum."""

    minutes: int
    practices: tuple[Practice, ...]

    @property
    def in_turn(self) -> bool:
        """True where there are more exercises than the minutes are enough for."""
        return any(practice.minutes is None for practice in self.practices)


@dataclass(frozen=True, slots=True)
class Week:
    """A week: what is learnt, and what was learnt the week before and settles at its tempo."""

    learn: Block
    settle: Block


def weeks_of(planned: Sequence[Planned], weeks: int, minutes: int) -> tuple[Week, ...]:
    """Deal the exercises of a term out to its weeks, in their order, for so many minutes a day.

    Each exercise is new for a week, or for several where there are fewer exercises than weeks, and settles
    in the week after. In a term of three weeks or more the last week brings nothing new. A week's load
    follows the levels.
    """
    learning = weeks - 1 if weeks >= SHORTEST_WITH_REST else weeks
    spans = _spans([_share(one.exercise) for one in planned], learning)
    return tuple(_week(planned, spans, week, weeks, minutes) for week in range(weeks))


class _Span(NamedTuple):
    """The first and the last week, from 0, in which an exercise is new."""

    first: int
    last: int

    def stages(self, weeks: int) -> int:
        """In how many weeks of a term it is practised: those in which it is new, and the one after."""
        return self.last - self.first + 1 + (self.last + 1 < weeks)


def _share(exercise: Exercise) -> int:
    """How much practice an exercise asks for, against others: a level 10 four times as much as a level 1."""
    return exercise.level + 2


def _spans(shares: Sequence[int], weeks: int) -> tuple[_Span, ...]:
    """The weeks of each exercise: those that its share of the whole falls on, with no week empty."""
    ends = list(accumulate(shares))
    whole = ends[-1] if ends else 0
    if len(shares) >= weeks:
        middles = [Fraction(2 * end - share, 2 * whole) for end, share in zip(ends, shares, strict=True)]
        return tuple(_Span(week, week) for week in _climb([int(middle * weeks) for middle in middles], weeks))
    wanted = [
        sum(1 for end in ends if Fraction(end, whole) <= Fraction(2 * week + 1, 2 * weeks)) if whole else 0
        for week in range(weeks)
    ]
    exercise_of = _climb(wanted, len(shares)) if shares else []
    places = [[week for week, own in enumerate(exercise_of) if own == number] for number in range(len(shares))]
    return tuple(_Span(own[0], own[-1]) for own in places)


def _climb(wanted: Sequence[int], steps: int) -> list[int]:
    """As near to what is wanted as can be while each of the steps, from 0, is taken and none is jumped.

    There are at least as many wanted as there are steps.
    """
    climbed: list[int] = []
    for place, wish in enumerate(wanted):
        before = climbed[-1] if climbed else -1
        least = max(before, steps - (len(wanted) - place), 0)
        climbed.append(min(max(wish, least), before + 1))
    return climbed


def _week(planned: Sequence[Planned], spans: Sequence[_Span], week: int, weeks: int, minutes: int) -> Week:
    pairs = list(zip(planned, spans, strict=True))
    learn = [(one, span) for one, span in pairs if span.first <= week <= span.last]
    settle = [(one, span) for one, span in pairs if span.last + 1 == week]
    for_learning = round(minutes * SHARE_OF_NEW) if settle else minutes
    for_settling = minutes - for_learning if learn else minutes
    return Week(
        _block(learn, week, weeks, for_learning if learn else 0, LEAST_NEW),
        _block(settle, week, weeks, for_settling if settle else 0, LEAST_SETTLING),
    )


def _block(pairs: Sequence[tuple[Planned, _Span]], week: int, weeks: int, minutes: int, least: int) -> Block:
    each = _minutes_each([_share(one.exercise) for one, _ in pairs], minutes, least)
    return Block(
        minutes,
        tuple(
            Practice(one.book, one.exercise, own, _tempo(one.exercise, week - span.first, span.stages(weeks)))
            for (one, span), own in zip(pairs, each, strict=True)
        ),
    )


def _minutes_each(shares: Sequence[int], minutes: int, least: int) -> Sequence[int | None]:
    """Whole minutes by shares, the least for each; None where they are not enough for that."""
    free = minutes - least * len(shares)
    if free < 0:
        return [None] * len(shares)
    whole = sum(shares)
    exact = [Fraction(share * free, whole) for share in shares]
    given = [int(part) for part in exact]
    by_rest = sorted(range(len(shares)), key=lambda place: (given[place] - exact[place], place))
    for place in by_rest[: free - sum(given)]:
        given[place] += 1
    return [least + part for part in given]


def _tempo(exercise: Exercise, stage: int, stages: int) -> Tempo | None:
    """Where a week begins and ends on the way from start to goal, as evenly as the rungs of its ladder allow.

    The way ends at the ceiling where the goal is above that.
    """
    if exercise.tempo is None:
        return None
    goal = min(exercise.tempo.goal, exercise.ceiling)
    way = rungs(exercise.tempo.start, goal) or (goal,)
    begin, end = (way[place * (len(way) - 1) // stages] for place in (stage, stage + 1))
    return Tempo(begin, end)


def crowded(weeks: Sequence[Week]) -> Iterator[tuple[int, Block]]:
    """The weeks, from 1, whose exercises have to take turns, and the part of the day in which they do."""
    for number, week in enumerate(weeks, start=1):
        for block in (week.learn, week.settle):
            if block.in_turn:
                yield number, block
