"""The shortest way through moments that each offer a choice, worked out exactly.

A way is a choice at every moment. What a choice costs depends on it and on a state, which holds all that the
choices before it leave behind; so the best way to a state is found once, and every longer way builds on it. In
a loop the way has to end in the state that it began in.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

S = TypeVar("S", bound=Hashable)

Step = Callable[[int, int, S], tuple[int, S]]
"""What choice number so and so costs at a moment, from a state, and the state after it."""


@dataclass(frozen=True)
class Moments(Generic[S]):
    """What can be chosen: `choices` at each moment, by their numbers.

    `step` gives a choice's cost and the state it leads to; `wrapped` a state at the end as the state at the
    beginning that it is in a loop.
    """

    choices: Sequence[Sequence[int]]
    step: Step[S]
    wrapped: Callable[[S], S]


@dataclass(frozen=True)
class Way(Generic[S]):
    """A choice for every moment, what it costs in all, and the state that it begins in."""

    choices: tuple[int, ...]
    cost: int
    start: S


Layer = Mapping[S, tuple[int, S, int]]
"""For each state the least cost to get there, the state before, and the choice between."""


def shortest(moments: Moments[S], start: S, loops: bool) -> Way[S]:
    """The way that costs least; of equal ones that which chooses earlier numbers first."""
    if not loops:
        return _traced(_forward(moments, {start: 0}), start, lambda _: True)
    best: Way[S] | None = None
    for state, least in _rounds(moments, start):
        if best is not None and least >= best.cost:
            break
        way = _closed(moments, state)
        if way is not None and (best is None or way.cost < best.cost):
            best = way
    assert best is not None  # some round always leads back to where it began
    return best


def _closed(moments: Moments[S], start: S) -> Way[S] | None:
    """The best way that ends where it begins; None where there is none."""
    layers = _forward(moments, {start: 0})
    if not any(moments.wrapped(state) == start for state in layers[-1]):
        return None
    return _traced(layers, start, lambda state: moments.wrapped(state) == start)


def _rounds(moments: Moments[S], start: S) -> list[tuple[S, int]]:
    """Every state that a loop can begin in: whatever rounds before it can leave behind.

    Each with what a round that ends in it costs at least, wherever that begins; the least first.
    """
    known: dict[S, int] = {start: 0}
    while True:
        ends = _forward(moments, dict.fromkeys(known, 0))[-1]
        least: dict[S, int] = {}
        for state, (cost, _, _) in ends.items():
            wrapped = moments.wrapped(state)
            least[wrapped] = min(cost, least.get(wrapped, cost))
        if least.keys() <= known.keys():
            return sorted(least.items(), key=lambda pair: pair[1])
        known = {**known, **least}


def _forward(moments: Moments[S], starts: Mapping[S, int]) -> list[Layer[S]]:
    """The best ways to every state after each moment; the first layer is the beginning."""
    layers: list[Layer[S]] = [{state: (cost, state, -1) for state, cost in starts.items()}]
    for number, choices in enumerate(moments.choices):
        reached: dict[S, tuple[int, S, int]] = {}
        for state, (so_far, _, _) in layers[-1].items():
            for choice in choices:
                cost, after = moments.step(number, choice, state)
                known = reached.get(after)
                if known is None or so_far + cost < known[0]:
                    reached[after] = (so_far + cost, state, choice)
        layers.append(reached)
    return layers


def _traced(layers: Sequence[Layer[S]], start: S, is_end: Callable[[S], bool]) -> Way[S]:
    """The cheapest way to one of the last states that count as an end."""
    state = min((state for state in layers[-1] if is_end(state)), key=lambda state: layers[-1][state][0])
    cost = layers[-1][state][0]
    chosen: list[int] = []
    for layer in layers[:0:-1]:
        _, before, choice = layer[state]
        chosen.append(choice)
        state = before
    return Way(tuple(reversed(chosen)), cost, start)


def other_ways(moments: Moments[S], way: Way[S], loops: bool) -> list[dict[int, int]]:
    """For each moment what every choice of it costs at least, in a way that begins as this one does."""
    layers = _forward(moments, {way.start: 0})
    left: dict[S, int] = {state: 0 for state in layers[-1] if not loops or moments.wrapped(state) == way.start}
    found: list[dict[int, int]] = []
    for number in range(len(moments.choices) - 1, -1, -1):
        least: dict[int, int] = {}
        before: dict[S, int] = {}
        for state, (so_far, _, _) in layers[number].items():
            for choice in moments.choices[number]:
                cost, after = moments.step(number, choice, state)
                if after in left:
                    rest = cost + left[after]
                    before[state] = min(rest, before.get(state, rest))
                    least[choice] = min(so_far + rest, least.get(choice, so_far + rest))
        left = before
        found.append(least)
    return found[::-1]
