"""The strokes of an exercise until they come round again: what it is known by in the index."""

from __future__ import annotations

from ..pattern.bar import Pattern
from ..pattern.limb import Limb
from ..style.model import Letters

Cycle = tuple[tuple[Limb, ...], ...]


def cycle_of(pattern: Pattern) -> Cycle:
    """The shortest order of strokes that the pattern repeats, silences left out; the last pass may be cut."""
    order = tuple(tuple(stroke.limb for stroke in slot) for slot in pattern.slots if slot)
    for length in range(1, len(order)):
        if all(order[index] == order[index - length] for index in range(length, len(order))):
            return order[:length]
    return order


def letters_of(cycle: Cycle, letters: Letters) -> tuple[str, ...]:
    """A cycle in a style's letters; strokes that sound together are joined by a plus."""
    return tuple("+".join(letters.of(limb) for limb in limbs) for limbs in cycle)
