"""Where everything of a system stands from left to right, in millimetres from the staff's left end."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ..compose.book import System
from ..pattern.stroke import Dynamic, Ornament, Slot
from .symbol import QUARTER

# Distances in staff spaces. How far what stands on a slot reaches to either side of its head's middle: a
# head alone, in parentheses, with one grace note, with two; and the air between that and a barline.
HEAD, GHOST, FLAM, DRAG = 0.68, 1.0, 1.5, 2.25
AIR = 1.1

# Half the width of an opening repeat, of a meter of one digit's width, and of a barline.
HALF_REPEAT, HALF_METER, HALF_BARLINE = 0.8, 0.7, 0.1

# Where a meter at the staff's left end begins: behind the clef.
METER_AT = 3.1


@dataclass(frozen=True, slots=True)
class Places:
    """Where what stands on a staff.

    `moments` are (time from the system's start, x) of every slot, `barlines` of every inner barline and
    `meters` of every meter inside the system, all by their middles; `opening` is the middle of the opening
    repeat, `width` the staff's right end.
    """

    moments: tuple[tuple[Fraction, float], ...]
    barlines: tuple[tuple[Fraction, float], ...]
    meters: tuple[tuple[Fraction, float], ...]
    opening: float | None
    width: float


def places_of(system: System, staff_space: float) -> Places:
    """Where a system's slots and barlines stand; `staff_space` is the distance of two staff lines."""
    moments: list[tuple[Fraction, float]] = []
    barlines: list[tuple[Fraction, float]] = []
    meters: list[tuple[Fraction, float]] = []
    start, pushed = Fraction(0), 0.0
    for index, bar in enumerate(system.bars):
        if index:
            room = system.meter_room if index in system.meters_at else 0.0
            before = system.bars[index - 1].slots[-1]
            between = _x(system, start) + pushed - moments[-1][1]
            barline = _x(system, start) + pushed - _before(bar.slots[0], before, between, staff_space)
            barlines.append((start, barline))
            if room:
                meters.append((start, barline + (HALF_BARLINE + HALF_METER) * staff_space + room / 4))
            pushed += room
        moments += [(start + onset, _x(system, start + onset) + pushed) for onset in bar.onsets]
        start += bar.meter.length
    return Places(tuple(moments), tuple(barlines), tuple(meters), _opening(system, staff_space), system.width)


def meter_room(system: System, staff_space: float) -> float:
    """How wide a meter at a system's beginning may be, in staff spaces."""
    opening = _opening(system, staff_space)
    if opening is None:
        return system.lead / staff_space - reach(system.bars[0].slots[0]) - AIR - METER_AT
    return opening / staff_space - HALF_REPEAT - AIR / 2 - METER_AT


def reach(slot: Slot) -> float:
    """How far what stands on a slot reaches to the left of its head's middle, in staff spaces."""
    ornaments = {stroke.ornament for stroke in slot}
    if Ornament.DRAG in ornaments:
        return DRAG
    if Ornament.FLAM in ornaments:
        return FLAM
    return GHOST if any(stroke.dynamic is Dynamic.GHOST for stroke in slot) else HEAD


def _opening(system: System, staff_space: float) -> float | None:
    if not system.opens_repeat:
        return None
    return system.lead - (reach(system.bars[0].slots[0]) + AIR / 2 + HALF_REPEAT) * staff_space


def _before(slot: Slot, last: Slot, between: float, staff_space: float) -> float:
    """How far before a slot its barline stands: with some air, or half way between the slots' ink where it is narrow."""
    left = reach(slot) * staff_space
    right = (GHOST if any(stroke.dynamic is Dynamic.GHOST for stroke in last) else HEAD) * staff_space
    return min(left + AIR * staff_space, (left + between - right) / 2)


def _x(system: System, moment: Fraction) -> float:
    return system.lead + system.quarter * float(moment / QUARTER)
