"""Which pages stand on which side of which sheet, and how far inner sheets stick out of a booklet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

ON_A_SHEET = 4


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a sheet: the pages on its left and its right half, from 1; None is blank.

    `sheet` counts from 0, the outermost sheet of a booklet.
    """

    sheet: int
    left: int | None
    right: int | None
    is_back: bool = False


def saddle_stitched(pages: int) -> tuple[Side, ...]:
    """The sides of a booklet, front and back of each sheet, the outermost sheet first.

    Folded into each other in this order the pages run from first to last. Blank pages come after the last
    one, as many as a whole number of sheets needs.
    """
    total = sheets_of(pages) * ON_A_SHEET
    return tuple(
        Side(side.sheet, _printed(side.left, pages), _printed(side.right, pages), side.is_back)
        for side in _full(total)
    )


def _full(total: int) -> Iterator[Side]:
    for sheet in range(total // ON_A_SHEET):
        low, high = 2 * sheet + 1, total - 2 * sheet
        yield Side(sheet, high, low)
        yield Side(sheet, low + 1, high - 1, is_back=True)


def side_by_side(pages: int) -> tuple[Side, ...]:
    """The sides of plain sheets, two pages on each in the order in which they are read."""
    return tuple(
        Side(index // 2, page, _printed(page + 1, pages), is_back=bool(index % 2))
        for index, page in enumerate(range(1, pages + 1, 2))
    )


def sheets_of(pages: int) -> int:
    """How many sheets a booklet of so many pages has."""
    return -(-pages // ON_A_SHEET)


def creep(sheet: int, thickness: float) -> float:
    """How far a sheet of a booklet sticks out beyond the outermost one, in the unit of `thickness`.

    Each sheet is folded round those inside it, which moves them on by its thickness. Common practice, no
    source: pages are moved as far to the fold, so that their outer margins are equal once it is trimmed.
    """
    return sheet * thickness


def _printed(page: int | None, pages: int) -> int | None:
    return page if page is not None and page <= pages else None
