"""Rests of whole beats, joined where the meter allows.

Half a bar of 4/4 (or 4/2, 12/8) takes one rest, never the middle of it; a stated group of two or four
beats likewise; a silent bar, but no pickup, is a whole-bar rest (Gould, *Behind Bars*, Faber 2011, from
memory). In 3/4 beats are rested one by one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from ..pattern.bar import Bar
from ..pattern.meter import Meter
from .symbol import Group, Kind, Symbol, is_printable

Stretch = tuple[Fraction, Fraction]


def joined_rests(bar: Bar, groups: Sequence[Group]) -> tuple[Group, ...]:
    """The same groups with rests, and gaps, that fill a stretch together made into one."""
    for kind in (Kind.REST, Kind.GAP):
        is_printed = kind is Kind.GAP or not bar.lead
        if is_printed and all(symbol.kind is kind for group in groups for symbol in group.symbols):
            return (_silence(kind, (bar.lead, bar.meter.length), 0),)
    joined = tuple(groups)
    for stretch in stretches(bar.meter):
        if stretch[0] >= bar.lead:
            joined = tuple(_join(joined, stretch))
    return joined


def stretches(meter: Meter) -> tuple[Stretch, ...]:
    """The stretches of a bar that one rest may fill, short ones first, as (start, end) from the barline."""
    if meter.stated and meter.bottom != 8:
        return tuple(_paired(meter.bound, meter.pulse))
    halves = meter.beats[: len(meter.beats) // 2]
    if len(meter.beats) == 4 and len(set(meter.beats)) == 1:
        half = sum(halves, Fraction(0))
        return ((Fraction(0), half), (half, 2 * half))
    return ()


def _paired(bound: Sequence[Fraction], pulse: Fraction) -> Iterator[Stretch]:
    """Groups of two beats, and groups of four with their halves."""
    start = Fraction(0)
    for length in bound:
        beats = length / pulse
        if beats == 4:
            yield start, start + length / 2
            yield start + length / 2, start + length
        if beats in (2, 4):
            yield start, start + length
        start += length


def _join(groups: Sequence[Group], stretch: Stretch) -> Iterator[Group]:
    start, end = stretch
    inside = [group for group in groups if start <= group.symbols[0].onset < end]
    is_silent = bool(inside) and all([symbol.kind for symbol in group.symbols] == [Kind.REST] for group in inside)
    if not is_silent or not is_printable(end - start):
        yield from groups
        return
    for group in groups:
        if group is inside[0]:
            yield _silence(Kind.REST, stretch, group.symbols[0].slot)
        elif group not in inside:
            yield group


def _silence(kind: Kind, stretch: Stretch, slot: int) -> Group:
    length = stretch[1] - stretch[0]
    return Group((Symbol(kind, stretch[0], length, length, slot),))
