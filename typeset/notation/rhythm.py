"""How a bar is written down: which strokes are held, which rests show, which tuplets there are.

Pure: a bar's slots go in, printed symbols come out. A stroke is held to the next one inside its beat,
rests show the beats, nothing is tied (common practice among drummers; for rests Gould, *Behind Bars*,
Faber 2011, from memory).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from math import gcd

from ..pattern.bar import Bar, Beat
from ..pattern.meter import Meter
from ..pattern.stroke import SILENCE
from .beams import beamed
from .rests import joined_rests
from .symbol import HALF, Group, Kind, Line, Symbol, is_printable
from .tree import note_fits, rest_fits

NOBODY = Line(frozenset())

Stretch = tuple[int, int]
"""From one slot of a part to another."""

Shape = tuple[tuple[Fraction, int], ...]
"""The length and the number of slots of each beat of a bar."""


def write_bar(bar: Bar, line: Line, other: Line = NOBODY, leads: bool = True) -> tuple[Group, ...]:
    """One voice of a bar, written down.

    Rests show where no voice sounds, and only once: in the voice that has just ended or is about to
    enter, or, where that is both or none, in the one that `leads`.
    """
    shape = tuple((beat.length, len(beat.slots)) for beat in bar.beats)
    return _written(bar.meter, shape, line, other, leads)


@lru_cache(4096)
def _written(meter: Meter, shape: Shape, line: Line, other: Line, leads: bool) -> tuple[Group, ...]:
    """The same by nothing but where it strikes, which is alike in many bars of a book."""
    bar = Bar(meter, tuple(Beat(length, (SILENCE,) * slots) for length, slots in shape))
    groups = [_write_part(part, line, other, leads) for part in _parts(bar, line, other)]
    return beamed(bar, joined_rests(bar, groups))


@dataclass(frozen=True, slots=True)
class _Part:
    """A beat, or a quarter of a half-note beat, that is written as one: `count` slots from slot `first`.

    In a pickup the first `skipped` of them are not there; `first` is below 0 by as many.
    """

    onset: Fraction
    length: Fraction
    first: int
    count: int
    skipped: int = 0

    def strokes(self, line: Line) -> list[int]:
        """Where a line strikes in it, in slots from its start."""
        return sorted(slot - self.first for slot in line.struck if 0 <= slot - self.first < self.count)

    def ends(self, line: Line) -> set[int]:
        """Where the strokes that are not held end, in slots from its start."""
        return {stroke + 1 for stroke in self.strokes(line) if stroke + self.first in line.brief}

    @property
    def is_uneven(self) -> bool:
        """True when its slots are no plain note values, so that tuplets may be needed."""
        return not is_printable(self.length / self.count)


def _parts(bar: Bar, line: Line, other: Line) -> Iterator[_Part]:
    for part in _beats(bar):
        if part.length == HALF and (_needs_tuplets(part, line) or _needs_tuplets(part, other)):
            middle = part.count // 2
            if part.skipped < middle:
                yield replace(part, length=HALF / 2, count=middle)
            skipped = max(0, part.skipped - middle)
            yield _Part(part.onset + HALF / 2, HALF / 2, part.first + middle, middle, skipped)
        else:
            yield part


def _beats(bar: Bar) -> Iterator[_Part]:
    """The beats of a bar; in a pickup the first of them as a part of its whole beat."""
    onset, first = bar.lead, 0
    for beat in bar.beats:
        begins = _beat_around(bar, onset) if first == 0 else onset
        skipped = int((onset - begins) / beat.slot_length)
        length = onset + beat.length - begins
        yield _Part(begins, length, first - skipped, len(beat.slots) + skipped, skipped)
        onset += beat.length
        first += len(beat.slots)


def _beat_around(bar: Bar, moment: Fraction) -> Fraction:
    """When the beat begins in which a moment of a bar lies."""
    begins = Fraction(0)
    for length in bar.meter.beats:
        if begins + length > moment:
            break
        begins += length
    return begins


def _needs_tuplets(part: _Part, line: Line) -> bool:
    return part.is_uneven and (part.strokes(line) not in ([], [0]) or bool(part.ends(line)) or part.skipped > 0)


def _write_part(part: _Part, line: Line, other: Line, leads: bool) -> Group:
    scale = _Scale(part, line)
    notes, others = scale.notes(), _Scale(part, other).notes()
    symbols: list[Symbol] = []
    at = part.skipped
    for start, end in [*notes, (part.count, part.count)]:
        for silence in _stretches(at, start, others):
            if _shows_rest(silence, notes, others, leads, part.skipped):
                symbols += scale.rests(silence)
            elif symbols and symbols[-1].kind is Kind.GAP:
                symbols[-1] = scale.symbol(Kind.GAP, (symbols[-1].slot - part.first, silence[1]))
            else:
                symbols.append(scale.symbol(Kind.GAP, silence))
        if start < end:
            symbols.append(scale.symbol(Kind.NOTE, (start, end)))
        at = end
    if scale.tuplet and all(symbol.kind is Kind.GAP for symbol in symbols):
        return Group(tuple(replace(symbol, written=symbol.length) for symbol in symbols))
    return Group(tuple(symbols), scale.tuplet)


def _stretches(start: int, end: int, others: Sequence[Stretch]) -> Iterator[Stretch]:
    """A silence cut where notes of the other voice begin and end."""
    cuts = {start, end, *(slot for note in others for slot in note if start < slot < end)}
    return pairwise(sorted(cuts))


def _shows_rest(
    silence: Stretch, notes: Sequence[Stretch], others: Sequence[Stretch], leads: bool, first: int
) -> bool:
    """Whether this voice prints a silence: not where the other sounds, nor where the other prints it."""
    start, end = silence
    if any(begins <= start < ends for begins, ends in others):
        return False
    if start > first:
        mine, theirs = (any(start == ends for _, ends in voice) for voice in (notes, others))
    else:
        mine, theirs = (any(end == begins for begins, _ in voice) for voice in (notes, others))
    return leads if mine == theirs else mine


class _Scale:
    """What a part is written in for one voice: units of some slots, the coarsest that its strokes allow."""

    def __init__(self, part: _Part, line: Line) -> None:
        self.part = part
        strokes, ends = part.strokes(line), part.ends(line)
        self.slots = gcd(part.count, part.skipped, *strokes, *ends) if part.is_uneven else 1
        self.units = part.count // self.slots
        self.strokes = [stroke // self.slots for stroke in strokes]
        self.stops = sorted({*self.strokes, *(end // self.slots for end in ends), self.units})
        is_plain = not (strokes or part.skipped) or is_printable(part.length / self.units)
        self.tuplet = None if is_plain else (self.units, 1 << (self.units.bit_length() - 1))

    def notes(self) -> list[Stretch]:
        """From where to where each stroke is held, in slots."""
        return [(stroke * self.slots, (stroke + self._held(stroke)) * self.slots) for stroke in self.strokes]

    def rests(self, silence: Stretch) -> Iterator[Symbol]:
        """The rests of a silence, each as long as may stand there."""
        start, end = (slot // self.slots for slot in silence)
        while start < end:
            units = next(units for units in range(end - start, 0, -1) if self._rest_fits(start, units))
            yield self.symbol(Kind.REST, (start * self.slots, (start + units) * self.slots))
            start += units

    def symbol(self, kind: Kind, stretch: Stretch) -> Symbol:
        """A symbol from one slot to another."""
        start, end = stretch
        slot = self.part.length / self.part.count
        length = (end - start) * slot
        stretched = Fraction(*self.tuplet) if self.tuplet else Fraction(1)
        return Symbol(kind, self.part.onset + start * slot, length, length * stretched, self.part.first + start)

    def _held(self, stroke: int) -> int:
        """How many units a stroke is held: to the next stop, or as far as one note may show."""
        until = next(stop for stop in self.stops if stop > stroke)
        return next(units for units in range(until - stroke, 0, -1) if self._note_fits(stroke, units))

    def _written(self, units: int) -> Fraction:
        """How long so many units are written."""
        return self.part.length * units / (self.tuplet[1] if self.tuplet else self.units)

    def _note_fits(self, start: int, units: int) -> bool:
        if self.tuplet:
            return is_printable(self._written(units))
        return note_fits(self._written(start), self._written(units), self.part.length)

    def _rest_fits(self, start: int, units: int) -> bool:
        if self.tuplet:
            return self._written(units).numerator == 1
        return rest_fits(self._written(start), self._written(units), self.part.length)
