"""Meters: how long a bar is, how it falls into beats, and what its printed numbers count."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property, lru_cache

from .value import Value

WRITTEN = re.compile(r"^\s*(\d{1,2})\s*/\s*(\d{1,2})\s*(?:\(\s*(\d+(?:\s*\+\s*\d+)*)\s*\))?\s*$")
"""How a meter is written."""

# How a bar of eighths falls into beats when nobody says: threes where that comes out, else the common
# grouping (common practice, no source). The odd ones that are missing have to be stated.
_EIGHTHS = {
    3: (3,), 4: (2, 2), 5: (3, 2), 6: (3, 3), 7: (2, 2, 3), 8: (3, 3, 2), 9: (3, 3, 3),
    10: (3, 3, 2, 2), 12: (3, 3, 3, 3), 14: (3, 3, 3, 3, 2), 15: (3, 3, 3, 3, 3),
}  # fmt: skip

_HIGHEST = {2: 4, 4: 7, 8: 15}
_LOWEST = {2: 2, 4: 2, 8: 3}


class MeterError(ValueError):
    """The meter cannot be read, or is none that a bar can be set in."""


@dataclass(frozen=True)
class Meter(Value):
    """A meter such as 4/4, 2/2 or 7/8 (3+2+2).

    `groups` counts quarters (x/4), halves (x/2) or eighths (x/8) bound together; `stated` says whether
    the author wrote them, so that they are printed.
    """

    top: int
    bottom: int
    groups: tuple[int, ...]
    stated: bool = False

    @classmethod
    @lru_cache(maxsize=256)
    def parse(cls, text: str) -> Meter:
        """Read `4/4` or `7/8 (3+2+2)`; raises MeterError that says what would be right."""
        found = WRITTEN.match(text)
        if not found:
            raise MeterError(f"'{text}' is no meter; write it as 4/4, 6/8 or 7/8 (3+2+2)")
        top, bottom = int(found[1]), int(found[2])
        if bottom not in _HIGHEST:
            raise MeterError(
                f"{top}/{bottom} is not offered; a meter is in halves, quarters or eighths (x/2, x/4, x/8)"
            )
        if not _LOWEST[bottom] <= top <= _HIGHEST[bottom]:
            raise MeterError(
                f"{top}/{bottom} is not offered; from {_LOWEST[bottom]}/{bottom} to {_HIGHEST[bottom]}/{bottom} is"
            )
        if found[3]:
            return cls(top, bottom, cls._stated_groups(found[3], top, bottom), stated=True)
        if bottom == 8:
            if top not in _EIGHTHS:
                raise MeterError(f"{top}/8 has to say how it falls into beats, as in {top}/8 ({_example(top)})")
            return cls(top, bottom, _EIGHTHS[top])
        return cls(top, bottom, (1,) * top)

    @staticmethod
    def _stated_groups(written: str, top: int, bottom: int) -> tuple[int, ...]:
        written = written.replace(" ", "")
        groups = tuple(int(part) for part in written.split("+"))
        if sum(groups) != top:
            raise MeterError(f"the groups {written} add up to {sum(groups)}, not to the {top} of {top}/{bottom}")
        if bottom == 8 and not all(2 <= group <= 4 for group in groups):
            raise MeterError(f"a beat in {top}/{bottom} has 2, 3 or 4 eighths; {written} has another")
        if 0 in groups:
            raise MeterError(f"a group in {written} has nothing in it; write groups of 1 or more")
        return groups

    def __str__(self) -> str:
        """As an author writes it, the groups only where they were stated."""
        written = f"{self.top}/{self.bottom}"
        return f"{written} ({'+'.join(map(str, self.groups))})" if self.stated else written

    @cached_property
    def length(self) -> Fraction:
        """A bar's length as a fraction of a whole note."""
        return Fraction(self.top, self.bottom)

    @property
    def eighths(self) -> int:
        """A bar's length in eighths, which every meter is made of."""
        return self.top * 8 // self.bottom

    @cached_property
    def pulse(self) -> Fraction:
        """What the printed numbers count, as a fraction of a whole note: halves, quarters or eighths."""
        return Fraction(1, self.bottom)

    @cached_property
    def beats(self) -> tuple[Fraction, ...]:
        """The beats of a bar as fractions of a whole note: groups of eighths in x/8, else the pulses."""
        if self.bottom == 8:
            return tuple(Fraction(group, 8) for group in self.groups)
        return (self.pulse,) * self.top

    @cached_property
    def bound(self) -> tuple[Fraction, ...]:
        """The groups that beats are bound into, as fractions of a whole note, for beams and rests."""
        return tuple(group * self.pulse for group in self.groups)

    @cached_property
    def tempo_unit(self) -> Fraction:
        """What a tempo counts: quarters; halves in x/2; dotted quarters in 6, 9, 12, 15/8; else eighths."""
        if self.bottom == 8:
            threes = all(group == 3 for group in self.groups)
            return Fraction(3, 8) if threes and self.top > 3 else Fraction(1, 8)
        return self.pulse


def _example(top: int) -> str:
    """A way to split an odd number of eighths into twos and a three, for the message."""
    return "+".join(["3"] + ["2"] * ((top - 3) // 2))


COMMON_TIME = Meter.parse("4/4")
