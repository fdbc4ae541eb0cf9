"""Pedals as they are drawn from above."""

from __future__ import annotations

from math import dist

from ..marks import Curve, Point
from .parts import HAIR, LINE, METAL, SHELL
from .shapes import Pen, between, board, line


def footboard(toe: Point, heel: Point) -> tuple[Curve, ...]:
    """A footboard from its toe to its heel, with the plate it is hinged to."""
    hinge = between(toe, heel, 0.74)
    grooves = []
    for share in (0.14, 0.28, 0.42, 0.56):
        middle = between(toe, heel, share)
        length = dist(toe, heel)
        dx, dy = -(heel[1] - toe[1]) / length * 2.6, (heel[0] - toe[0]) / length * 2.6
        grooves.append(line([(middle[0] - dx, middle[1] - dy), (middle[0] + dx, middle[1] + dy)], HAIR, 70))
    return (
        board(hinge, heel, 7.5, 7.0, Pen(LINE, fill=SHELL), 2.2),
        board(toe, hinge, 6.6, 7.8, Pen(LINE, fill=METAL), 1.4),
        *grooves,
    )
