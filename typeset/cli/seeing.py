"""The command that shows a book in the browser while it is being written."""

from __future__ import annotations

from typing import Annotated

import typer

from .options import BookPath, existing


def watch(
    book: BookPath,
    port: Annotated[int, typer.Option(min=0, max=65535, metavar="N", help="A port; 0 is any that is free.")] = 0,
    opens: Annotated[bool, typer.Option("--open/--no-open", help="Open it in the browser.")] = True,
) -> None:
    """Show a book's pages in the browser, and again whenever a file is saved; play along with its exercises."""
    from ..watching.watch import watch as watch_book

    watch_book(existing(book), port, opens=opens, say=typer.echo)
