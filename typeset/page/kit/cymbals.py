"""The cymbals of a kit as they are drawn from above.

How large a cymbal is follows from the part of it that sounds as it should; its edge is added here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import dist

from ..marks import Curve
from .parts import FINE, HAIR, HEAVY, LINE, METAL, SHELL, Disc, Instrument, Struck, spots
from .pedals import footboard
from .shapes import Pen, between, box, circle

_EDGE = 1.1
"""A cymbal's edge against the part of it that is struck."""


def hi_hat(struck: Struck) -> Iterator[Instrument]:
    """Both cymbals on their stand, and the pedal, its heel towards the player's hip."""
    sounds, foot = struck.together("hi-hat"), struck.together("hi-hat-foot")
    if not sounds and not foot:
        return
    pedal, hat = struck.at("hi-hat-foot"), struck.at("hi-hat")
    hip = (-14.0 * struck.side, 0.0)
    length = dist((pedal.x, pedal.y), hip)
    heel = (pedal.x + (hip[0] - pedal.x) / length * 29, pedal.y + (hip[1] - pedal.y) / length * 29)
    end = between((pedal.x, pedal.y), heel, 0.86)
    yield Instrument(pedal.z, footboard((pedal.x, pedal.y), heel), (), ((foot, (end,)),) if foot else ())
    radius = hat.width / 2 * _EDGE
    below = circle(hat.x + 0.9 * struck.side, hat.y - 1.3, radius, Pen(LINE, fill=SHELL))
    disc = Disc(hat.x, hat.y, radius)
    shape = (below, *_plate(disc, rings=4), circle(hat.x, hat.y, 1.9, Pen(FINE, fill=0)), _nut(disc))
    yield Instrument(hat.z, shape, (disc,), ((sounds, spots(disc, 0.4)),) if sounds else ())


def cymbal(name: str, rings: int) -> Callable[[Struck], Iterator[Instrument]]:
    """A cymbal of that name with so many rings."""

    def make(struck: Struck) -> Iterator[Instrument]:
        sounds = struck.together(name)
        if sounds:
            at = struck.at(name)
            disc = Disc(at.x, at.y, at.width / 2 * _EDGE)
            yield Instrument(at.z, (*_plate(disc, rings), _nut(disc)), (disc,), ((sounds, spots(disc, 0.4)),))

    return make


def ride(struck: Struck) -> Iterator[Instrument]:
    """The ride's bell is its middle; the place where it is struck lies beside that."""
    sounds, on_bell = struck.together("ride"), struck.together("ride-bell")
    if not sounds and not on_bell:
        return
    at, bell = struck.at("ride"), struck.at("ride-bell")
    disc = Disc(bell.x, bell.y, at.width / 2 * _EDGE)
    places = [(sounds, spots(disc, 0.45))] if sounds else []
    places += [(on_bell, spots(Disc(bell.x, bell.y, disc.radius * 0.2), 0.5))] if on_bell else []
    yield Instrument(at.z, (*_plate(disc, 6), _nut(disc)), (disc,), tuple(places))


def china(struck: Struck) -> Iterator[Instrument]:
    """Its edge is turned up."""
    sounds = struck.together("china")
    if sounds:
        at = struck.at("china")
        disc = Disc(at.x, at.y, at.width / 2 * _EDGE)
        edge = (circle(disc.x, disc.y, disc.radius * share, Pen(FINE, 80, None)) for share in (0.84, 0.79))
        shape = (*_plate(disc, 3), *edge, _nut(disc))
        yield Instrument(at.z, shape, (disc,), ((sounds, spots(disc, 0.4)),))


def _plate(disc: Disc, rings: int) -> tuple[Curve, ...]:
    """A cymbal's edge, the rings of its lathe, and its bell."""
    bell = 0.24
    steps = [bell + (1 - bell) * number / (rings + 1) for number in range(1, rings + 1)]
    return (
        circle(disc.x, disc.y, disc.radius, Pen(HEAVY, fill=METAL)),
        *(circle(disc.x, disc.y, disc.radius * step, Pen(HAIR, 45, None)) for step in steps),
        circle(disc.x, disc.y, disc.radius * bell, Pen(FINE, 80, 3)),
    )


def _nut(disc: Disc) -> Curve:
    return box(disc.x, disc.y, 2.6, 1.1, Pen(FINE, fill=100), 0.4)
