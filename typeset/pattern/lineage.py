"""Playing an exercise's steps over its order, and over again when another grows out of it."""

from __future__ import annotations

from collections.abc import Sequence

from .draft import Draft, Setting, SettingError, set_in_time
from .grid import Grid, GridError
from .meter import Meter
from .order import Order
from .selection import SelectionError
from .steps.step import DraftStep, OrderStep, Phase, Step, StepError
from .steps.timing import Fit

StepTrouble = (StepError, SelectionError, SettingError, GridError)
"""What a step may raise when it is played."""


class Stumble(ValueError):
    """A step of a list that could not be played: `number` is its place in the list, from 0.

    `number` is None where the order could not even be set in time.
    """

    def __init__(self, number: int | None, trouble: Exception) -> None:
        super().__init__(str(trouble))
        self.number = number
        self.trouble = trouble


def check_phases(steps: Sequence[Step]) -> int | None:
    """The number of the first step on the order that comes after a step in time, from 0, or None."""
    in_time = False
    for number, step in enumerate(steps):
        if step.phase is Phase.ORDER and in_time:
            return number
        in_time = in_time or step.phase is Phase.TIME
    return None


def grow(parent: Sequence[Step], child: Sequence[Step]) -> tuple[tuple[Step, int], ...]:
    """A child's whole list: its steps on the order join the end of its parent's order phase.

    Each step comes with its number: from 0 for the child's own, below 0 for the parent's.
    """
    inherited = [(step, number - len(parent)) for number, step in enumerate(parent)]
    own = list(enumerate(child))
    return (
        *((step, number) for step, number in inherited if step.phase is Phase.ORDER),
        *((step, number) for number, step in own if step.phase is Phase.ORDER),
        *((step, number) for step, number in inherited if step.phase is not Phase.ORDER),
        *((step, number) for number, step in own if step.phase is not Phase.ORDER),
    )


def play_order(order: Order, steps: Sequence[Step]) -> Order:
    """The order after its steps on the order. Raises Stumble."""
    for number, step in enumerate(steps):
        if isinstance(step, OrderStep):
            try:
                order = step.change(order)
            except StepTrouble as trouble:
                raise Stumble(number, trouble) from None
            if not any(order):
                raise Stumble(number, StepError("this leaves nothing to play"))
    return order


def play_steps(order: Order, meter: Meter, grid: Grid, steps: Sequence[Step], play: str | None) -> Draft:
    """Work an exercise out: steps on the order, the setting in time, then everything else in turn.

    An order that no step fits gets as many bars as one pass needs. Raises Stumble.
    """
    order = play_order(order, steps)
    first = next((step for step in steps if isinstance(step, DraftStep)), None)
    # What the first step sets again need not fit anywhere before.
    setting = Setting(bars=1) if isinstance(first, Fit) else Setting()
    try:
        draft = set_in_time(order, meter, grid, setting, play)
    except (GridError, SettingError) as trouble:
        raise Stumble(None, trouble) from None
    return play_on(draft, steps)


def play_on(draft: Draft, steps: Sequence[Step]) -> Draft:
    """Play all steps but those on the order over a draft. Raises Stumble."""
    for number, step in enumerate(steps):
        if isinstance(step, DraftStep):
            try:
                draft = step.change(draft)
            except StepTrouble as trouble:
                raise Stumble(number, trouble) from None
    return draft
