"""Every order of strokes that obeys: made one after the other, and counted without making them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from .likeness import Likeness, first_of_each, key_of
from .limb import Limb
from .order import Order
from .stroke import plain_stroke

LONGEST_MADE = 64
"""The longest orders that are made from rules; nobody reads a longer one as one idea."""


def make_orders(
    length: int, limbs: Sequence[Limb], longest_run: int | None = None, distinct: Sequence[Likeness] = ()
) -> Iterator[Order]:
    """Every order of so many strokes by these limbs, one limb at a time, in the order of the limbs given.

    No run of one limb is longer than `longest_run`, runs going round the end. With `distinct` only the
    first of those that are alike is given. Lazy: it takes no longer than what is asked of it.
    """
    strokes = {limb: (plain_stroke(limb),) for limb in limbs}
    orders = (tuple(strokes[limb] for limb in word) for word in _words(length, limbs, longest_run or length))
    return first_of_each(orders, lambda order: key_of(order, distinct)) if distinct else orders


def _words(length: int, limbs: Sequence[Limb], longest: int) -> Iterator[tuple[Limb, ...]]:
    """Words of limbs whose runs, round the end too, are no longer than `longest`."""
    word: list[Limb] = []

    def grow(run: int) -> Iterator[tuple[Limb, ...]]:
        if len(word) == length:
            if _closes(word, longest):
                yield tuple(word)
            return
        for limb in limbs:
            longer = run + 1 if word and word[-1] is limb else 1
            if longer <= longest:
                word.append(limb)
                yield from grow(longer)
                word.pop()

    return grow(0)


def _closes(word: Sequence[Limb], longest: int) -> bool:
    """True when the run that goes round the end is not too long."""
    if all(limb is word[0] for limb in word):
        return len(word) <= longest
    head = next(place for place, limb in enumerate(word) if limb is not word[0])
    tail = next(place for place, limb in enumerate(reversed(word)) if limb is not word[-1])
    return word[0] is not word[-1] or head + tail <= longest


def count_orders(length: int, limbs: int, longest_run: int | None = None) -> int:
    """How many orders `make_orders` gives without `distinct`, by counting runs and not by making them.

    A word that goes round is cut where its last run begins: the runs between the cut and the end are as
    in a line, and every place of the first run's start is counted once for each of its places.
    """
    longest = longest_run or length
    same = limbs if length <= longest else 0
    if limbs < 2:
        return same
    # ways[n][r]: words in a line of n strokes in r runs, the limb of the first run given.
    line = _lines(length, limbs, longest)
    changing = 0
    for around in range(1, min(longest, length - 1) + 1):
        # The run that covers the end is `around` long; it can begin at `around` places round the end.
        changing += around * line[length - around]
    return same + limbs * changing


def _lines(length: int, limbs: int, longest: int) -> list[int]:
    """For each length: words in a line whose first and last runs both differ from one given limb."""
    # apart[n]: ends on another limb than the given one; home[n]: ends on the given one. Runs are whole.
    apart = [0] * (length + 1)
    home = [0] * (length + 1)
    home[0] = 1
    for size in range(1, length + 1):
        for run in range(1, min(longest, size) + 1):
            before = size - run
            apart[size] += (limbs - 1) * home[before] + (limbs - 2) * apart[before]
            home[size] += apart[before]
    return apart
