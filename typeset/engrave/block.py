"""A block: one engraved system, cropped, with the places of its slots."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

Finish = Callable[[bytes, int, tuple[float, float]], bytes]
"""Makes of a PDF of LilyPond's, the number of a page, and the size in points of what is the block on it, from its
lower left corner, the PDF that is kept."""


@dataclass(frozen=True, slots=True)
class Block:
    """One engraving as a one-page PDF, and where things stand on it.

    All lengths are points, measured from the left and the bottom of the PDF's page. `left` and `right` are the
    ends of the staff lines, `bottom` and `top` the outer staff lines; `ink` is the box of everything
    drawn (left, bottom, right, top). `slots` holds the middle of each slot's note head, rest or empty
    place, in order. A specimen without a staff has equal `left` and `right`, `bottom` and `top`.
    """

    pdf: bytes
    width: float
    height: float
    left: float
    right: float
    bottom: float
    top: float
    ink: tuple[float, float, float, float]
    slots: tuple[float, ...]
