"""Exercises in columns."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rich.console import JustifyMethod

    from ..compose.book import Exercise

_HEAD = ("no.", "id", "title", "level", "ceiling", "limited by", "made hard by")
_NUMBERS, _LONG = (0, 3, 4), (2, 5, 6)


def table(exercises: Sequence[Exercise]) -> str:
    """Exercises in columns: number, id, title, level, ceiling, and what makes these what they are.

    On a terminal the columns fit its width; elsewhere everything is written out.
    """
    rows = [_HEAD, *map(_cells, exercises)]
    if sys.stdout.isatty():
        return _fitted(rows, shutil.get_terminal_size().columns)
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return "\n".join(_row(row, widths) for row in rows)


def _row(row: Sequence[str], widths: Sequence[int]) -> str:
    """Numbers to the right, words to the left."""
    cells = [
        f"{cell:>{width}}" if column in _NUMBERS else f"{cell:<{width}}"
        for column, (cell, width) in enumerate(zip(row, widths, strict=True))
    ]
    return "  ".join(cells).rstrip()


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


def _fitted(rows: Sequence[Sequence[str]], width: int) -> str:
    """The columns, the long ones cut with an ellipsis so that a row is a line of this width."""
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    made = Table(box=None, pad_edge=False, header_style="bold")
    for column, (name, *cells) in enumerate(zip(*rows, strict=True)):
        least = None if column in _LONG else max(map(len, (name, *cells)))
        side: JustifyMethod = "right" if column in _NUMBERS else "left"
        made.add_column(name, justify=side, no_wrap=True, overflow="ellipsis", min_width=least)
    for row in rows[1:]:
        made.add_row(*map(Text, row))
    console = Console(width=width)
    with console.capture() as written:
        console.print(made)
    return written.get().rstrip("\n")
