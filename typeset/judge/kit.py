"""The drawn kit: where each sound is played and how large a target it is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import dist
from typing import NamedTuple

from ..pattern.sound import SOUNDS
from .fitts import index_of_difficulty


@dataclass(frozen=True, slots=True)
class Target:
    """Where a sound is struck, in cm from the floor under the drummer's middle.

    `x` to the right, `y` ahead, `z` up; `width` is the part that sounds as it should.
    """

    x: float
    y: float
    z: float
    width: float


class Way(NamedTuple):
    """From one target to another: whole millimetres, and the index of difficulty in bits (0: no move)."""

    mm: int
    bits: float


@dataclass(frozen=True)
class Kit:
    """A drum kit: a target for every sound there is.

    Hands may cross by `crossing` cm at the same moment, as they do for the hi-hat over the snare; two sticks
    do not go together on one of the `small` sounds. Raises ValueError that names a sound without a target.
    """

    name: str
    targets: Mapping[str, Target]
    crossing: float
    small: frozenset[str]

    def __post_init__(self) -> None:
        missing = [name for name in SOUNDS if name not in self.targets]
        if missing:
            raise ValueError(f"a kit has a place for every sound; this one lacks {', '.join(missing)}")

    @cached_property
    def ways(self) -> dict[str, dict[str, Way]]:
        """The way from each sound to each other one, worked out once."""
        targets = self.targets
        return {start: {end: _way(targets[start], targets[end]) for end in targets} for start in targets}

    def mirrored(self) -> Kit:
        """The same kit set up the other way round, for a left-handed drummer."""
        turned = {name: replace(target, x=-target.x) for name, target in self.targets.items()}
        return replace(self, targets=turned)


def _way(start: Target, end: Target) -> Way:
    distance = dist((start.x, start.y, start.z), (end.x, end.y, end.z))
    return Way(round(distance * 10), index_of_difficulty(distance, end.width))
