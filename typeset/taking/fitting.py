"""The short orders behind a piece: what, repeated and set in bars, makes all of its strokes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ..pattern.bar import Pattern
from ..pattern.counts import place_of
from ..pattern.order import Order
from ..pattern.steps.shape import Stop
from ..pattern.steps.step import Step
from ..pattern.steps.timing import Fit
from ..pattern.stroke import SILENCE, Slot

_PASSES = 1.6
"""How often an order is heard at least before it counts as one that is repeated."""

Line = Sequence[Slot | None]
"""Slots, with None where anything may stand, since something else is played there."""


@dataclass(frozen=True)
class Fitted:
    """An order, and the steps that set it in time."""

    order: Order
    steps: tuple[Step, ...]


def ways_to_fit(line: Line, pattern: Pattern, loops: bool) -> Iterator[Fitted]:
    """The orders that make a line of the pattern's slots, each in the way that needs the shortest."""
    bars = len(pattern.bars)
    whole = tuple(slot or SILENCE for slot in line)
    yield Fitted(whole, (Fit(bars, "exactly"),))
    size = _period(line)
    if size:
        fit = Fit(bars, "trimming") if len(line) % size else Fit(bars, "exactly")
        yield Fitted(_first_pass(line, size), (fit,))
    yield from _restarting(line, pattern)
    yield from _resting(line, pattern)
    if not loops:
        yield from _stopping(line, pattern)


def _period(line: Line) -> int | None:
    """The length of the shortest order that makes the line by being repeated; None where none does."""
    for size in range(1, int(len(line) / _PASSES) + 1):
        if _repeats(line, size) and any(_first_pass(line, size)):
            return size
    return None


def _repeats(line: Line, size: int) -> bool:
    order = _first_pass(line, size)
    return all(slot is None or slot == order[place % size] for place, slot in enumerate(line))


def _first_pass(line: Line, size: int) -> Order:
    """What the line has at each place of an order of this size, where it first says something."""
    found: list[Slot | None] = [None] * size
    for place, slot in enumerate(line):
        if found[place % size] is None:
            found[place % size] = slot
    return tuple(slot or SILENCE for slot in found)


def _restarting(line: Line, pattern: Pattern) -> Iterator[Fitted]:
    """An order that begins again at each bar, where there are several."""
    bars = [len(bar.slots) for bar in pattern.bars]
    if len(bars) < 2 or len(set(bars)) > 1:
        return
    length = bars[0]
    for size in range(1, int(length / _PASSES) + 1):
        turned = [(place % length % size, slot) for place, slot in enumerate(line) if slot is not None]
        order = dict(reversed(turned))
        if length % size and all(order[place] == slot for place, slot in turned) and any(order.values()):
            yield Fitted(tuple(order.get(place, SILENCE) for place in range(size)), (Fit(len(bars), "restarting"),))
            return


def _resting(line: Line, pattern: Pattern) -> Iterator[Fitted]:
    """An order that is played once, with silence before and after it, at least as much as it is long."""
    sounding = [place for place, slot in enumerate(line) if slot]
    first, last = sounding[0], sounding[-1]
    if None in line or first >= len(pattern.bars[0].slots) or 2 * (last + 1 - first) > len(line):
        return
    order = tuple(slot or SILENCE for slot in line[first : last + 1])
    start = place_of(Pattern(pattern.bars[:1]), first) if first else None
    yield Fitted(order, (Fit(len(pattern.bars), "resting", start),))


def _stopping(line: Line, pattern: Pattern) -> Iterator[Fitted]:
    """An order that is repeated until it stops."""
    sounding = [place for place, slot in enumerate(line) if slot]
    end = sounding[-1] + 1
    if None in line or end == len(line):
        return
    size = _period(line[:end])
    if size:
        steps = (Fit(len(pattern.bars), "trimming"), Stop(place_of(pattern, end - 1)))
        yield Fitted(_first_pass(line[:end], size), steps)
