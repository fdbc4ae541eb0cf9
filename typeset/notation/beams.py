"""Which notes share a beam, and how many beams join each to the next.

Beams follow the beat (Gould, *Behind Bars*, Faber 2011, from memory; common practice among drummers: a
rest inside a beat does not break its beam). In x/2 eighths are beamed by the half, shorter notes by the
quarter.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from ..pattern.bar import Bar
from .symbol import HALF, QUARTER, Group, Kind, Symbol

EIGHTH = Fraction(1, 8)

Span = tuple[Fraction, Fraction]


def beamed(bar: Bar, groups: Sequence[Group]) -> tuple[Group, ...]:
    """The same groups with the beams of each note filled in."""
    symbols = [symbol for group in groups for symbol in group.symbols]
    beams: dict[Fraction, tuple[int, int]] = {}
    for span in beam_spans(bar, groups):
        for run in _runs(symbols, span):
            beams.update(zip((note.onset for note in run), _joined(run, span), strict=True))
    return tuple(
        replace(group, symbols=tuple(_with_beams(symbol, beams) for symbol in group.symbols)) for group in groups
    )


def _with_beams(symbol: Symbol, beams: dict[Fraction, tuple[int, int]]) -> Symbol:
    if symbol.kind is Kind.NOTE and symbol.onset in beams:
        return replace(symbol, beams=beams[symbol.onset])
    return symbol


def beam_spans(bar: Bar, groups: Sequence[Group]) -> tuple[Span, ...]:
    """The stretches of a bar that a beam may cover, as (start, end) from the barline."""
    spans: list[Span] = []
    start = Fraction(0)
    for length in bar.meter.beats:
        end = start + length
        if bar.meter.bottom == 2 and not _only_eighths(groups, start, end):
            spans += [(start, start + QUARTER), (start + QUARTER, end)]
        else:
            spans.append((start, end))
        start = end
    return tuple(spans)


def _only_eighths(groups: Iterable[Group], start: Fraction, end: Fraction) -> bool:
    """True for a stretch without tuplets in which nothing is shorter than an eighth."""
    inside = ((group, symbol) for group in groups for symbol in group.symbols if start <= symbol.onset < end)
    return all(group.tuplet is None and symbol.written >= EIGHTH for group, symbol in inside)


def _runs(symbols: Iterable[Symbol], span: Span) -> Iterator[list[Symbol]]:
    """The notes of a span that stand under one beam: at least two, with nothing of a quarter or more between."""
    run: list[Symbol] = []
    for symbol in symbols:
        if not span[0] <= symbol.onset < span[1]:
            continue
        if symbol.flags == 0:
            if len(run) > 1:
                yield run
            run = []
        elif symbol.kind is Kind.NOTE:
            run.append(symbol)
    if len(run) > 1:
        yield run


def _joined(run: Sequence[Symbol], span: Span) -> list[tuple[int, int]]:
    """The beams to the left and to the right of each note of a run."""
    step = _subdivision(run, span)
    joints = [0]
    for left, right in pairwise(run):
        same_part = (left.onset - span[0]) // step == (right.onset - span[0]) // step
        joints.append(min(left.flags, right.flags) if same_part else 1)
    joints.append(0)
    beams: list[tuple[int, int]] = []
    for index, note in enumerate(run):
        left_count, right_count = joints[index], joints[index + 1]
        if max(left_count, right_count) < note.flags:
            if _points_right(note, index, len(run), span):
                right_count = note.flags
            else:
                left_count = note.flags
        beams.append((left_count, right_count))
    return beams


def _subdivision(run: Sequence[Symbol], span: Span) -> Fraction:
    """Where the inner beams break: 32nds at each eighth, a span of a half at its quarter, others nowhere."""
    if any(note.flags > 2 for note in run):
        return EIGHTH
    length = span[1] - span[0]
    return QUARTER if length == HALF else length


def _points_right(note: Symbol, index: int, notes: int, span: Span) -> bool:
    """Which way a short note's own end of beam points: to the note that it fills a part of the beat with."""
    if index in (0, notes - 1):
        return index == 0
    return ((note.onset - span[0]) / note.length) % 2 < 1
