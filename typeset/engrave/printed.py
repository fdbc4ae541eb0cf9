"""What of an engraving is visible: two that look alike are made into the same value.

Which hand plays is said by the sticking line, not by the staff, so a left-handed copy shares its blocks.
"""

from __future__ import annotations

from dataclasses import replace

from ..compose.engraving import Engraving, System
from ..pattern.bar import Bar
from ..pattern.limb import Limb
from ..pattern.stroke import SILENCE, Dynamic, Slot, Stroke

_DECIMALS = 3
"""Lengths are kept to a thousandth of a millimetre: less than any printer shows."""

_LOUDEST_LAST = (Dynamic.GHOST, Dynamic.PLAIN, Dynamic.ACCENT)


def printed(engraving: Engraving) -> Engraving:
    """The same engraving without what its staff does not show."""
    if not isinstance(engraving, System):
        return engraving
    bar_printed = _silent if engraving.blank else _printed_bar
    return replace(
        engraving,
        bars=tuple(map(bar_printed, engraving.bars)),
        pickup=engraving.pickup and bar_printed(engraving.pickup),
        quarter=round(engraving.quarter, _DECIMALS),
        lead=round(engraving.lead, _DECIMALS),
        width=round(engraving.width, _DECIMALS),
    )


def _silent(bar: Bar) -> Bar:
    return bar.with_slots([SILENCE] * len(bar.slots))


def _printed_bar(bar: Bar) -> Bar:
    return bar.with_slots([_printed_slot(slot) for slot in bar.slots])


def _printed_slot(slot: Slot) -> Slot:
    """One stroke for each sound, highest first: a head shows the louder of two and the ornament of either."""
    heads: dict[str, Stroke] = {}
    for stroke in slot:
        limb = Limb.RIGHT if stroke.sound.by_hand else Limb.KICK
        other = heads.get(stroke.sound.name, stroke)
        dynamic = max(stroke.dynamic, other.dynamic, key=_LOUDEST_LAST.index)
        heads[stroke.sound.name] = Stroke(limb, stroke.sound, dynamic, other.ornament or stroke.ornament)
    return tuple(sorted(heads.values(), key=lambda stroke: (-stroke.sound.place, stroke.sound.name)))
