"""Swells: from the hairpins of a file to stretches of strokes, and to the steps that say them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import accumulate

from ..pattern.bar import Pattern
from ..pattern.counts import Place, place_of
from ..pattern.steps.dynamics import Swell as SwellStep
from ..pattern.steps.step import Step
from ..pattern.swell import Swell
from .piece import Laid

Hairpin = tuple[Fraction, str]
"""When in a measure, and whether a `crescendo` or a `diminuendo` begins there, or one ends: `stop`."""


def swells_in(hairpins: Sequence[Sequence[Hairpin]], bars: Sequence[Laid]) -> tuple[Swell, ...]:
    """The swells over bars, each with its measure's hairpins; one without two strokes under it is none."""
    barlines = list(accumulate((bar.meter.length for bar in bars), initial=Fraction(0)))
    placed = zip(barlines, bars, strict=False)
    strokes = [start + notes[0].onset for start, bar in placed for notes in bar.slots if notes]
    swells: list[Swell] = []
    opened: tuple[Fraction, bool] | None = None
    events = [(start + at, kind) for start, own in zip(barlines, hairpins, strict=False) for at, kind in own]
    for moment, kind in [*events, (barlines[-1], "stop")]:
        if opened is not None:
            start, louder = opened
            under = [stroke for stroke in strokes if start <= stroke <= moment]
            if len(under) > 1:
                swells.append(Swell(under[0], under[-1], louder))
        opened = None if kind == "stop" else (moment, kind == "crescendo")
    return tuple(swells)


def swells_within(swells: Sequence[Swell], bars: Sequence[Laid], start: int, end: int) -> tuple[Swell, ...]:
    """The swells that lie over some of the bars alone, counted from the first of those."""
    barlines = list(accumulate((bar.meter.length for bar in bars), initial=Fraction(0)))
    first, last = barlines[start], barlines[end]
    return tuple(swell.moved(-first) for swell in swells if first <= swell.start and swell.end < last)


def swell_steps(pattern: Pattern) -> list[Step]:
    """The steps that lay a pattern's swells: one for all where every bar has the same, else one for each."""
    bars = [pattern.swells_over(number) for number in range(len(pattern.bars))]
    inside = sum(map(len, bars)) == len(pattern.swells)
    if inside and len(bars) > 1 and bars[0] and all(own == bars[0] for own in bars):
        return list(_steps(replace(pattern, bars=pattern.bars[:1], swells=bars[0])))
    return list(_steps(pattern))


def _steps(pattern: Pattern) -> Iterator[Step]:
    strokes = [onset for onset, slot in zip(pattern.onsets, pattern.slots, strict=True) if slot]
    for swell in pattern.swells:
        is_all = (swell.start, swell.end) == (strokes[0], strokes[-1])
        start, end = (None, None) if is_all else (_place(pattern, swell.start), _place(pattern, swell.end))
        yield SwellStep(start, end, "louder" if swell.louder else "softer")


def _place(pattern: Pattern, moment: Fraction) -> Place:
    return place_of(pattern, pattern.onsets.index(moment))
