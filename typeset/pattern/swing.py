"""Swing: the second of two even notes comes late, by a ratio."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from math import gcd

from .bar import Bar, Beat

EIGHTH = Fraction(1, 8)
SIXTEENTH = Fraction(1, 16)

_NOTES = {"8ths": EIGHTH, "16ths": SIXTEENTH}
_UNEVENEST = 4
_WRITTEN = re.compile(r"^\s*(?:(8ths|16ths)\s+)?(\d{1,2})\s*:\s*(\d{1,2})\s*$")


class SwingError(ValueError):
    """The swing cannot be read, or no player swings like that."""


@dataclass(frozen=True, slots=True)
class Swing:
    """A pair of notes lasts `first` to `second`; `note` is which notes, as a fraction of a whole note.

    `note` None means those that the exercise itself swings, or eighths where it is straight.
    """

    first: int = 2
    second: int = 1
    note: Fraction | None = None

    @classmethod
    def parse(cls, text: str) -> Swing:
        """Read `2:1` or `16ths 3:2`; raises SwingError that says how one is written."""
        found = _WRITTEN.match(text)
        if not found:
            raise SwingError(f"'{text}' is no swing; write it as 2:1, 3:2, or 16ths 3:2")
        first, second = int(found[2]), int(found[3])
        if not second or not second <= first <= _UNEVENEST * second:
            raise SwingError(f"a swing goes from 1:1, which is straight, to {_UNEVENEST}:1; {text} does not")
        shared = gcd(first, second)
        return cls(first // shared, second // shared, _NOTES.get(found[1]))

    @property
    def share(self) -> Fraction:
        """How much of a pair its first note takes."""
        return Fraction(self.first, self.first + self.second)


def swing_of(feel: str, asked: Swing | None = None) -> Swing | None:
    """The swing that an exercise of a feel is played with, in the ratio asked for, or 2:1; None: straight.

    2:1 is common practice, no source.
    """
    felt = _NOTES.get(feel.removeprefix("swing-"))
    if asked is None:
        return Swing(note=felt) if felt else None
    if asked.share == Fraction(1, 2):
        return None
    return Swing(asked.first, asked.second, asked.note or felt or EIGHTH)


def swung(bar: Bar, swing: Swing | None) -> tuple[Fraction, ...]:
    """When each slot of a bar begins, and the bar ends, as fractions of a whole note from the barline.

    Only a beat that is divided in halves swings: triplets are what they are. Where eighths are what is
    counted, as in 6/8, they do not swing.
    """
    times: list[Fraction] = []
    start = bar.lead
    for beat in bar.beats:
        pair = _pair(bar, beat, swing)
        even = [start + index * beat.slot_length for index in range(len(beat.slots))]
        times += [_moved(time, pair, swing.share) for time in even] if swing and pair else even
        start += beat.length
    return (*times, start)


def _pair(bar: Bar, beat: Beat, swing: Swing | None) -> Fraction | None:
    """How long two of the notes that swing are together; None for a beat that does not swing."""
    pair = 2 * (swing.note or EIGHTH) if swing else None
    if pair is None or pair > bar.meter.pulse:
        return None
    slots = pair / beat.slot_length
    halved = slots.denominator == 1 and slots > 1 and slots.numerator & (slots.numerator - 1) == 0
    return pair if halved else None


def _moved(time: Fraction, pair: Fraction, share: Fraction) -> Fraction:
    """A time in straight pairs as a time in swung ones; the middle of a pair goes to its share."""
    place = time % pair / pair
    swung_place = place * 2 * share if place < Fraction(1, 2) else share + (place * 2 - 1) * (1 - share)
    return time - time % pair + swung_place * pair
