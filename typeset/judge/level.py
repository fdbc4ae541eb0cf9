"""The level, from 1 to 10: every feature adds its share, and the sum is cut into levels."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass, fields
from operator import attrgetter

from ..pattern.bar import Pattern
from .features import Features, features_of
from .kit import Kit
from .timeline import Timeline, timeline

FEATURES = tuple(field.name for field in fields(Features))
LEVELS = range(1, 11)
_values_of = attrgetter(*FEATURES)


@dataclass(frozen=True, slots=True)
class Share:
    """What one feature adds: nothing up to `begins`, all of `weight` from `full` on, evenly in between.

    Raises ValueError where that would not rise.
    """

    begins: float
    full: float
    weight: float

    def __post_init__(self) -> None:
        if self.full <= self.begins:
            raise ValueError(f"a share that begins at {self.begins} is full above that, not at {self.full}")
        if self.weight < 0:
            raise ValueError(f"a weight of {self.weight} would make what is harder count as easier")

    def of(self, value: float) -> float:
        """What a feature of this value adds."""
        if value <= self.begins:
            return 0.0
        return self.weight * min((value - self.begins) / (self.full - self.begins), 1.0)


@dataclass(frozen=True)
class Weights:
    """The share of every feature, and the nine sums from which on an exercise is of level 2, 3, ... 10.

    Raises ValueError for a feature without a share, a share of none, and sums that do not rise.
    """

    shares: Mapping[str, Share]
    sums: tuple[float, ...]

    def __post_init__(self) -> None:
        if set(self.shares) != set(FEATURES):
            wrong = ", ".join(sorted(set(self.shares) ^ set(FEATURES)))
            raise ValueError(f"every feature has one share, and nothing else has; look at {wrong}")
        if len(self.sums) != len(LEVELS) - 1 or list(self.sums) != sorted(set(self.sums)):
            raise ValueError("the levels 2 to 10 begin at nine sums, each higher than the one before")

    def shares_of(self, features: Features) -> dict[str, float]:
        """What each feature adds."""
        values = zip(FEATURES, _values_of(features), strict=True)
        return {name: self.shares[name].of(value) for name, value in values}


@dataclass(frozen=True, slots=True)
class Level:
    """A level from 1 to 10, the sum behind it (finer, to sort by), and the features it was made of."""

    value: int
    sum: float
    features: Features


def level(pattern: Pattern, loops: bool, kit: Kit, weights: Weights) -> Level:
    """How hard a pattern is, whatever its tempo and whichever hand leads."""
    return level_of(timeline(pattern), pattern, loops, kit, weights)


def level_of(line: Timeline, pattern: Pattern, loops: bool, kit: Kit, weights: Weights) -> Level:
    """The level of a pattern whose timeline is at hand."""
    return graded(features_of(line, pattern, loops, kit), weights)


def graded(features: Features, weights: Weights) -> Level:
    """The level of these features; making one of them higher never lowers it."""
    total = round(sum(weights.shares_of(features).values()), 6)
    return Level(LEVELS[bisect_right(weights.sums, total)], total, features)
