"""The instruments of a kit as they are drawn from above, and which sounds each has; and the player's seat."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from ...judge.kit import Kit
from ...pattern.sound import SOUNDS
from ..marks import Curve
from .cymbals import china, cymbal, hi_hat, ride
from .drums import cowbell, drum, kick, snare
from .parts import HAIR, LINE, Disc, Instrument, Struck
from .shapes import Pen, circle

SEAT = Disc(0.0, -12.0, 16.5)
"""The player's seat, a little behind the middle from which kits are measured."""


def seat() -> tuple[Curve, ...]:
    """A round stool with its welt, lighter than what is played."""
    quiet = 60.0
    return (
        circle(SEAT.x, SEAT.y, SEAT.radius, Pen(LINE, quiet, 3)),
        circle(SEAT.x, SEAT.y, SEAT.radius - 1.6, Pen(HAIR, quiet, None)),
        circle(SEAT.x, SEAT.y, SEAT.radius - 2.2, Pen(HAIR, quiet, None)),
    )


def instruments_of(kit: Kit, sounds: Iterable[str]) -> tuple[Instrument, ...]:
    """What a kit needs for some sounds, from the floor up."""
    used = tuple(name for name in SOUNDS if name in set(sounds))
    made = [instrument for make in _MAKERS for instrument in make(Struck(kit, used))]
    return tuple(sorted(made, key=lambda one: one.height))


_MAKERS: tuple[Callable[[Struck], Iterator[Instrument]], ...] = (
    kick,
    snare,
    hi_hat,
    ride,
    cymbal("crash", 5),
    cymbal("splash", 3),
    china,
    drum("high-tom", 6),
    drum("mid-tom", 6),
    drum("floor-tom", 8),
    cowbell,
)
"""Each draws its instrument where one of its sounds is used, and says which."""
