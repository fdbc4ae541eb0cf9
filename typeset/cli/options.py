"""What several commands are told, each declared once."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from .terminal import refuse

if TYPE_CHECKING:
    from ..sound.performance import Performance

BookPath = Annotated[
    Path, typer.Argument(metavar="BOOK", help="A book's folder, its book.yaml, or a single chapter file.")
]

Cluster = Annotated[
    str | None, typer.Option(metavar="ADDRESS", help="Engrave on the Dask cluster there, such as tcp://host:8786.")
]
Jobs = Annotated[int, typer.Option(min=0, metavar="N", help="Engravers side by side; 0 is one a core.")]
Fresh = Annotated[bool, typer.Option("--fresh", help="Engrave everything again.")]

Tempo = Annotated[
    int | None, typer.Option(min=20, max=400, metavar="N", help="Beats a minute, as the exercise counts.")
]
Ladder = Annotated[
    int | None, typer.Option(min=1, metavar="N", help="From its tempo to its goal in steps of N beats a minute.")
]
Times = Annotated[int | None, typer.Option(min=1, max=99, metavar="N", help="How often, at each tempo.")]
SwingRatio = Annotated[
    str | None, typer.Option("--swing", metavar="RATIO", help="As 2:1 or '16ths 3:2'; 1:1 is straight.")
]
Click = Annotated[bool, typer.Option("--click/--no-click", help="A click beside the drums.")]
CountIn = Annotated[bool, typer.Option("--count-in/--no-count-in", help="A bar of clicks before each tempo.")]


def existing(book: Path, *, wants_book: bool = True) -> Path:
    """The path, where there is something; `wants_book` refuses a curriculum."""
    from ..curricula import is_curriculum

    if not book.exists():
        refuse(f"there is no book at {book}; give a book's folder, its book.yaml, or a chapter file")
    if wants_book and is_curriculum(book):
        refuse(f"{book} is a curriculum; give one of its books (check and build take a curriculum too)")
    return book


def performance_of(
    tempo: int | None, ladder: int | None, times: int | None, swing: str | None, click: bool, count_in: bool
) -> Performance:
    """How an exercise is to be played, out of what was said on the command line."""
    from ..pattern.swing import Swing, SwingError
    from ..sound.performance import Performance

    try:
        return Performance(tempo, ladder, times, Swing.parse(swing) if swing else None, click, count_in)
    except SwingError as error:
        refuse(str(error))
