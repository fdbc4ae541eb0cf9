"""How far strokes reach from the middles of their heads, in staff spaces, as the engraver draws them."""

from __future__ import annotations

from functools import lru_cache

from ..pattern.stroke import Dynamic, Ornament, Slot

GRACE, BETWEEN_GRACES = 1.15, 0.72
"""From a head's middle to that of the grace note before it, and from there to the one before that."""

# A head alone, in parentheses, with one grace note to the left, with two (measured on what is drawn).
HEAD, GHOST, FLAM, DRAG = 0.68, 1.02, 1.5, 2.25

# The least that is left free between two neighbours in a bar of which one reaches out.
_BETWEEN = 0.2

HALF_BARLINE, HALF_REPEAT = 0.1, 0.8
"""Half the width of a barline, and of a repeat sign."""

LEAST_AIR = 0.5
"""The least that is left free on either side of a barline where an ornament or parentheses reach out towards it."""

LEAST_IN_TIGHT_LINES = 0.25
"""The same where a bar fills its line and has no room for more (our own)."""

HEADS_AT_BARLINE = 2 * (HEAD + HALF_BARLINE + 0.9)
"""How far two heads stand apart at least between which a barline stands. 0.9 is what LilyPond leaves after one
(BarLine's space-alist, next-note); Gould, Behind Bars (Faber, 2011), asks for about a space (from memory)."""


def reach(slot: Slot) -> float:
    """How far what stands on a slot reaches to the left of its head's middle."""
    ornaments = {stroke.ornament for stroke in slot}
    if Ornament.DRAG in ornaments:
        return DRAG
    if Ornament.FLAM in ornaments:
        return FLAM
    return GHOST if any(stroke.dynamic is Dynamic.GHOST for stroke in slot) else HEAD


@lru_cache(maxsize=4096)
def reach_right(slot: Slot) -> float:
    """How far it reaches to the right, without a flag."""
    return GHOST if any(stroke.dynamic is Dynamic.GHOST for stroke in slot) else HEAD


@lru_cache(maxsize=4096)
def room_between(before: Slot, slot: Slot) -> float:
    """How far two neighbours in a bar stand apart at least; none where one of them is silent."""
    if not (before and slot):
        return 0.0
    left, right = reach(slot), reach_right(before)
    return left + right + (_BETWEEN if max(left, right) > HEAD else 0.0)


def room_at_barline(before: Slot, slot: Slot, half: float = HALF_BARLINE, air: float = LEAST_AIR) -> float:
    """How far two slots stand apart at least between which a barline stands.

    `half` is half its width, and `air` what is left free on either side of it.
    """
    left = reach(slot) if slot else HEAD
    right = reach_right(before) if before else 0.0
    return left + right + 2 * (half + air)
