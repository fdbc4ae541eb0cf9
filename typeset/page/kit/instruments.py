"""The instruments of a kit as they are drawn from above: what each looks like, and which sounds it has.

Everything is in the centimetres of the kit's declared places (`shared/kits/`), x to the right and y ahead. How
large an instrument is follows from the part of it that sounds as it should; hoops and edges are added here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from math import dist

from ...judge.kit import Kit, Target
from ...pattern.sound import SOUNDS
from ..marks import Curve, Point
from .shapes import Pen, around, at_angle, board, box, circle, line

_HEAVY, _LINE, _FINE, _HAIR = 0.75, 0.55, 0.4, 0.25
_METAL, _SHELL = 7.0, 14.0
"""Ink inside of cymbals and pedals, and of hoops."""

_HOOP = 1.18
"""A drum's hoop against the part of its head that is struck."""

_EDGE = 1.1
"""A cymbal's edge against the part of it that is struck."""

_SHELL_LENGTH, _SHELL_WIDTH = 42.0, 56.0
"""Of the bass drum, in centimetres (22 inches, common practice): the kit only says where its pedal is."""


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


def instruments_of(kit: Kit, sounds: Iterable[str]) -> tuple[Instrument, ...]:
    """What a kit needs for some sounds, from the floor up."""
    used = tuple(name for name in SOUNDS if name in set(sounds))
    made = [instrument for make in _MAKERS for instrument in make(_Struck(kit, used))]
    return tuple(sorted(made, key=lambda one: one.height))


SEAT = Disc(0.0, -12.0, 16.5)
"""The player's seat, a little behind the middle from which kits are measured."""


def seat() -> tuple[Curve, ...]:
    """A round stool with its welt, lighter than what is played."""
    quiet = 60.0
    return (
        circle(SEAT.x, SEAT.y, SEAT.radius, Pen(_LINE, quiet, 3)),
        circle(SEAT.x, SEAT.y, SEAT.radius - 1.6, Pen(_HAIR, quiet, None)),
        circle(SEAT.x, SEAT.y, SEAT.radius - 2.2, Pen(_HAIR, quiet, None)),
    )


@dataclass(frozen=True)
class _Struck:
    """A kit and the sounds that are used of it."""

    kit: Kit
    used: tuple[str, ...]

    def together(self, name: str) -> tuple[str, ...]:
        """The used sounds that are struck at the place of this one, which comes first in the table of sounds."""
        target = self.kit.targets[name]
        same = [one for one in SOUNDS if self.kit.targets[one] == target]
        return tuple(one for one in self.used if one in same) if same[0] == name else ()

    def at(self, name: str) -> Target:
        return self.kit.targets[name]

    @property
    def side(self) -> float:
        """1 where the kick is on the right, -1 where the kit is turned over."""
        return 1.0 if self.kit.targets["kick"].x >= self.kit.targets["hi-hat"].x else -1.0


def _kick(struck: _Struck) -> Iterator[Instrument]:
    sounds = struck.together("kick")
    if not sounds:
        return
    pedal = struck.at("kick")
    x, near = pedal.x, pedal.y + 6
    far = near + _SHELL_LENGTH
    wide, hoop = _SHELL_WIDTH, 3.4
    shell = [box(x, (near + far) / 2, wide - 4, far - near, Pen(_LINE, fill=0), 1.5)]
    for share in (-0.38, -0.13, 0.13, 0.38):
        lug = x + share * wide
        shell.append(line([(lug, near), (lug, far)], _HAIR, 60))
        shell += [box(lug, (near + far) / 2, 2.2, 5.5, Pen(_FINE, fill=0), 0.8)]
    for y in (near, far):
        shell.append(box(x, y, wide, hoop, Pen(_LINE, fill=_SHELL), 1.2))
    for side in (-1, 1):
        foot = (x + side * (wide / 2 + 5), far - 4)
        shell.insert(0, board((x + side * (wide / 2 - 3), far - 11), foot, 1.6, 1.2, Pen(_FINE, fill=0), 0.5))
    ends = [
        (x + share * wide, y) for y in (far - 5, far - 13, near + 12) for share in (-0.42, -0.25, 0, 0.25, 0.42)
    ]
    board_ = _pedal((x, pedal.y + 1), (x, pedal.y - 27))
    beater = (line([(x, pedal.y + 1), (x, near)], _HEAVY), box(x, near - 2, 4.5, 3, Pen(_LINE, fill=_SHELL), 1.2))
    yield Instrument(pedal.z, (*shell, *beater, *board_), (), ((sounds, tuple(ends)),))


def _pedal(toe: Point, heel: Point) -> tuple[Curve, ...]:
    """A footboard from its toe to its heel, with the plate it is hinged to."""
    hinge = (toe[0] + (heel[0] - toe[0]) * 0.74, toe[1] + (heel[1] - toe[1]) * 0.74)
    grooves = []
    for share in (0.14, 0.28, 0.42, 0.56):
        middle = (toe[0] + (heel[0] - toe[0]) * share, toe[1] + (heel[1] - toe[1]) * share)
        length = dist(toe, heel)
        dx, dy = -(heel[1] - toe[1]) / length * 2.6, (heel[0] - toe[0]) / length * 2.6
        grooves.append(line([(middle[0] - dx, middle[1] - dy), (middle[0] + dx, middle[1] + dy)], _HAIR, 70))
    return (
        board(hinge, heel, 7.5, 7.0, Pen(_LINE, fill=_SHELL), 2.2),
        board(toe, hinge, 6.6, 7.8, Pen(_LINE, fill=_METAL), 1.4),
        *grooves,
    )


def _hi_hat(struck: _Struck) -> Iterator[Instrument]:
    sounds, foot = struck.together("hi-hat"), struck.together("hi-hat-foot")
    if not sounds and not foot:
        return
    pedal, hat = struck.at("hi-hat-foot"), struck.at("hi-hat")
    hip = (-14.0 * struck.side, 0.0)
    length = dist((pedal.x, pedal.y), hip)
    heel = (pedal.x + (hip[0] - pedal.x) / length * 29, pedal.y + (hip[1] - pedal.y) / length * 29)
    end = (pedal.x + (heel[0] - pedal.x) * 0.86, pedal.y + (heel[1] - pedal.y) * 0.86)
    yield Instrument(pedal.z, _pedal((pedal.x, pedal.y), heel), (), ((foot, (end,)),) if foot else ())
    radius = hat.width / 2 * _EDGE
    below = circle(hat.x + 0.9 * struck.side, hat.y - 1.3, radius, Pen(_LINE, fill=_SHELL))
    disc = Disc(hat.x, hat.y, radius)
    shape = (below, *_cymbal(disc, rings=4), circle(hat.x, hat.y, 1.9, Pen(_FINE, fill=0)), _nut(disc))
    yield Instrument(hat.z, shape, (disc,), ((sounds, _spots(disc, 0.4)),) if sounds else ())


def _cymbal(disc: Disc, rings: int) -> tuple[Curve, ...]:
    """A cymbal's edge, the rings of its lathe, and its bell."""
    bell = 0.24
    steps = [bell + (1 - bell) * number / (rings + 1) for number in range(1, rings + 1)]
    return (
        circle(disc.x, disc.y, disc.radius, Pen(_HEAVY, fill=_METAL)),
        *(circle(disc.x, disc.y, disc.radius * step, Pen(_HAIR, 45, None)) for step in steps),
        circle(disc.x, disc.y, disc.radius * bell, Pen(_FINE, 80, 3)),
    )


def _nut(disc: Disc) -> Curve:
    return box(disc.x, disc.y, 2.6, 1.1, Pen(_FINE, fill=100), 0.4)


def _one_cymbal(name: str, rings: int) -> Callable[[_Struck], Iterator[Instrument]]:
    def make(struck: _Struck) -> Iterator[Instrument]:
        sounds = struck.together(name)
        if sounds:
            at = struck.at(name)
            disc = Disc(at.x, at.y, at.width / 2 * _EDGE)
            yield Instrument(at.z, (*_cymbal(disc, rings), _nut(disc)), (disc,), ((sounds, _spots(disc, 0.4)),))

    return make


def _ride(struck: _Struck) -> Iterator[Instrument]:
    """The ride's bell is its middle; the place where it is struck lies beside that."""
    sounds, on_bell = struck.together("ride"), struck.together("ride-bell")
    if not sounds and not on_bell:
        return
    at, bell = struck.at("ride"), struck.at("ride-bell")
    disc = Disc(bell.x, bell.y, at.width / 2 * _EDGE)
    places = [(sounds, _spots(disc, 0.45))] if sounds else []
    places += [(on_bell, _spots(Disc(bell.x, bell.y, disc.radius * 0.2), 0.5))] if on_bell else []
    yield Instrument(at.z, (*_cymbal(disc, 6), _nut(disc)), (disc,), tuple(places))


def _china(struck: _Struck) -> Iterator[Instrument]:
    """Its edge is turned up."""
    sounds = struck.together("china")
    if sounds:
        at = struck.at("china")
        disc = Disc(at.x, at.y, at.width / 2 * _EDGE)
        edge = (circle(disc.x, disc.y, disc.radius * share, Pen(_FINE, 80, None)) for share in (0.84, 0.79))
        shape = (*_cymbal(disc, 3), *edge, _nut(disc))
        yield Instrument(at.z, shape, (disc,), ((sounds, _spots(disc, 0.4)),))


def _drum(name: str, lugs: int) -> Callable[[_Struck], Iterator[Instrument]]:
    def make(struck: _Struck) -> Iterator[Instrument]:
        sounds = struck.together(name)
        if sounds:
            at = struck.at(name)
            disc = Disc(at.x, at.y, at.width / 2 * _HOOP)
            shape = (*_legs(disc), *_head(disc, lugs)) if at.z < _ON_THE_FLOOR else _head(disc, lugs)
            yield Instrument(at.z, shape, (disc,), ((sounds, _spots(disc, 0.0)),))

    return make


_ON_THE_FLOOR = 70.0
"""Toms that are lower than this have legs."""


def _snare(struck: _Struck) -> Iterator[Instrument]:
    """Its head, its rim and both together are struck at one drum."""
    sounds = tuple(one for name in ("snare", "cross-stick", "rim-shot") for one in struck.together(name))
    if sounds:
        at = struck.at("snare")
        disc = Disc(at.x, at.y, at.width / 2 * _HOOP)
        strainer = box(disc.x - struck.side * (disc.radius + 1.2), disc.y, 2.6, 6, Pen(_FINE, fill=_SHELL), 0.6)
        yield Instrument(at.z, (strainer, *_head(disc, 10)), (disc,), ((sounds, _spots(disc, 0.0)),))


def _head(disc: Disc, lugs: int) -> tuple[Curve, ...]:
    """A drum's lugs, hoop and head, with the rods that hold it."""
    first = 90 + 180 / lugs
    inner = disc.radius - 1.5
    lug_pen, rod_pen = Pen(_FINE, fill=_SHELL), Pen(_HAIR, fill=0)
    lugs_ = (
        board(at_angle(disc.x, disc.y, disc.radius - 0.5, angle), end, 2.6, 2.2, lug_pen, 0.6)
        for angle, end in around(disc.x, disc.y, disc.radius + 1.6, lugs, first)
    )
    return (
        *lugs_,
        circle(disc.x, disc.y, disc.radius, Pen(_HEAVY, fill=_SHELL)),
        circle(disc.x, disc.y, inner, Pen(_LINE, fill=0)),
        circle(disc.x, disc.y, inner - 1.1, Pen(_HAIR, 55, None)),
        *(circle(*at, 0.55, rod_pen) for _, at in around(disc.x, disc.y, disc.radius - 0.75, lugs, first)),
    )


def _legs(disc: Disc) -> Iterator[Curve]:
    for angle, end in around(disc.x, disc.y, disc.radius + 4.2, 3, 90):
        yield board(at_angle(disc.x, disc.y, disc.radius - 1, angle), end, 1.8, 1.8, Pen(_FINE, fill=_METAL), 0.9)


def _cowbell(struck: _Struck) -> Iterator[Instrument]:
    sounds = struck.together("cowbell")
    if sounds:
        at = struck.at("cowbell")
        mouth, back = (at.x - 2 * struck.side, at.y - 7), (at.x + 2 * struck.side, at.y + 7)
        shape = (
            board(mouth, back, 10, 6, Pen(_HEAVY, fill=_METAL), 0.8),
            line([_beside(mouth, back, 5, -1), _beside(mouth, back, 5, 1)], _LINE),
            board(_share(mouth, back, 0.12), _share(mouth, back, 0.9), 4.6, 2.6, Pen(_HAIR, 60, None), 0.6),
        )
        yield Instrument(at.z, shape, (Disc(at.x, at.y, 6),), ((sounds, ((at.x, at.y),)),))


def _share(start: Point, end: Point, share: float) -> Point:
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _beside(start: Point, end: Point, distance: float, side: int) -> Point:
    length = dist(start, end)
    return (
        start[0] - side * distance * (end[1] - start[1]) / length,
        start[1] + side * distance * (end[0] - start[0]) / length,
    )


def _spots(disc: Disc, least: float) -> tuple[Point, ...]:
    """Places on a disc where a leader may end, none nearer to its middle than that share of its radius."""
    middle = ((disc.x, disc.y),) if least == 0 else ()
    return (*middle, *(at for _, at in around(disc.x, disc.y, disc.radius * 0.55, 8)))


_MAKERS: tuple[Callable[[_Struck], Iterator[Instrument]], ...] = (
    _kick,
    _snare,
    _hi_hat,
    _ride,
    _one_cymbal("crash", 5),
    _one_cymbal("splash", 3),
    _china,
    _drum("high-tom", 6),
    _drum("mid-tom", 6),
    _drum("floor-tom", 8),
    _cowbell,
)
"""Each draws its instrument where one of its sounds is used, and says which."""
