"""The letters and syllables of a style, where sentences name limbs and counts."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..pattern.counts import Place
from ..pattern.limb import Limb
from ..pattern.order import Order, write_order

if TYPE_CHECKING:
    from ..style.model import Style

_LIMBS = tuple(limb.value for limb in Limb)
_SYLLABLES = ("e", "&", "a", "trip", "let")
_LETTER = re.compile(f"[{''.join(_LIMBS)}]", re.IGNORECASE)
_SILENT = "–"


@dataclass(frozen=True, slots=True)
class Lettering:
    """What is printed for R, L, K and H, and for the syllables `e`, `&`, `a`, `trip` and `let`."""

    letters: tuple[str, ...] = _LIMBS
    syllables: tuple[str, ...] = _SYLLABLES

    @classmethod
    def of(cls, style: Style) -> Lettering:
        """A style's."""
        counts = style.counts
        e, _, a = counts.sixteenths
        syllables = (e, *counts.eighths, a, *counts.triplets)
        return cls(tuple(style.letters.of(limb) for limb in Limb), syllables)

    def order(self, order: Order) -> str:
        """An order as its author would write it with these letters: a ghost stroke's is small."""

        def printed(found: re.Match[str]) -> str:
            letter = self.letters[_LIMBS.index(found[0].upper())]
            return letter if found[0].isupper() else letter.lower()

        return _LETTER.sub(printed, write_order(order))

    def order_alone(self, order: Order) -> str:
        """The same with a dash for each silent slot: a point would end a sentence."""
        return " ".join(_SILENT if letter == "." else letter for letter in self.order(order).split())

    def count(self, place: Place) -> str:
        """A place inside its bar."""
        if place.nth or not place.syllable:
            return place.count
        return f"{place.number}{self.syllable(place.syllable)}"

    def syllable(self, written: str) -> str:
        """What is said for an author's syllable. A style's dots and figures are no names, and leave it as it is."""
        printed = self.syllables[_SYLLABLES.index(written)]
        return written if printed == "." or printed.isdecimal() else printed


AS_WRITTEN = Lettering()
"""As an author writes."""
