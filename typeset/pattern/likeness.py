"""Likeness: when two orders count as the same, so that only one of them is kept."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache
from typing import Literal, TypeVar

from .mirror import mirrored
from .order import Order, write_played
from .stroke import Slot

Likeness = Literal["order", "rotation", "reversal", "hand-swap"]

Key = tuple[str, ...]

T = TypeVar("T")


def key_of(order: Order, likenesses: Iterable[Likeness]) -> Key:
    """A key that two orders share exactly when they are alike.

    `order` is being identical; `rotation` beginning elsewhere, `reversal` going backwards, `hand-swap`
    exchanging the hands; several may be used together, in any mixture.
    """
    wanted = set(likenesses)
    keys = [tuple(_sign(slot) for slot in order)]
    if "hand-swap" in wanted:
        keys.append(tuple(_swapped_sign(slot) for slot in order))
    if "reversal" in wanted:
        keys += [key[::-1] for key in keys]
    if "rotation" in wanted:
        keys = [least_rotation(key) for key in keys]
    return min(keys)


@lru_cache(maxsize=4096)
def _sign(slot: Slot) -> str:
    return write_played([slot])


@lru_cache(maxsize=4096)
def _swapped_sign(slot: Slot) -> str:
    return write_played([mirrored(slot)])


def least_rotation(key: Key) -> Key:
    """The rotation that comes first when all are sorted (Booth's algorithm, 1980, from memory)."""
    doubled = key + key
    size = len(key)
    failure = [-1] * len(doubled)
    least = 0
    for place in range(1, len(doubled)):
        sign = doubled[place]
        back = failure[place - least - 1]
        while back != -1 and sign != doubled[least + back + 1]:
            if sign < doubled[least + back + 1]:
                least = place - back - 1
            back = failure[back]
        if sign != doubled[least + back + 1]:
            if sign < doubled[least]:
                least = place
            failure[place - least] = -1
        else:
            failure[place - least] = back + 1
    least %= size
    return key[least:] + key[:least]


def first_of_each(values: Iterable[T], key: Callable[[T], object]) -> Iterator[T]:
    """The values one after the other, passing over those like one before."""
    seen: set[object] = set()
    for value in values:
        mark = key(value)
        if mark not in seen:
            seen.add(mark)
            yield value
