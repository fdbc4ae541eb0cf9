"""What every instrument of the picture is made with: thicknesses, inks, discs, and what is struck of a kit.

Everything is in the centimetres of the kit's declared places (`shared/kits/`), x to the right and y ahead.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import dist

from ...judge.kit import Kit, Target
from ...pattern.sound import SOUNDS
from ..marks import Curve, Point
from .shapes import around

HEAVY, LINE, FINE, HAIR = 0.75, 0.55, 0.4, 0.25
"""How thick lines are, in points."""

METAL, SHELL = 7.0, 14.0
"""Ink inside of cymbals and pedals, and of hoops."""


@dataclass(frozen=True, slots=True)
class Disc:
    """A round part of the picture."""

    x: float
    y: float
    radius: float

    def holds(self, point: Point, margin: float = 0.0) -> bool:
        """True where a point lies in it, or within so much of its edge."""
        return dist(point, (self.x, self.y)) < self.radius + margin


@dataclass(frozen=True, slots=True)
class Instrument:
    """An instrument as it is drawn, `height` above the floor, and the places where leaders may end.

    `covers` is what it hides of lower ones; `places` go with the sounds that are struck there.
    """

    height: float
    shape: tuple[Curve, ...]
    covers: tuple[Disc, ...]
    places: tuple[tuple[tuple[str, ...], tuple[Point, ...]], ...]


@dataclass(frozen=True)
class Struck:
    """A kit and the sounds that are used of it."""

    kit: Kit
    used: tuple[str, ...]

    def together(self, name: str) -> tuple[str, ...]:
        """The used sounds that are struck at the place of this one, which comes first in the table of sounds."""
        target = self.kit.targets[name]
        same = [one for one in SOUNDS if self.kit.targets[one] == target]
        return tuple(one for one in self.used if one in same) if same[0] == name else ()

    def at(self, name: str) -> Target:
        """Where a sound is struck."""
        return self.kit.targets[name]

    @property
    def side(self) -> float:
        """1 where the kick is on the right, -1 where the kit is turned over."""
        return 1.0 if self.kit.targets["kick"].x >= self.kit.targets["hi-hat"].x else -1.0


def spots(disc: Disc, least: float) -> tuple[Point, ...]:
    """Places on a disc where a leader may end, none nearer to its middle than that share of its radius."""
    middle = ((disc.x, disc.y),) if least == 0 else ()
    return (*middle, *(at for _, at in around(disc.x, disc.y, disc.radius * 0.55, 8)))
