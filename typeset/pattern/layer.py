"""Layers: a limb's own line, laid over music that is set in time."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from .bar import Bar, Pattern
from .counts import CountError, Place, find, place_of
from .draft import Draft
from .limb import Limb
from .order import Order
from .selection import Spot
from .sound import Sound, first_sound
from .stroke import Stroke, slot_of

# How far apart the places of a layer are, as fractions of a whole note.
_EVERY = {"8ths": Fraction(1, 8), "quarters": Fraction(1, 4)}


class LayerError(ValueError):
    """A layer that cannot be laid. `key` is the parameter at fault and `index` the value in it, from 0."""

    def __init__(self, message: str, key: str, index: int | None = None) -> None:
        super().__init__(message)
        self.key = key
        self.index = index


@dataclass(frozen=True)
class Layer:
    """One limb on one sound at places that repeat or are counted, or an order of its own from bar 1 on.

    `at` is `beats`, `8ths`, `quarters`, `offbeats` (the & of every number) or places. `sound` None is
    what the limb plays there already. `skips` passes over places that the grid does not have.
    """

    limb: Limb | None
    sound: Sound | None
    at: str | tuple[Place, ...] | None
    order: Order | None
    skips: bool = False


def lay(draft: Draft, layer: Layer) -> Draft:
    """Add a layer's strokes. Raises LayerError for a place that the grid lacks, or a limb that is busy."""
    slots = list(draft.pattern.slots)
    added: set[Spot] = set()
    for index, stroke in _strokes(draft, layer):
        try:
            slots[index] = slot_of((*slots[index], stroke))
        except ValueError:
            what = f"{stroke.limb.value} is busy on {place_of(draft.pattern, index)} already"
            raise LayerError(what, "at" if layer.at else "sequence") from None
        added.add((index, stroke.limb))
    laid = draft.with_slots(slots)
    return replace(laid, layers=(*draft.layers, layer), layered=draft.layered | added)


def without_layers(draft: Draft) -> Draft:
    """The draft as it was before anything was laid over it."""
    if not draft.layers:
        return draft
    spots = sorted(draft.layered, key=lambda spot: (spot[0], spot[1].rank))
    bare = draft.with_strokes(spots, lambda _stroke, _number: None)
    return replace(bare, layers=(), layered=frozenset())


def _strokes(draft: Draft, layer: Layer) -> Iterator[tuple[int, Stroke]]:
    """Each stroke with the slot that it goes to."""
    voices = dict(draft.voices)
    if layer.order is not None:
        for index in range(len(draft.pattern.slots)):
            for stroke in layer.order[index % len(layer.order)]:
                sound = voices.get(stroke.limb, stroke.sound)
                if layer.sound and layer.limb in (None, stroke.limb):
                    sound = layer.sound
                yield index, stroke.on(sound)
        return
    assert layer.limb is not None  # the step refuses a layer that names neither
    sound = layer.sound or voices.get(layer.limb) or first_sound(layer.limb)
    for index in _places(draft.pattern, layer.at or "beats", layer.skips):
        yield index, Stroke(layer.limb, sound)


def _places(pattern: Pattern, at: str | tuple[Place, ...], skips: bool) -> list[int]:
    if isinstance(at, str):
        starts: list[int] = []
        before = 0
        for bar in pattern.bars:
            starts += [before + index for index in _in_bar(bar, at, skips)]
            before += len(bar.slots)
        return starts
    found: set[int] = set()
    for index, place in enumerate(at):
        try:
            found |= set(find(pattern, place))
        except CountError as error:
            if not skips:
                raise LayerError(str(error), "at", index) from None
    return sorted(found)


def _in_bar(bar: Bar, at: str, skips: bool) -> list[int]:
    onsets = bar.onsets
    found: list[int] = []
    for onset in _wanted(bar, at):
        if onset not in onsets:
            if skips:
                continue
            number = int(onset // bar.meter.pulse) + 1
            what = f"the grid has no slot for the {at} after {number}; lay it on counts that it has"
            raise LayerError(what, "at")
        found.append(onsets.index(onset))
    return found


def _wanted(bar: Bar, at: str) -> list[Fraction]:
    """When a layer plays in a bar, as fractions of a whole note from the barline."""
    if at == "beats":
        beats = bar.meter.beats
        return [sum(beats[:number], Fraction(0)) for number in range(len(beats))]
    if at == "offbeats":
        pulse = bar.meter.pulse
        return [number * pulse + pulse / 2 for number in range(bar.meter.top)]
    step = _EVERY[at]
    return [number * step for number in range(-int(-bar.meter.length // step))]
