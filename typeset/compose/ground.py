"""What an exercise starts from, and what comes of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Protocol

from ..manuscript.exercise import ExerciseText
from ..manuscript.models import Chapter
from ..manuscript.series import SeriesText
from ..pattern.counts import counts_of
from ..pattern.draft import Draft
from ..pattern.grid import SIXTEENTHS, Grid, goes_with
from ..pattern.lineage import Played, play_on, play_steps
from ..pattern.meter import COMMON_TIME, Meter
from ..pattern.order import Order
from ..pattern.steps import Step
from ..pattern.tempo import Tempo
from ..problem import Mark
from .names import Named


class Line(Protocol):
    """A step of a list, and where it, or a parameter of it, stands."""

    @property
    def step(self) -> Step:
        """The step."""

    @property
    def mark(self) -> Mark:
        """Where it stands."""

    def mark_of(self, key: str | None = None, index: int | str | None = None) -> Mark:
        """Where a parameter stands, or the value in it."""


@dataclass(frozen=True)
class MadeLine:
    """A step that a series made: it stands where the series says what differs."""

    step: Step
    mark: Mark

    def mark_of(self, key: str | None = None, index: int | str | None = None) -> Mark:
        """Where the series says what differs."""
        return self.mark


@dataclass(frozen=True)
class Ground:
    """What an exercise starts from.

    `order` is the order before any step; a phrase has `joined`, its parts one after the other, instead.
    `lines` are the steps played so far, `parent` the id of the exercise they come from.
    """

    meter: Meter
    grid: Grid
    tempo: Tempo | None
    feel: str
    order: Order | None = None
    joined: Draft | None = None
    lines: tuple[Line, ...] = ()
    parent: str | None = None

    def play(self, lines: Sequence[Line], play: str | None) -> Played:
        """Play steps over it from the beginning."""
        steps = [line.step for line in lines]
        if self.joined is not None:
            return play_on(replace(self.joined, play=play), steps)
        assert self.order is not None  # what is no phrase has an order
        return play_steps(self.order, self.meter, self.grid, steps, play)


@dataclass(frozen=True)
class Work:
    """An exercise worked out: its id and title, its music, the steps of its own, and what it started from.

    `text` is what its author wrote of it, for itself or for its `series`. `lines` are the steps that were
    played, its parent's and its own, in the order in which they were. `values` are what makes a member of a
    series differ from the others, by the key of `each`.
    """

    id: str
    title: str
    text: ExerciseText | SeriesText
    draft: Draft
    own: tuple[Step, ...]
    ground: Ground
    lines: tuple[Line, ...] = ()
    series: str | None = None
    values: tuple[tuple[str, Any], ...] = ()

    @property
    def after(self) -> Ground:
        """What an exercise that grows out of this one starts from."""
        return replace(self.ground, lines=self.lines, parent=self.id)


class Refusal(Exception):
    """Why an exercise cannot be worked out, and where that stands."""

    def __init__(self, mark: Mark, what: str) -> None:
        super().__init__(what)
        self.mark = mark


def time_of(text: ExerciseText | SeriesText, chapter: Chapter, start: Named | None) -> tuple[Meter, Grid]:
    """The meter and grid in which an order is set.

    They are what the exercise says, else its chapter, else what is usual for the order as far as it goes
    with what was said, else 4/4 in sixteenths.
    """
    meter = text.meter or chapter.set.meter or (start and start.meter) or COMMON_TIME
    usual = start and start.grid
    grid = text.grid or chapter.set.grid or (usual if usual and goes_with(usual, meter) else SIXTEENTHS)
    return meter, grid


def first_together(draft: Draft) -> str | None:
    """The first two strokes that are played together, in words; None where there are none."""
    pattern = draft.finished
    for number, bar in enumerate(pattern.every_bar, start=0 if pattern.pickup else 1):
        for count, slot in zip(counts_of(bar), bar.slots, strict=True):
            if len(slot) > 1:
                limbs = " and ".join(stroke.limb.value for stroke in slot)
                place = f"{number}|{count}" if number else f"{count} of the pickup"
                return f"{limbs} play together on {place}"
    return None
