"""Steps on how loud strokes are."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from ..counts import Place
from ..draft import Draft
from ..selection import Selection
from ..sentence import Strokes
from ..stroke import Dynamic, Slot, Stroke
from ..swelling import Swelling, lay_swell
from .step import DraftStep, Example, StepError, alone, step


def _play(draft: Draft, chosen: Selection, dynamic: Dynamic) -> Draft:
    return draft.with_strokes(draft.choose(chosen), lambda stroke, _: stroke.played(dynamic))


@step
@dataclass(frozen=True)
class Accent(DraftStep):
    """Accent the chosen strokes."""

    key = "accent"
    about = "accent the chosen strokes"
    says = {"plain": "Accent {chosen}."}
    example = Example("R L R L", "[1, 3&]", "R! L R L R L R L R L R! L R L R L", first="fit: {bars: 1}")

    chosen: Selection

    def change(self, draft: Draft) -> Draft:
        return _play(draft, self.chosen, Dynamic.ACCENT)


@step
@dataclass(frozen=True)
class Ghost(DraftStep):
    """Play the chosen strokes as ghost strokes."""

    key = "ghost"
    about = "play the chosen strokes as ghost strokes"
    says = {"plain": "Ghost {chosen}."}
    example = Example("R L R L", "{limb: L}", "R l R l R l R l R l R l R l R l", first="fit: {bars: 1}")

    chosen: Selection

    def change(self, draft: Draft) -> Draft:
        return _play(draft, self.chosen, Dynamic.GHOST)


@step
@dataclass(frozen=True)
class Plain(DraftStep):
    """Take accents and ghosts off the chosen strokes."""

    key = "plain"
    about = "take accents and ghosts off the chosen strokes"
    says = {"plain": "Play {chosen} plain."}
    example = Example(
        "R! L r L", "{limb: R, dynamic: ghost}", "R! L R L R! L R L R! L R L R! L R L", first="fit: {bars: 1}"
    )

    chosen: Selection

    def change(self, draft: Draft) -> Draft:
        return _play(draft, self.chosen, Dynamic.PLAIN)


@step
@dataclass(frozen=True)
class Travel(DraftStep):
    """Move the accents on by so many strokes on each pass through the order."""

    key = "travel"
    about = "on each pass through the order, play the first pass's accents so many strokes later"
    says = {"plain": "On each pass through the order every accent comes {strokes} later."}
    example = Example("R! L L", "1", "R! L L R L! L R L L! R! L L R L! L R", first="fit: {bars: 1}")

    by: int = alone()

    def words(self) -> Mapping[str, Any]:
        return {"strokes": Strokes(self.by)}

    def change(self, draft: Draft) -> Draft:
        if draft.order is None:
            raise StepError("a phrase has no one order for accents to travel through")
        size = len(draft.order)
        placed = list(zip(draft.origins, draft.pattern.slots, strict=True))
        first = {origin.place for origin, slot in placed if origin and origin.turn == 0 and _is_accented(slot)}
        if not first:
            raise StepError("the first pass has no accent that could travel")
        slots = [
            _accented(slot, (origin.place - origin.turn * self.by) % size in first) if origin else slot
            for origin, slot in placed
        ]
        return draft.with_slots(slots)


@step
@dataclass(frozen=True)
class Swell(DraftStep):
    """Grow from soft to loud over a stretch, or fall from loud to soft."""

    key = "swell"
    about = (
        "grow from soft to as loud as written, or fall from there to soft (way: softer), from one stroke to "
        "another; without from and to, from the first to the last; counts without a bar mean every bar"
    )
    says = {
        "louder all": "Swell from the first stroke to the last.",
        "louder from": "Swell from {from} to the last stroke.",
        "louder to": "Swell from the first stroke to {to}.",
        "louder from to": "Swell from {from} to {to}.",
        "softer all": "Fade from the first stroke to the last.",
        "softer from": "Fade from {from} to the last stroke.",
        "softer to": "Fade from the first stroke to {to}.",
        "softer from to": "Fade from {from} to {to}.",
    }
    example = Example("R L R L", "{from: 1, to: 2}", "(< R L R) L", meter="2/4", grid="8ths")

    from_: Place | None = None
    to: Place | None = None
    way: Literal["louder", "softer"] = alone(default="louder")

    @property
    def form(self) -> str:
        ends = (name for name, place in (("from", self.from_), ("to", self.to)) if place)
        return f"{self.way} {' '.join(ends) or 'all'}"

    def change(self, draft: Draft) -> Draft:
        return lay_swell(draft, Swelling(self.from_, self.to, self.way == "louder"))


def _is_accented(slot: Slot) -> bool:
    return any(stroke.dynamic is Dynamic.ACCENT for stroke in slot)


def _accented(slot: Slot, accents: bool) -> Slot:
    """The slot with all its strokes accented, or with the accents taken off."""
    if accents:
        return tuple(stroke.played(Dynamic.ACCENT) for stroke in slot)
    return tuple(_without_accent(stroke) for stroke in slot)


def _without_accent(stroke: Stroke) -> Stroke:
    return stroke.played(Dynamic.PLAIN) if stroke.dynamic is Dynamic.ACCENT else stroke
