"""Where everything of a system stands from left to right, in millimetres from the staff's left end."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from ..compose.book import System

QUARTER = Fraction(1, 4)

# Distances in staff spaces, from the middle of a barline to the middle of the note head after it.
BEFORE_NOTE = 1.9
BEFORE_NOTE_REPEAT = 2.3


@dataclass(frozen=True, slots=True)
class Places:
    """`moments` are (time from the system's start, x) of every slot, `barlines` of every inner barline."""

    moments: tuple[tuple[Fraction, float], ...]
    barlines: tuple[tuple[Fraction, float], ...]
    opening: float | None
    width: float


def places_of(system: System, staff_space: float) -> Places:
    """Where a system's slots and barlines stand; `staff_space` is the distance of two staff lines."""
    moments: list[tuple[Fraction, float]] = []
    barlines: list[tuple[Fraction, float]] = []
    start = Fraction(0)
    for bar in system.bars:
        if start:
            last_slot = moments[-1][1]
            first = _x(system, start)
            barlines.append((start, first - min((first - last_slot) / 2, BEFORE_NOTE * staff_space)))
        moments += [(start + onset, _x(system, start + onset)) for onset in bar.onsets]
        start += bar.meter.length
    opening = system.lead - BEFORE_NOTE_REPEAT * staff_space if system.opens_repeat else None
    return Places(tuple(moments), tuple(barlines), opening, system.width)


def _x(system: System, moment: Fraction) -> float:
    return system.lead + system.quarter * float(moment / QUARTER)
