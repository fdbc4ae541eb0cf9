"""Names for what is written: ids of exercises, and names of sequences, each used once."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, field

from ..pattern.order import Order, write_order

_SHORT = 8
_LONGEST = 40


@dataclass
class Names:
    """The names that were given so far; sequences and exercises share them."""

    taken: set[str] = field(default_factory=set)

    def id_of(self, title: str) -> str:
        """An id made of a title's letters and digits."""
        return self._unused(_plain(title) or "exercise")

    def sequence(self, order: Order, title: str) -> str:
        """A name for an order: its limbs where it is short and one at a time, else its exercise's."""
        letters = "".join(write_order(order).lower().split())
        if len(order) <= _SHORT and letters.isalpha():
            return self._unused(letters)
        return self._unused(f"{_plain(title) or 'exercise'}-order")

    def _unused(self, name: str) -> str:
        number, found = 1, name
        while found in self.taken:
            number += 1
            found = f"{name}-{number}"
        self.taken.add(found)
        return found


def _plain(title: str) -> str:
    letters = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", letters).strip("-")[:_LONGEST].strip("-")
