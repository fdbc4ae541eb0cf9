"""How a bar is written down: which strokes are held, which rests show, which tuplets there are.

Pure: a bar's slots go in, printed symbols come out. A stroke is held to the next one inside its beat,
rests show the beats, nothing is tied (common practice among drummers; for rests Gould, *Behind Bars*,
Faber 2011, from memory).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import gcd

from ..pattern.bar import Bar
from .beams import beamed
from .rests import joined_rests
from .symbol import HALF, Group, Kind, Line, Symbol, is_printable
from .tree import note_fits, rest_fits

NOBODY = Line(frozenset())


def write_bar(bar: Bar, line: Line, other: Line = NOBODY, leads: bool = True) -> tuple[Group, ...]:
    """One voice of a bar, written down.

    Rests show where no voice sounds, and only once: in the voice that enters first, or, where both
    enter together or neither does, in the one that `leads`.
    """
    groups = [_Writer(part, line, other, leads).group() for part in _parts(bar, line)]
    return beamed(bar, joined_rests(bar, groups))


@dataclass(frozen=True, slots=True)
class _Part:
    """A beat, or a quarter of a half-note beat, that is written as one: `count` slots from slot `first`."""

    onset: Fraction
    length: Fraction
    first: int
    count: int

    def strokes(self, line: Line) -> list[int]:
        """Where a line strikes in it, in slots from its start."""
        return sorted(slot - self.first for slot in line.struck if 0 <= slot - self.first < self.count)

    def ends(self, line: Line) -> set[int]:
        """Where the strokes that are not held end, in slots from its start."""
        return {stroke + 1 for stroke in self.strokes(line) if stroke + self.first in line.brief}


def _parts(bar: Bar, line: Line) -> Iterator[_Part]:
    onset, first = Fraction(0), 0
    for beat in bar.beats:
        part = _Part(onset, beat.length, first, len(beat.slots))
        if beat.length == HALF and _needs_tuplets(part, line):
            middle = part.count // 2
            yield _Part(onset, HALF / 2, first, middle)
            yield _Part(onset + HALF / 2, HALF / 2, first + middle, middle)
        else:
            yield part
        onset += beat.length
        first += part.count


def _needs_tuplets(part: _Part, line: Line) -> bool:
    strokes = part.strokes(line)
    return part.count & (part.count - 1) != 0 and (strokes not in ([], [0]) or bool(part.ends(line)))


class _Writer:
    """Writes one part for one voice, in units: slots, or several slots where nothing is finer."""

    def __init__(self, part: _Part, line: Line, other: Line, leads: bool) -> None:
        self.part = part
        self.leads = leads
        strokes, ends, others = part.strokes(line), part.ends(line), part.strokes(other)
        self.slots = gcd(part.count, *strokes, *ends)
        self.units = part.count // self.slots
        self.strokes = [stroke // self.slots for stroke in strokes]
        self.stops = sorted({*self.strokes, *(end // self.slots for end in ends), self.units})
        self.enters = Fraction(others[0], self.slots) if others else None
        self.tuplet = self._tuplet()

    def group(self) -> Group:
        """The part's symbols."""
        symbols: list[Symbol] = []
        at = 0
        for stroke in self.strokes:
            symbols += self._silence(at, stroke)
            at = stroke + self._held(stroke)
            symbols.append(self._symbol(Kind.NOTE, stroke, at))
        symbols += self._silence(at, self.units)
        return Group(tuple(symbols), self.tuplet)

    def _tuplet(self) -> tuple[int, int] | None:
        """Three in the time of two, five, six or seven in the time of four; none where plain values do."""
        if is_printable(self.part.length / self.units) or not self.strokes:
            return None
        return self.units, 1 << (self.units.bit_length() - 1)

    def _written(self, units: int) -> Fraction:
        normal = self.tuplet[1] if self.tuplet else self.units
        return self.part.length * units / normal

    def _held(self, stroke: int) -> int:
        """How many units a stroke is held: to the next stop, or as far as one note may show."""
        until = next(stop for stop in self.stops if stop > stroke)
        for units in range(until - stroke, 1, -1):
            if self._note_fits(stroke, units):
                return units
        return 1

    def _note_fits(self, start: int, units: int) -> bool:
        written = self._written(units)
        if self.tuplet:
            return is_printable(written)
        return note_fits(self._written(start), written, self.part.length)

    def _silence(self, start: int, end: int) -> Iterator[Symbol]:
        """Rests from one unit to another, or one gap where the other voice sounds or shows them."""
        if start == end:
            return
        if not self._shows_rests(start, end):
            yield self._symbol(Kind.GAP, start, end)
            return
        while start < end:
            units = next(units for units in range(end - start, 0, -1) if self._rest_fits(start, units))
            yield self._symbol(Kind.REST, start, start + units)
            start += units

    def _rest_fits(self, start: int, units: int) -> bool:
        written = self._written(units)
        if self.tuplet:
            return written.numerator == 1
        return rest_fits(self._written(start), written, self.part.length)

    def _shows_rests(self, start: int, end: int) -> bool:
        if self.enters is None:
            return self.leads or bool(self.strokes)
        if start == 0 and end < self.units:
            return end < self.enters or (end == self.enters and self.leads)
        return self.enters >= end

    def _symbol(self, kind: Kind, start: int, end: int) -> Symbol:
        unit = self.part.length / self.units
        return Symbol(
            kind,
            self.part.onset + start * unit,
            (end - start) * unit,
            self._written(end - start),
            self.part.first + start * self.slots,
        )
