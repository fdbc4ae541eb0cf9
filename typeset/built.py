"""How a build is run, and what comes of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

Progress = Callable[[int, int], None]
"""Told how many of how many engravings are done."""


@dataclass(frozen=True)
class Run:
    """How a build is run: engravers side by side (0: one a core), past the store or not, who is told.

    With the address of a Dask `cluster` that engraves instead.
    """

    jobs: int = 0
    fresh: bool = False
    progress: Progress | None = None
    cluster: str | None = None


@dataclass(frozen=True)
class Built:
    """A book, or an edition of it, as a PDF.

    `name` is its file's, without `.pdf`. `sheets` is how many it is printed on where that is not one for
    two pages. `engraved` systems were made for it and `stored` ones found.
    `warnings` are told to the author, and `not_kept` why the store could not be written, if that was so.
    """

    name: str
    pdf: bytes
    pages: int
    exercises: int
    engraved: int
    stored: int
    warnings: tuple[str, ...]
    sheets: int = 0
    not_kept: str = ""


@dataclass(frozen=True)
class SheetOrder:
    """What a handout is to be: its exercises by ids or numbers, its title, for whom, in which style.

    None leaves it to the book. A `left_handed` one has changed hands; of a roster its rows say so. Of a roster
    that is printed `two_sided` everyone gets paper of their own.
    """

    exercises: tuple[str, ...]
    title: str | None = None
    name: str | None = None
    style: str | None = None
    left_handed: bool = False
    two_sided: bool = False
