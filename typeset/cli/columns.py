"""Exercises in columns."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ..compose.book import Exercise

_HEAD = ("no.", "id", "title", "level", "ceiling", "limited by", "made hard by")
_NUMBERS, _LONG = (0, 3, 4), (2, 5, 6)
"""The columns of numbers, and those that may be cut."""

_GAP = "  "
_LEAST = 8
"""Letters that a cut column keeps."""


def table(exercises: Sequence[Exercise]) -> str:
    """Exercises in columns: number, id, title, level, ceiling, and what makes these what they are.

    On a terminal the columns fit its width; elsewhere everything is written out.
    """
    rows = [_HEAD, *map(_cells, exercises)]
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    if sys.stdout.isatty():
        widths = _fitted(widths, shutil.get_terminal_size().columns)
    return "\n".join(_row(row, widths) for row in rows)


def _fitted(widths: Sequence[int], room: int) -> list[int]:
    """The widths of columns that come to a line of this room: the long ones give way, the longest first."""
    fitted = list(widths)
    over = sum(widths) + len(_GAP) * (len(widths) - 1) - room
    for _ in range(over):
        longest = max(_LONG, key=fitted.__getitem__)
        fitted[longest] = max(fitted[longest] - 1, _LEAST)
    return fitted


def _row(row: Sequence[str], widths: Sequence[int]) -> str:
    """Numbers to the right, words to the left; what is too long ends in an ellipsis."""
    cells = [
        f"{cell:>{width}}" if column in _NUMBERS else f"{_cut(cell, width):<{width}}"
        for column, (cell, width) in enumerate(zip(row, widths, strict=True))
    ]
    return _GAP.join(cells).rstrip()


def _cut(cell: str, width: int) -> str:
    return cell if len(cell) <= width else f"{cell[: width - 1]}…"


def _cells(one: Exercise) -> tuple[str, ...]:
    return (
        one.number,
        one.id,
        one.title,
        str(one.level),
        str(one.ceiling),
        one.limited_by,
        one.made_hard_by,
    )
