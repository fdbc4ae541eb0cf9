"""Steps on the shape of a line: where it stops, what it leaves out."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..counts import CountError, Place, find
from ..draft import Draft
from ..selection import Selection
from ..stroke import SILENCE
from .step import DraftStep, Example, StepError, alone, step


@step
@dataclass(frozen=True)
class Stop(DraftStep):
    """Play the stroke there and nothing after it."""

    key = "stop"
    about = "the stroke there sounds, and nothing after it; without a bar, in the last bar"
    says = {"plain": "Stop on {at}."}
    example = Example("R L R L", "3", "R L R L R L R L R . . . . . . .", first="fit: {bars: 1}")

    at: Place = alone()

    def change(self, draft: Draft) -> Draft:
        index = find_one(draft, self.at, "at")
        slots = draft.pattern.slots
        if not slots[index]:
            raise StepError(f"there is no stroke on {self.at} to stop on", "at")
        silent = (SILENCE,) * (len(slots) - index - 1)
        return replace(draft.with_slots((*slots[: index + 1], *silent)), ends=True)


@step
@dataclass(frozen=True)
class Omit(DraftStep):
    """Leave the chosen strokes out."""

    key = "omit"
    about = "leave the chosen strokes out"
    says = {"plain": "Leave out {chosen}."}
    example = Example("R L R L", "[2, 4]", "R L R L . L R L R L R L . L R L", first="fit: {bars: 1}")

    chosen: Selection

    def change(self, draft: Draft) -> Draft:
        changed = draft.with_strokes(draft.choose(self.chosen), lambda _stroke, _number: None)
        if not any(changed.pattern.slots):
            raise StepError("this leaves nothing to play")
        return changed


def find_one(draft: Draft, place: Place, key: str) -> int:
    """The one slot that a place means; without a bar it is in the last bar. Raises StepError."""
    in_bar = place if place.bar else replace(place, bar=len(draft.pattern.bars))
    try:
        return find(draft.pattern, in_bar)[0]
    except CountError as error:
        raise StepError(str(error), key) from None
