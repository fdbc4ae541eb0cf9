"""Where everything of a system stands from left to right, in millimetres from the staff's left end."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from ..compose.engraving import METER_ROOM, REPEAT_ROOM, System
from ..compose.reach import HALF_BARLINE, HALF_REPEAT, HEAD, reach, reach_right
from ..notation.symbol import QUARTER, Kind
from ..notation.voices import ALL_UP, write_voice
from ..pattern.bar import Bar

# Distances in staff spaces. How far a flag reaches to the right of its head's middle, and the air between what
# stands on a slot and the barline before it.
FLAG, AIR = 1.4, 1.1

# Half the width of a meter of one digit's width.
HALF_METER = 0.7

# Half of what is left free between two hairpins.
HALF_GAP = 0.4

# Where a meter at the staff's left end begins: behind the clef.
METER_AT = 3.1


@dataclass(frozen=True, slots=True)
class Places:
    """Where what stands on a staff.

    `moments` are (time from the system's start, x) of every slot, `bars` of every bar's first moment, `barlines`
    of every inner barline and `meters` of every meter inside the system, all by their middles; `opening` is the
    middle of a repeat that opens at the staff's beginning, `width` the staff's right end. `hairpins` are
    (left end, right end) of every hairpin.
    """

    moments: tuple[tuple[Fraction, float], ...]
    bars: tuple[tuple[Fraction, float], ...]
    barlines: tuple[tuple[Fraction, float], ...]
    meters: tuple[tuple[Fraction, float], ...]
    opening: float | None
    width: float
    hairpins: tuple[tuple[float, float], ...] = ()


def places_of(system: System, staff_space: float) -> Places:
    """Where a system's slots and barlines stand; `staff_space` is the distance of two staff lines."""
    moments: list[tuple[Fraction, float]] = []
    begins: list[tuple[Fraction, float]] = []
    barlines: list[tuple[Fraction, float]] = []
    meters: list[tuple[Fraction, float]] = []
    start, pushed = Fraction(0), 0.0
    bars = system.every_bar
    first = len(bars) - len(system.bars)
    for index, bar in enumerate(bars):
        if index:
            number = index - first
            repeats = system.repeats_inside if number == 0 else number in system.closings
            pushed += REPEAT_ROOM if repeats else 0.0
            pushed += system.eases[index] if system.eases else 0.0
            room = METER_ROOM if number in system.meters_at and number > 0 else 0.0
            x = _x(system, start) + pushed
            half = HALF_REPEAT if repeats else 0.0
            left, right = reach(bar.slots[0]) + half, last_reach(bars[index - 1]) + half
            barline = x - _before(left * staff_space, right * staff_space, x - moments[-1][1], staff_space)
            barlines.append((start, barline))
            if room:
                meters.append((start, barline + (max(half, HALF_BARLINE) + HALF_METER) * staff_space + room / 4))
            pushed += room
        begins.append((start, _x(system, start) + pushed))
        times = [start + onset - bar.lead for onset in bar.onsets]
        moments += [(time, _x(system, time) + pushed) for time in times]
        start += bar.length
    opening = _opening(system, staff_space)
    hairpins = tuple(_hairpins(system, dict(moments), staff_space))
    return Places(tuple(moments), tuple(begins), tuple(barlines), tuple(meters), opening, system.width, hairpins)


def _hairpins(
    system: System, places: Mapping[Fraction, float], staff_space: float
) -> Iterator[tuple[float, float]]:
    """From head to head; a little apart where one ends and the next begins; or to the staff's end."""
    upbeat = system.pickup.length if system.pickup else Fraction(0)
    starts = {hairpin.start for hairpin in system.hairpins}
    ends = {hairpin.end for hairpin in system.hairpins}
    for hairpin in system.hairpins:
        left, right = places[upbeat + hairpin.start], places.get(upbeat + hairpin.end)
        left += (HALF_GAP if hairpin.start in ends else -HEAD) * staff_space
        if right is None:
            yield left, system.width - AIR * staff_space
        else:
            yield left, right + (-HALF_GAP if hairpin.end in starts else HEAD) * staff_space


def meter_room(system: System, staff_space: float) -> float:
    """How wide a meter at a system's beginning may be, in staff spaces."""
    opening = _opening(system, staff_space)
    if opening is None:
        return system.lead / staff_space - reach(system.every_bar[0].slots[0]) - AIR - METER_AT
    return opening / staff_space - HALF_REPEAT - AIR / 2 - METER_AT


def last_reach(bar: Bar) -> float:
    """How far what stands on a bar's last slot reaches to the right of its head's middle, in staff spaces."""
    last = write_voice(bar, ALL_UP)[-1].symbols[-1]
    if last.kind is Kind.NOTE and last.flags and last.beams is None and last.slot == len(bar.slots) - 1:
        return FLAG
    return reach_right(bar.slots[-1])


def _opening(system: System, staff_space: float) -> float | None:
    if not system.opens_repeat or system.repeats_inside:
        return None
    return system.lead - (reach(system.bars[0].slots[0]) + AIR / 2 + HALF_REPEAT) * staff_space


def _before(left: float, right: float, between: float, staff_space: float) -> float:
    """How far before a slot its barline stands: some air before its ink, or half way where there is little.

    `left` is how far its ink reaches, `right` how far that of the slot before, `between` the two slots'
    distance.
    """
    return min(left + AIR * staff_space, (left + between - right) / 2)


def _x(system: System, moment: Fraction) -> float:
    return system.lead + system.quarter * float(moment / QUARTER)
