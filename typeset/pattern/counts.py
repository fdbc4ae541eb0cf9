"""Counts: what players call the places in a bar, and finding a place by its count.

Common practice, no source: `1 e & a` for four in a beat, `1 trip let` for three; everything else is
counted through from the number, so that `2.3` is the third slot from the printed 2.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from .bar import Bar, Beat, Pattern, Shape, bars_in_words
from .meter import Meter
from .stroke import SILENCE

WRITTEN = re.compile(r"^\s*(?:(\d+)\s*\|\s*)?(\d+)\s*(e|&|a|trip|let|\.\s*(\d+))?\s*$")
"""How a place is written."""

_FOUR = {Fraction(0): "", Fraction(1, 4): "e", Fraction(1, 2): "&", Fraction(3, 4): "a"}
_THREE = {Fraction(0): "", Fraction(1, 3): "trip", Fraction(2, 3): "let"}
_TWO = {Fraction(0): "", Fraction(1, 2): "&"}


class CountError(ValueError):
    """A count that cannot be read, or that the bar does not have."""


@dataclass(frozen=True, slots=True)
class Count:
    """What one slot is called.

    `number` is the printed number it follows, `nth` its place from that number (1 is the number
    itself), `syllable` what players say for it ('' for the number, None where they only count on), and
    `of` how many slots there are to that number.
    """

    number: int
    nth: int
    syllable: str | None
    of: int

    def __str__(self) -> str:
        """As an author writes it: `3`, `3e`, `3.2`."""
        return f"{self.number}.{self.nth}" if self.syllable is None else f"{self.number}{self.syllable}"


@dataclass(frozen=True, slots=True)
class Place:
    """A place as an author writes it: `3`, `3&`, `2.4`, `2|3&`; without a bar it means every bar."""

    number: int
    syllable: str
    nth: int | None
    bar: int | None = None

    @classmethod
    def parse(cls, text: str) -> Place:
        """Read a place; raises CountError that says how one is written."""
        found = WRITTEN.match(text)
        if not found:
            raise CountError(
                f"'{text}' is no count; write it as 3, 3e, 3&, 3a, 2trip, 2let, 2.4 or, in bar 2, 2|3&"
            )
        nth = int(found[4]) if found[4] else None
        if found[1] == "0" or found[2] == "0" or nth == 0:
            raise CountError(f"'{text}' is no count; bars, numbers and slots are counted from 1")
        syllable = "" if nth or not found[3] else found[3]
        return cls(int(found[2]), syllable, nth, int(found[1]) if found[1] else None)

    def __str__(self) -> str:
        """As an author writes it."""
        return f"{self.bar}|{self.count}" if self.bar else self.count

    @property
    def count(self) -> str:
        """The place inside its bar."""
        return f"{self.number}.{self.nth}" if self.nth else f"{self.number}{self.syllable}"

    def matches(self, count: Count) -> bool:
        """True when a slot of that count is the one meant."""
        if count.number != self.number:
            return False
        return count.nth == self.nth if self.nth else count.syllable == self.syllable


def counts_of(bar: Bar) -> tuple[Count, ...]:
    """What each slot of a bar is called, in order."""
    return _counts_of_shape(bar.meter, bar.shape)


@lru_cache(maxsize=512)
def _counts_of_shape(meter: Meter, shape: Shape) -> tuple[Count, ...]:
    """The counts of every bar of this shape; a book has few shapes, and they are asked for again and again."""
    bar = Bar(meter, tuple(Beat(Fraction(top, bottom), (SILENCE,) * slots) for top, bottom, slots in shape))
    pulse = meter.pulse
    numbers = [int(onset // pulse) + 1 for onset in bar.onsets]
    counts = []
    for index, (onset, length) in enumerate(zip(bar.onsets, bar.slot_lengths, strict=True)):
        number = numbers[index]
        syllables = _syllables(bar, length)
        offset = (onset % pulse) / pulse
        # A pickup may begin after the number that its first slots follow.
        passed = bar.lead % pulse / length if number == numbers[0] and bar.lead else 0
        nth = index - numbers.index(number) + 1 + int(passed)
        counts.append(Count(number, nth, syllables.get(offset, "" if offset == 0 else None), numbers.count(number)))
    return tuple(counts)


def _syllables(bar: Bar, slot_length: Fraction) -> dict[Fraction, str]:
    """What is said at which part of the pulse, where slots have this length."""
    pulse = bar.meter.pulse
    share = slot_length / pulse
    if share == Fraction(1, 3):
        return _THREE
    if share not in (1, Fraction(1, 2), Fraction(1, 4), Fraction(1, 8), Fraction(1, 16)):
        return {}
    return _TWO if bar.meter.bottom == 8 else _FOUR


def place_of(pattern: Pattern, index: int) -> Place:
    """The place of a slot of a pattern, with its bar where there are several. Raises IndexError."""
    for number, bar in enumerate(pattern.bars, start=1):
        if index < len(bar.slots):
            count = counts_of(bar)[index]
            nth = count.nth if count.syllable is None else None
            return Place(count.number, count.syllable or "", nth, number if len(pattern.bars) > 1 else None)
        index -= len(bar.slots)
    raise IndexError(index)


def find_in_bar(bar: Bar, place: Place) -> int:
    """The slot of a bar that a place means.

    Raises CountError that lists the counts the bar has.
    """
    counts = counts_of(bar)
    for index, count in enumerate(counts):
        if place.matches(count):
            return index
    has = " ".join(str(count) for count in counts)
    raise CountError(f"there is no count {place.count} here; this bar of {bar.meter} has {has}")


def find(pattern: Pattern, place: Place) -> tuple[int, ...]:
    """The slots of a pattern that a place means: one in its bar, or one in every bar that has it.

    Raises CountError where no bar has it, or its bar does not exist.
    """
    if place.bar is not None:
        if place.bar > len(pattern.bars):
            has = bars_in_words(len(pattern.bars))
            raise CountError(f"there is no bar {place.bar} for {place}; there are {has}")
        before = sum(len(bar.slots) for bar in pattern.bars[: place.bar - 1])
        return (before + find_in_bar(pattern.bars[place.bar - 1], place),)
    found: list[int] = []
    refusal: CountError | None = None
    start = 0
    for bar in pattern.bars:
        try:
            found.append(start + find_in_bar(bar, place))
        except CountError as error:
            refusal = refusal or error
        start += len(bar.slots)
    if not found and refusal:
        raise refusal
    return tuple(found)
