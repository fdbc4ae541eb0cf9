"""The four limbs."""

from __future__ import annotations

from enum import Enum


class Limb(Enum):
    """A limb, valued by the letter that a sequence is written in."""

    RIGHT = "R"
    LEFT = "L"
    KICK = "K"
    HAT = "H"

    # Each is the only one of its kind, and is looked up again and again.
    __hash__ = object.__hash__

    @property
    def is_hand(self) -> bool:
        """True for the two hands, false for the two feet."""
        return self in (Limb.RIGHT, Limb.LEFT)

    @property
    def mirrored(self) -> Limb:
        """The same stroke's limb in a left-handed copy: the hands change places, the feet stay."""
        return {Limb.RIGHT: Limb.LEFT, Limb.LEFT: Limb.RIGHT}.get(self, self)

    @property
    def rank(self) -> int:
        """Where the limb stands when limbs are listed: R, L, K, H."""
        return _RANKS[self]


_RANKS = {limb: rank for rank, limb in enumerate(Limb)}
