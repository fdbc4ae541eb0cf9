"""The named orders of a chapter: one that is another begun elsewhere is that one, turned."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from ..pattern.order import Order
from ..pattern.steps.order import Rotate
from ..pattern.steps.step import Step
from .names import Names

_TURNED_AT_MOST = 12
"""Slots of an order that is known again when it begins elsewhere; nobody hears that in a longer one."""


@dataclass
class Sequences:
    """Orders by their names, in the order in which they are first used."""

    names: dict[Order, str] = field(default_factory=dict)

    @classmethod
    def of(cls, orders: Iterable[tuple[Order, str]], names: Names) -> Sequences:
        """Name every order that is no turned one of those before it; each comes with its exercise's title."""
        found = cls()
        for order, title in orders:
            if found._known(order) is None:
                found.names[order] = names.sequence(order, title)
        return found

    def start(self, order: Order) -> tuple[str, list[Step]]:
        """What an exercise with this order starts from, and the step that turns it, where one has to."""
        known = self._known(order)
        assert known is not None  # every order was named
        base, turn = known
        return self.names[base], [Rotate(turn)] if turn else []

    def _known(self, order: Order) -> tuple[Order, int] | None:
        if order in self.names:
            return order, 0
        for base in self.names:
            if len(base) == len(order) <= _TURNED_AT_MOST:
                for turn in range(1, len(order)):
                    if base[turn:] + base[:turn] == order:
                        return base, turn
        return None
