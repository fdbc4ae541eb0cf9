"""What is said to whoever typed the command: messages, tables, progress, the exit status."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn, TextIO

import typer

from ..text_file import harmless

if TYPE_CHECKING:
    from ..built import Built, Progress
    from ..problem import Problem

HAS_ERRORS, USED_WRONGLY = 1, 2


def say(words: str, *, err: bool = False) -> None:
    """Lines on standard output, or on standard error.

    What a file or its name says steers no terminal; colours are our own.
    """
    stream = sys.stderr if err else sys.stdout
    shown = "\n".join(map(harmless, words.split("\n")))
    typer.echo(shown.encode(stream.encoding or "utf-8", "replace").decode(stream.encoding or "utf-8"), err=err)


def refuse(what: str) -> NoReturn:
    """The command was used wrongly."""
    stop(what, USED_WRONGLY)


def stop(what: str, status: int) -> NoReturn:
    """Say what happened and leave with an exit status."""
    say(f"shedbook: {what}", err=True)
    sys.exit(status)


def tell_made(files: Mapping[Path, Built]) -> None:
    """Each warning once, and what the store could not take, then a line for each file."""
    for warning in dict.fromkeys(warning for built in files.values() for warning in built.warnings):
        say(warning, err=True)
    for reason in dict.fromkeys(built.not_kept for built in files.values() if built.not_kept):
        say(f"warning: {reason}", err=True)
    for file, built in files.items():
        say(_summary(file, built))


def tell(problems: Sequence[Problem]) -> None:
    """Each problem on a line of its own; in colour where a person reads it."""
    in_colour = has_colour(sys.stderr)
    for problem in problems:
        if in_colour:
            typer.echo(_coloured(problem), err=True)
        else:
            say(str(problem), err=True)


def has_colour(stream: TextIO) -> bool:
    """True for a terminal whose user has not asked for plain text (no-color.org, TERM=dumb)."""
    return stream.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def _coloured(problem: Problem) -> str:
    """The line of a problem: its place stands back, a warning is yellow, an error red."""
    is_warning = problem.weight.value == "warning"
    place = typer.style(harmless(f"{problem.mark}:"), dim=True)
    what = typer.style(harmless(problem.what), fg="yellow" if is_warning else "red")
    return f"{place} {'warning: ' if is_warning else ''}{what}"


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
