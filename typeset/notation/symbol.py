"""Printed symbols: what a bar's rhythm is written with."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from functools import cache

QUARTER = Fraction(1, 4)
HALF = Fraction(1, 2)


class Kind(Enum):
    """A note, a rest, or time that another voice fills and that prints nothing."""

    NOTE = "note"
    REST = "rest"
    GAP = "gap"


@dataclass(frozen=True, slots=True)
class Symbol:
    """One printed symbol.

    `onset` is counted from the barline and `length` is the time it takes; `written` is the value it is
    drawn as, which inside a tuplet is longer than `length`. All are fractions of a whole note. `slot`
    is the bar's slot in which it begins. `beams` are the beams that leave its stem to the left and to
    the right, None where it is not beamed.
    """

    kind: Kind
    onset: Fraction
    length: Fraction
    written: Fraction
    slot: int
    beams: tuple[int, int] | None = None

    @property
    def base(self) -> Fraction:
        """The written value without its dot."""
        return _base(self.written)

    @property
    def flags(self) -> int:
        """How many flags its value has: none for a quarter, one for an eighth."""
        return _flags(self.written)

    @property
    def has_full_beams(self) -> bool:
        """True when all its beams run on to each neighbour, which needs no saying."""
        return self.beams is not None and set(self.beams) <= {0, self.flags}

    @property
    def starts_beam(self) -> bool:
        """True for the first note under a beam."""
        return self.beams is not None and self.beams[0] == 0

    @property
    def ends_beam(self) -> bool:
        """True for the last note under a beam."""
        return self.beams is not None and self.beams[1] == 0


def _base(written: Fraction) -> Fraction:
    return written * 2 / 3 if written.numerator == 3 else written


@cache
def _flags(written: Fraction) -> int:
    return max(0, (QUARTER / _base(written)).numerator.bit_length() - 1)


@dataclass(frozen=True, slots=True)
class Group:
    """Symbols that follow each other.

    `tuplet` (3, 2) is three in the time of two; `is_numbered` says whether its number is printed.
    """

    symbols: tuple[Symbol, ...]
    tuplet: tuple[int, int] | None = None
    is_numbered: bool = True


@dataclass(frozen=True, slots=True)
class Line:
    """What one voice plays in a bar, by slot: `struck`, and of those `brief`, which are not held."""

    struck: frozenset[int]
    brief: frozenset[int] = frozenset()


def is_printable(written: Fraction) -> bool:
    """True for a value that one symbol with at most one dot can show."""
    return written.numerator in (1, 3) and written.denominator & (written.denominator - 1) == 0
