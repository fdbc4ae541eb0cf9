"""Steps on the shape of a line: where it stops, what it leaves out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any, Literal

from ..bar import Bar, Pattern, empty_bar
from ..counts import CountError, Place, find
from ..draft import MOST_BARS, Draft
from ..grid import Grid, GridError
from ..limb import Limb
from ..mirror import mirrored
from ..selection import Selection
from ..sentence import Pairs
from ..sound import Sound
from ..stroke import SILENCE, Slot, Stroke, slot_of
from ..swelling import backwards
from .step import DraftStep, Example, Passage, StepError, alone, refuse_unplayable, step


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
            raise StepError("this leaves nothing to play; keep a stroke at least")
        return changed


@step
@dataclass(frozen=True)
class Thin(DraftStep):
    """Keep the chosen strokes and leave all others out."""

    key = "thin"
    about = "keep the chosen strokes, and leave all others out"
    says = {"plain": "Keep {chosen}; leave out all others."}
    example = Example("R L R L", "[1, 2&]", "R . . L", meter="2/4", grid="8ths")

    chosen: Selection

    def change(self, draft: Draft) -> Draft:
        kept = set(draft.choose(self.chosen))
        slots = draft.pattern.slots
        return draft.with_slots(
            [tuple(stroke for stroke in slot if (index, stroke.limb) in kept) for index, slot in enumerate(slots)]
        )


@step
@dataclass(frozen=True)
class Answer(DraftStep):
    """Play the bars once more, changed: with the hands exchanged, or backwards."""

    key = "answer"
    about = "after the bars, play them once more with the hands exchanged (hands), or from the end (backwards)"
    says = {
        "hands": "Answer with the same bars, the hands exchanged.",
        "backwards": "Answer with the same bars, played from the end to the start.",
    }
    example = Example("R L L K", "hands", "R L L K | L R R K", meter="2/4", grid="8ths")

    by: Literal["hands", "backwards"] = alone()

    @property
    def form(self) -> str:
        return self.by

    def change(self, draft: Draft) -> Draft:
        bars = draft.pattern.bars
        if 2 * len(bars) > MOST_BARS:
            raise StepError(f"with its answer this comes to {2 * len(bars)} bars; {MOST_BARS} is the most")
        answer = mirrored(draft.pattern)
        if self.by == "backwards":
            turned = draft.pattern.with_slots(draft.pattern.slots[::-1])
            answer = replace(turned, swells=backwards(draft.pattern))
        swells = tuple(swell.moved(draft.pattern.length) for swell in answer.swells)
        return replace(
            draft,
            pattern=Pattern(bars + answer.bars, swells=draft.pattern.swells + swells),
            origins=draft.origins + (None,) * len(draft.origins),
            fixed=True,
        )


@step
@dataclass(frozen=True)
class Splice(DraftStep):
    """From a place to the end of its bar, play something else."""

    key = "splice"
    about = (
        "from there to the end of that bar play something else, repeated and cut to fill; a sequence takes the "
        "sounds in force, an exercise keeps its own; without a bar, in the last bar; grid may change with it"
    )
    says = {
        "plain": "From {from} to the end of the bar play {use}.",
        "grid": "From {from} to the end of the bar play {use} in {grid}.",
    }
    example = Example("R L R L", "{from: 2, use: R L L, grid: triplets}", "R L R L L", meter="2/4", grid="8ths")

    from_: Place
    use: Passage
    grid: Grid | None = None

    @property
    def form(self) -> str:
        return "grid" if self.grid else "plain"

    def change(self, draft: Draft) -> Draft:
        index = find_one(draft, self.from_, "from")
        number, inside = _bar_of(draft.pattern, index)
        bar = draft.pattern.bars[number]
        frame = bar if self.grid is None else self._reframed(bar, inside)
        slots = self._strokes(draft, len(frame.slots) - inside)
        bars = list(draft.pattern.bars)
        bars[number] = frame.with_slots((*bar.slots[:inside], *slots))
        end = index - inside + len(bar.slots)
        grown = len(frame.slots) - len(bar.slots)
        return replace(
            draft,
            pattern=replace(draft.pattern, bars=tuple(bars)),
            origins=(*draft.origins[:index], *(None,) * len(slots), *draft.origins[end:]),
            layered=frozenset(
                (slot if slot < index else slot + grown, limb)
                for slot, limb in draft.layered
                if not index <= slot < end
            ),
            fixed=True,
        )

    def _reframed(self, bar: Bar, inside: int) -> Bar:
        """The bar on its own grid up to a slot, and on the new one from there."""
        assert self.grid is not None
        start = bar.onsets[inside]
        try:
            new = empty_bar(bar.meter, self.grid)
        except GridError as error:
            raise StepError(str(error), "grid") from None
        before, after = _beats_until(bar, start), _beats_until(new, start)
        if before is None or after is None:
            raise StepError("another grid begins with a beat; splice from a number that stands on one", "from")
        return Bar(bar.meter, (*bar.beats[:before], *new.beats[after:]))

    def _strokes(self, draft: Draft, room: int) -> list[Slot]:
        voices = {} if self.use.voiced else dict(draft.voices)
        order = [
            tuple(stroke.on(voices.get(stroke.limb, stroke.sound)) for stroke in slot) for slot in self.use.order
        ]
        return [order[slot % len(order)] for slot in range(room)]


def _bar_of(pattern: Pattern, index: int) -> tuple[int, int]:
    """The bar that a slot of a pattern is in, and its place there, both from 0."""
    for number, bar in enumerate(pattern.bars):
        if index < len(bar.slots):
            return number, index
        index -= len(bar.slots)
    raise IndexError(index)


def _beats_until(bar: Bar, start: Fraction) -> int | None:
    """How many beats come before a moment of the bar; None where it is inside a beat."""
    at = Fraction(0)
    for number, beat in enumerate(bar.beats):
        if at == start:
            return number
        at += beat.length
    return None


@step
@dataclass(frozen=True)
class Land(DraftStep):
    """End on the first beat after the last bar."""

    key = "land"
    about = (
        "end on the first beat after: in one more bar, or in a phrase on the next part's first beat; say what "
        "each limb plays there"
    )
    says = {"plain": "Land on the next first beat: {sounds}."}
    example = Example("R L R L", "{R: crash, K: kick}", "R L R L | R(crash)+K . . .", meter="2/4", grid="8ths")

    sounds: tuple[tuple[Limb, Sound], ...] = alone()

    def __post_init__(self) -> None:
        for limb, sound in self.sounds:
            refuse_unplayable(limb, sound, "sounds", limb.value)

    def words(self) -> Mapping[str, Any]:
        return {"sounds": Pairs(self.sounds, full=True)}

    def change(self, draft: Draft) -> Draft:
        landing = slot_of(Stroke(limb, sound) for limb, sound in self.sounds)
        return replace(draft, landing=landing, ends=True)


def find_one(draft: Draft, place: Place, key: str) -> int:
    """The one slot that a place means; without a bar it is in the last bar. Raises StepError."""
    in_bar = place if place.bar else replace(place, bar=len(draft.pattern.bars))
    try:
        return find(draft.pattern, in_bar)[0]
    except CountError as error:
        raise StepError(str(error), key) from None
