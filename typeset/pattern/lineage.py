"""Playing an exercise's steps over its order, and over again when another grows out of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from .draft import Draft, Setting, SettingError, set_in_time
from .grid import Grid, GridError
from .layer import LayerError
from .meter import Meter
from .order import Order
from .selection import NothingChosen, SelectionError
from .steps.step import DraftStep, OrderStep, Phase, Step, StepError
from .steps.timing import Fit
from .swelling import SwellError

StepTrouble = (StepError, SelectionError, SettingError, GridError, LayerError, SwellError)
"""What a step may raise when it is played."""


@dataclass(frozen=True)
class Stumble:
    """A step of a list that could not be played: `number` is its place in the list, from 0.

    `number` is None where the order could not even be set in time.
    """

    number: int | None
    trouble: Exception


@dataclass(frozen=True)
class Played:
    """What came of a list of steps: the draft, None where there is none, and every stumble on the way."""

    draft: Draft | None
    stumbles: tuple[Stumble, ...] = ()


def check_phases(steps: Sequence[Step]) -> int | None:
    """The number of the first step on the order that comes after a step in time, from 0, or None."""
    in_time = False
    for number, step in enumerate(steps):
        if step.phase is Phase.ORDER and in_time:
            return number
        in_time = in_time or step.phase is Phase.TIME
    return None


def grow(parent: Sequence[Step], child: Sequence[Step]) -> tuple[int, ...]:
    """The whole list of a child: its steps on the order join the end of its parent's order phase.

    Gives the steps as numbers: from 0 for the child's own, below 0 for the parent's, counted from its
    list's end.
    """
    numbered = [(number - len(parent), step) for number, step in enumerate(parent)] + list(enumerate(child))
    on_order = [number for number, step in numbered if step.phase is Phase.ORDER]
    later = [number for number, step in numbered if step.phase is not Phase.ORDER]
    return (*on_order, *later)


def play_steps(order: Order, meter: Meter, grid: Grid, steps: Sequence[Step], play: str | None) -> Played:
    """Work an exercise out: steps on the order, the setting in time, then everything else in turn.

    An order that no step fits gets as many bars as one pass needs. A step that stumbles is passed over,
    so that one call finds all that is wrong.
    """
    order, stumbles = play_order(order, steps)
    first = next((number for number, step in enumerate(steps) if isinstance(step, DraftStep)), len(steps))
    try:
        draft, is_fitted = _begun(order, meter, grid, steps[first : first + 1], play)
    except (GridError, SettingError) as trouble:
        return Played(None, (*stumbles, Stumble(None, trouble)))
    played = play_on(draft, steps, first + is_fitted)
    return Played(played.draft, stumbles + played.stumbles)


def _begun(order: Order, meter: Meter, grid: Grid, first: Sequence[Step], play: str | None) -> tuple[Draft, bool]:
    """An order set in time, and whether that was the first step's doing.

    Where the first step sets it so that it does not fit, it is set in one bar, and the step stumbles when its turn
    comes. Raises GridError, SettingError.
    """
    for step in first:
        if isinstance(step, Fit):
            try:
                return set_in_time(order, meter, grid, step.setting, play), True
            except SettingError:
                return set_in_time(order, meter, grid, Setting(bars=1), play), False
    return set_in_time(order, meter, grid, Setting(), play), False


def play_order(order: Order, steps: Sequence[Step]) -> tuple[Order, tuple[Stumble, ...]]:
    """The order after its steps on the order, and the steps among them that stumbled."""
    stumbles: list[Stumble] = []
    for number, step in enumerate(steps):
        if isinstance(step, OrderStep):
            try:
                changed = step.change(order)
                if not any(changed):
                    raise StepError("this leaves nothing to play; keep a stroke at least")
                order = changed
            except StepTrouble as trouble:
                stumbles.append(Stumble(number, trouble))
    return order, tuple(stumbles)


def play_on(draft: Draft, steps: Sequence[Step], begin: int = 0) -> Played:
    """Play all steps but those on the order over a draft, from the step of that number on.

    After a first stumble a step that finds no stroke is not held against the author: what it looks for
    may be what the first one would have made.
    """
    stumbles: list[Stumble] = []
    for number, step in enumerate(steps[begin:], start=begin):
        if isinstance(step, DraftStep):
            try:
                draft = step.change(draft)
            except StepTrouble as trouble:
                if not (stumbles and isinstance(trouble, NothingChosen)):
                    stumbles.append(Stumble(number, trouble))
    return Played(draft, tuple(stumbles))
