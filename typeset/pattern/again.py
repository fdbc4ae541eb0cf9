"""Setting an order again, in other bars, on another grid or in another meter."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from .draft import Draft, Origin, Setting, SettingError, set_in_time, turned
from .grid import Grid
from .layer import lay, without_layers
from .meter import Meter
from .order import Order
from .stroke import SILENCE, Slot
from .swelling import lay_swell


def set_again(draft: Draft, meter: Meter, grid: Grid, setting: Setting) -> Draft:
    """Set a draft's order again; what has been said on its strokes travels with them.

    A pass that was not there before is played as the latest one before it. Layers and swells are laid anew.
    Raises as set_in_time, LayerError, SwellError, and SettingError for music that did not come from one order.
    """
    if draft.order is None:
        raise SettingError("a phrase is set in time already; set the exercises that it is made of")
    if draft.fixed:
        raise SettingError("this holds music from elsewhere; set it in time before the step that brings it in")
    again = set_in_time(draft.order, meter, grid, setting, draft.play)
    slots = _carried(without_layers(draft), again, draft.order)
    placed = replace(
        again.with_slots(turned(slots, draft.displaced)),
        origins=turned(again.origins, draft.displaced),
        voices=draft.voices,
        ends=again.ends or (draft.ends and draft.setting.by != "resting"),
        displaced=draft.displaced,
        landing=draft.landing,
    )
    for layer in draft.layers:
        placed = lay(placed, layer)
    for swelling in draft.swellings:
        placed = lay_swell(placed, swelling)
    return placed


def _carried(bare: Draft, again: Draft, order: Order) -> Sequence[Slot]:
    """The slots of an order that was set again, with what had been said on its strokes."""
    slots = turned(bare.pattern.slots, -bare.displaced)
    origins = turned(bare.origins, -bare.displaced)
    said: dict[Origin, Slot] = {origin: slot for origin, slot in zip(origins, slots, strict=True) if origin}
    if all(slot == order[origin.place] for origin, slot in said.items()):
        return again.pattern.slots
    return [_last_said(origin, said, order) if origin else SILENCE for origin in again.origins]


def _last_said(origin: Origin, said: dict[Origin, Slot], order: Order) -> Slot:
    """What was said on a stroke in its pass, or in the latest pass before it."""
    for turn in range(origin.turn, -1, -1):
        slot = said.get(Origin(origin.place, turn))
        if slot is not None:
            return slot
    return order[origin.place]
