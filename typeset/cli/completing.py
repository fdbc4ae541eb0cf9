"""What a shell offers when a word of a command is begun; it has nothing to offer where a book cannot be read."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING

import typer

if TYPE_CHECKING:
    from ..manuscript import Manuscript

# Everything else is imported where it is used, so that --help answers at once.


def words_of(*known: str) -> Callable[[str], list[str]]:
    """Offers those of these words that begin like what was typed."""
    return lambda incomplete: _begun(incomplete, known)


def _begun(incomplete: str, known: Iterable[str]) -> list[str]:
    return [name for name in known if name and name.startswith(incomplete)]


def _manuscript(context: typer.Context) -> Manuscript | None:
    """The book that the command names, as far as it can be read."""
    from ..manuscript import read

    # Behind an option that waits for its value, what was typed before has not been given to its parameters yet.
    book = context.params.get("book") or next(iter(context.args), None)
    return read(Path(book)).manuscript if book else None


def exercise_names(context: typer.Context, incomplete: str) -> list[str]:
    """The ids of a book's exercises, and the names of its series, that begin like this."""
    manuscript = _manuscript(context)
    chapters = manuscript.chapters if manuscript else ()
    names = (getattr(item, "id", "") for chapter in chapters for item in chapter.items)
    return _begun(incomplete, names)


def edition_names(context: typer.Context, incomplete: str) -> list[str]:
    """The names of a book's editions that begin like this."""
    manuscript = _manuscript(context)
    return _begun(incomplete, manuscript.editions if manuscript else ())


def editions_or_all(context: typer.Context, incomplete: str) -> list[str]:
    """The same, and `all`."""
    return [*_begun(incomplete, ["all"]), *edition_names(context, incomplete)]


def style_names(incomplete: str) -> list[str]:
    """The styles that begin like this."""
    from ..style.load import style_names

    return _begun(incomplete, style_names())


def step_names(incomplete: str) -> list[str]:
    """The steps that begin like this."""
    from ..pattern.steps import STEPS

    return _begun(incomplete, STEPS)


def schema_kinds(incomplete: str) -> list[str]:
    """The kinds of files that begin like this."""
    from ..schemas import kinds

    return _begun(incomplete, kinds())
