"""What is said to whoever typed the command: messages, tables, progress, the exit status."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import typer

if TYPE_CHECKING:
    from ..built import Built, Progress
    from ..compose.book import Exercise
    from ..problem import Problem

HAS_ERRORS, USED_WRONGLY, FAILED_OUTSIDE, STOPPED = 1, 2, 3, 130
_NUMBERS = (0, 3, 4)


def refuse(what: str) -> NoReturn:
    """The command was used wrongly."""
    stop(what, USED_WRONGLY)


def stop(what: str, status: int) -> NoReturn:
    """Say what happened and leave with an exit status."""
    typer.echo(f"shedbook: {what}", err=True)
    sys.exit(status)


def tell_made(files: Mapping[Path, Built]) -> None:
    """Each warning once, and what the store could not take, then a line for each file."""
    for warning in dict.fromkeys(warning for built in files.values() for warning in built.warnings):
        typer.echo(warning, err=True)
    for reason in dict.fromkeys(built.not_kept for built in files.values() if built.not_kept):
        typer.echo(f"warning: {reason}", err=True)
    for file, built in files.items():
        typer.echo(_summary(file, built))


def tell(problems: Sequence[Problem]) -> None:
    """Each problem on a line of its own."""
    for problem in problems:
        typer.echo(str(problem), err=True)


def table(exercises: Sequence[Exercise]) -> str:
    """Exercises in columns: number, id, title, level, ceiling, and what makes these what they are."""
    rows = [("no.", "id", "title", "level", "ceiling", "limited by", "made hard by")]
    rows += [
        (
            one.number,
            one.id,
            one.title,
            str(one.level),
            str(one.ceiling),
            one.limited_by,
            one.made_hard_by,
        )
        for one in exercises
    ]
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return "\n".join(_row(row, widths) for row in rows)


def _row(row: Sequence[str], widths: Sequence[int]) -> str:
    """Numbers to the right, words to the left."""
    cells = [
        f"{cell:>{width}}" if column in _NUMBERS else f"{cell:<{width}}"
        for column, (cell, width) in enumerate(zip(row, widths, strict=True))
    ]
    return "  ".join(cells).rstrip()


def _summary(file: Path, built: Built) -> str:
    """What was written, in one line."""
    pages = "1 page" if built.pages == 1 else f"{built.pages} pages"
    if built.sheets:
        pages += " on 1 sheet" if built.sheets == 1 else f" on {built.sheets} sheets"
    exercises = "1 exercise" if built.exercises == 1 else f"{built.exercises} exercises"
    music = f"; {built.engraved} systems engraved, {built.stored} from the store"
    return f"{file}: {pages}, {exercises}{music if built.engraved or built.stored else ''}"


@contextmanager
def progress(what: str) -> Iterator[Progress | None]:
    """A bar on a terminal while something is made; nothing elsewhere."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (TextColumn(what), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(what, total=None)

        def tell(done: int, total: int) -> None:
            bar.update(task, completed=done, total=total)

        yield tell
