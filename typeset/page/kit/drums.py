"""The drums of a kit and its cowbell as they are drawn from above.

How large a drum is follows from the part of its head that sounds as it should; its hoop is added here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import dist

from ..marks import Curve, Point
from .parts import FINE, HAIR, HEAVY, LINE, METAL, SHELL, Disc, Instrument, Struck, spots
from .pedals import footboard
from .shapes import Pen, around, at_angle, between, board, box, circle, line

_HOOP = 1.18
"""A drum's hoop against the part of its head that is struck."""

_SHELL_LENGTH, _SHELL_WIDTH = 42.0, 56.0
"""Of the bass drum, in centimetres (22 inches, common practice): the kit only says where its pedal is."""

_ON_THE_FLOOR = 70.0
"""Toms that are lower than this have legs."""


def kick(struck: Struck) -> Iterator[Instrument]:
    """The shell seen from above, its pedal and the beater."""
    sounds = struck.together("kick")
    if not sounds:
        return
    pedal = struck.at("kick")
    x, near = pedal.x, pedal.y + 6
    far = near + _SHELL_LENGTH
    wide, hoop = _SHELL_WIDTH, 3.4
    shell = [box(x, (near + far) / 2, wide - 4, far - near, Pen(LINE, fill=0), 1.5)]
    for share in (-0.38, -0.13, 0.13, 0.38):
        lug = x + share * wide
        shell.append(line([(lug, near), (lug, far)], HAIR, 60))
        shell += [box(lug, (near + far) / 2, 2.2, 5.5, Pen(FINE, fill=0), 0.8)]
    for y in (near, far):
        shell.append(box(x, y, wide, hoop, Pen(LINE, fill=SHELL), 1.2))
    for side in (-1, 1):
        foot = (x + side * (wide / 2 + 5), far - 4)
        shell.insert(0, board((x + side * (wide / 2 - 3), far - 11), foot, 1.6, 1.2, Pen(FINE, fill=0), 0.5))
    ends = [
        (x + share * wide, y) for y in (far - 5, far - 13, near + 12) for share in (-0.42, -0.25, 0, 0.25, 0.42)
    ]
    plate = footboard((x, pedal.y + 1), (x, pedal.y - 27))
    beater = (line([(x, pedal.y + 1), (x, near)], HEAVY), box(x, near - 2, 4.5, 3, Pen(LINE, fill=SHELL), 1.2))
    yield Instrument(pedal.z, (*shell, *beater, *plate), (), ((sounds, tuple(ends)),))


def snare(struck: Struck) -> Iterator[Instrument]:
    """Its head, its rim and both together are struck at one drum."""
    sounds = tuple(one for name in ("snare", "cross-stick", "rim-shot") for one in struck.together(name))
    if sounds:
        at = struck.at("snare")
        disc = Disc(at.x, at.y, at.width / 2 * _HOOP)
        strainer = box(disc.x - struck.side * (disc.radius + 1.2), disc.y, 2.6, 6, Pen(FINE, fill=SHELL), 0.6)
        yield Instrument(at.z, (strainer, *_head(disc, 10)), (disc,), ((sounds, spots(disc, 0.0)),))


def drum(name: str, lugs: int) -> Callable[[Struck], Iterator[Instrument]]:
    """A drum of that name with so many lugs."""

    def make(struck: Struck) -> Iterator[Instrument]:
        sounds = struck.together(name)
        if sounds:
            at = struck.at(name)
            disc = Disc(at.x, at.y, at.width / 2 * _HOOP)
            shape = (*_legs(disc), *_head(disc, lugs)) if at.z < _ON_THE_FLOOR else _head(disc, lugs)
            yield Instrument(at.z, shape, (disc,), ((sounds, spots(disc, 0.0)),))

    return make


def cowbell(struck: Struck) -> Iterator[Instrument]:
    """A cowbell, its mouth towards the player."""
    sounds = struck.together("cowbell")
    if sounds:
        at = struck.at("cowbell")
        mouth, back = (at.x - 2 * struck.side, at.y - 7), (at.x + 2 * struck.side, at.y + 7)
        shape = (
            board(mouth, back, 10, 6, Pen(HEAVY, fill=METAL), 0.8),
            line([_beside(mouth, back, 5, -1), _beside(mouth, back, 5, 1)], LINE),
            board(between(mouth, back, 0.12), between(mouth, back, 0.9), 4.6, 2.6, Pen(HAIR, 60, None), 0.6),
        )
        yield Instrument(at.z, shape, (Disc(at.x, at.y, 6),), ((sounds, ((at.x, at.y),)),))


def _head(disc: Disc, lugs: int) -> tuple[Curve, ...]:
    """A drum's lugs, hoop and head, with the rods that hold it."""
    first = 90 + 180 / lugs
    inner = disc.radius - 1.5
    lug_pen, rod_pen = Pen(FINE, fill=SHELL), Pen(HAIR, fill=0)
    lugs_ = (
        board(at_angle(disc.x, disc.y, disc.radius - 0.5, angle), end, 2.6, 2.2, lug_pen, 0.6)
        for angle, end in around(disc.x, disc.y, disc.radius + 1.6, lugs, first)
    )
    return (
        *lugs_,
        circle(disc.x, disc.y, disc.radius, Pen(HEAVY, fill=SHELL)),
        circle(disc.x, disc.y, inner, Pen(LINE, fill=0)),
        circle(disc.x, disc.y, inner - 1.1, Pen(HAIR, 55, None)),
        *(circle(*at, 0.55, rod_pen) for _, at in around(disc.x, disc.y, disc.radius - 0.75, lugs, first)),
    )


def _legs(disc: Disc) -> Iterator[Curve]:
    for angle, end in around(disc.x, disc.y, disc.radius + 4.2, 3, 90):
        yield board(at_angle(disc.x, disc.y, disc.radius - 1, angle), end, 1.8, 1.8, Pen(FINE, fill=METAL), 0.9)


def _beside(start: Point, end: Point, distance: float, side: int) -> Point:
    length = dist(start, end)
    return (
        start[0] - side * distance * (end[1] - start[1]) / length,
        start[1] + side * distance * (end[0] - start[0]) / length,
    )
