"""Where in a beat a note or a rest of some length may stand, so that the beat stays readable.

A beat falls into halves and halves again; a dotted beat falls into three first. All lengths are
fractions of a whole note, counted from the beat's start.
"""

from __future__ import annotations

from fractions import Fraction

from .symbol import QUARTER, is_printable

ZERO = Fraction(0)


def note_fits(start: Fraction, length: Fraction, beat: Fraction) -> bool:
    """True where one note of that length may stand from `start` without hiding the parts of the beat.

    It fills a part, or runs over the middle of one with both ends on that part's quarters, as in
    sixteenth, eighth, sixteenth.
    """
    if not is_printable(length) or start + length > beat:
        return False
    low, size = _smallest_part(start, start + length, beat)
    if (low, size) == (start, length):
        return True
    child = size / _children(size)
    begins, ends = (start - low) / child, (start + length - low) / child
    if (ends * 2).denominator != 1:
        return False
    if begins.denominator == 1:
        return True
    crossed = -(-ends.numerator // ends.denominator) - begins.numerator // begins.denominator - 1
    return (begins * 2).denominator == 1 and crossed == 1


def rest_fits(start: Fraction, length: Fraction, beat: Fraction) -> bool:
    """True where one rest of that length may stand from `start`.

    It fills a part; or it is dotted and opens a part of a quarter or less; or it is the first two
    eighths of a dotted beat.
    """
    if not is_printable(length) or start + length > beat:
        return False
    low, size = _smallest_part(start, start + length, beat)
    if low != start:
        return False
    if size == length:
        return True
    if _children(size) == 3:
        return length * 3 == size * 2
    return length * 4 == size * 3 and size <= QUARTER


def _children(size: Fraction) -> int:
    return 3 if size.numerator == 3 else 2


def _smallest_part(start: Fraction, end: Fraction, beat: Fraction) -> tuple[Fraction, Fraction]:
    """The smallest part of a beat that holds all of [start, end): its start and its size."""
    low, size = ZERO, beat
    while True:
        child = size / _children(size)
        below = low + (start - low) // child * child
        if end > below + child:
            return low, size
        low, size = below, child
        if (low, size) == (start, end - start):
            return low, size
