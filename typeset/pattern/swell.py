"""Swells: stretches over which the strokes grow louder, or softer."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Swell:
    """From the stroke at `start` to the one at `end`, as fractions of a whole note from the first barline.

    It grows from soft to the loudness that is written, or, where not `louder`, falls from there to soft.
    """

    start: Fraction
    end: Fraction
    louder: bool = True

    def moved(self, by: Fraction) -> Swell:
        """The same swell later by so much."""
        return replace(self, start=self.start + by, end=self.end + by)

    def loudness(self, moment: Fraction) -> Fraction:
        """How loud it is at a moment inside it: from 0, soft, to 1, as loud as written."""
        share = (moment - self.start) / (self.end - self.start)
        return share if self.louder else 1 - share


def loudness_at(swells: tuple[Swell, ...], moment: Fraction) -> Fraction:
    """How loud strokes at a moment are: 1, as loud as written, where no swell is; in two, what the first says."""
    return next((swell.loudness(moment) for swell in swells if swell.start <= moment <= swell.end), Fraction(1))
