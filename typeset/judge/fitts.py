"""Fitts's law: how long it takes to hit a target, from how far away and how large it is.

Fitts, *Journal of Experimental Psychology* 47 (1954), from memory: the time of a movement grows in a straight
line with its index of difficulty, log2(2A/W) bits, for the distance A and the target's width W.
"""

from __future__ import annotations

from math import log2


def index_of_difficulty(distance: float, width: float) -> float:
    """How hard a target is to hit, in bits; distance and width in the same unit.

    Never below 0: a stick that already hangs over its target has nowhere to go. Raises ValueError for a
    target without width.
    """
    if width <= 0:
        raise ValueError(f"a target {width} wide cannot be hit")
    return max(0.0, log2(2 * distance / width)) if distance > 0 else 0.0
