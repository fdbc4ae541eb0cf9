"""Building: where nothing of a book changed since an earlier build, its PDFs are found and not made.

This stands between the command and the pipeline, which is imported only when there is something to make.
"""

from __future__ import annotations

import hashlib
import os
import time
from collections.abc import Callable
from pathlib import Path

from .book_files import book_file, styles_under
from .built import Built, Run, SheetOrder
from .claim import clear_left_behind, working_place
from .curricula import is_curriculum, make_curriculum
from .kept import limit, sweep
from .pdf.output import AS_BOOK, Output
from .problem import NotThere, OutsideError, Problem
from .record import Records, key_of
from .shipped import store_folder
from .text_file import beginning_of
from .whole import put_whole


def build(path: Path, out: Path, edition: str | None, run: Run, output: Output = AS_BOOK) -> dict[Path, Built]:
    """Build a book's PDF, or an edition's, or with `all` every one of them, or a curriculum's, into a folder.

    Gives each file with what stands in it. Nothing is written unless everything asked for was made.
    Raises BookError, NotThere for an edition that the book does not have, OutsideError.
    """

    def make() -> tuple[Built, ...]:
        from .pipeline import make

        return make(path, edition, run, output)

    with _Kept(run) as kept:
        if is_curriculum(path):
            made: tuple[Built, ...] = (_curriculum(path, edition, output),)
        else:
            made = kept.found_or(make, key_of(path, edition or "", repr(output)))
        return _written({out / f"{one.name}.pdf": one for one in made})


def listed(path: Path) -> str:
    """A book's exercises as a JSON array, found again where nothing of the book changed. Raises BookError."""

    def make() -> str:
        from .exchange.json import list_json
        from .pipeline import check

        return list_json(check(path).sound_book().exercises)

    with _Kept(Run()) as kept:
        return kept.text_or(make, key_of(path, "list"))


def _curriculum(path: Path, edition: str | None, output: Output) -> Built:
    """A curriculum, which is made anew each time: it engraves nothing, and depends on several books."""
    if edition is not None:
        raise NotThere("a curriculum has no editions; build those of its books")
    return make_curriculum(path, output)


def _style_file(path: Path, order: SheetOrder) -> str:
    """A hash of the style that a handout was asked for in, where that is a file that may lie anywhere, and of those
    that it is based on."""
    named = book_file(path).parent / (order.style or "")
    digest = hashlib.sha256()
    for file in (named, *styles_under(named)):
        digest.update(os.fsencode(file) + b"\0" + beginning_of(file) + b"\0")
    return digest.hexdigest() if order.style else ""


def build_sheet(path: Path, out: Path | None, order: SheetOrder, run: Run) -> dict[Path, Built]:
    """Build one handout into a file; without one into `build/`. Raises as `build` does."""

    def make() -> tuple[Built, ...]:
        from .handouts import make_sheet

        return (make_sheet(path, order, run),)

    with _Kept(run) as kept:
        (made,) = kept.found_or(make, key_of(path, "sheet", repr(order), _style_file(path, order)))
        return _written({out or Path("build") / f"{made.name}.pdf": made})


def build_roster(
    path: Path, out: Path | None, order: SheetOrder, roster: Path, run: Run
) -> tuple[dict[Path, Built], tuple[Problem, ...]]:
    """Build a handout for each student of a roster, and one PDF of all of them, into a folder.

    Without a folder they go into one of the roster's name in `build/`. Gives the files, and what is wrong
    in rows that were left out. Raises as `build` does, and BookError where no row is right.
    """
    problems: tuple[Problem, ...] = ()

    def make() -> tuple[Built, ...]:
        from .handouts import make_roster

        nonlocal problems
        handouts = make_roster(path, order, roster, run)
        problems = handouts.problems
        return handouts.built

    rows = hashlib.sha256(roster.read_bytes()).hexdigest()
    key = key_of(path, "roster", repr(order), _style_file(path, order), rows)
    folder = out or Path("build") / roster.stem
    with _Kept(run) as kept:
        made = kept.found_or(make, key, worth_keeping=lambda: not problems)
        return _written({folder / f"{one.name}.pdf": one for one in made}), problems


class _Kept:
    """What is kept between builds, while one is made: found or added to, and held to its limit at the end."""

    def __init__(self, run: Run) -> None:
        self._run = run
        self._limit = limit()
        self._began = time.time()
        self._is_added_to = False

    def __enter__(self) -> _Kept:
        return self

    def __exit__(self, kind: type[BaseException] | None, *_: object) -> None:
        """Where something was made, room is made for it; whoever stops a build does not wait for that."""
        if self._is_added_to and (kind is None or issubclass(kind, Exception)):
            sweep(store_folder(), self._limit, self._began)
            clear_left_behind(working_place())

    def found_or(
        self, make: Callable[[], tuple[Built, ...]], key: str, worth_keeping: Callable[[], bool] = lambda: True
    ) -> tuple[Built, ...]:
        """What was built before under a key, else what is made now and, where that is worth it, kept."""
        records = Records.usual()
        found = None if self._run.fresh else records.get(key)
        if found is not None:
            return found
        self._is_added_to = True
        made = make()
        return records.put(key, made) if worth_keeping() else made

    def text_or(self, make: Callable[[], str], key: str) -> str:
        """The text kept under a key, else what is made now and kept."""
        records = Records.usual()
        text = records.text(key)
        if text is None:
            self._is_added_to = True
            text = make()
            records.put_text(key, text)
        return text


def _written(made: dict[Path, Built]) -> dict[Path, Built]:
    """Write files in their places, and clear what killed builds left there. Raises OutsideError."""
    for file, one in made.items():
        _put(file, one.pdf)
    for folder in {file.parent for file in made}:
        clear_left_behind(folder)
    return made


def write_whole(file: Path, content: bytes) -> None:
    """Write a file so that it appears whole or not at all. Raises OutsideError."""
    _put(file, content)
    clear_left_behind(file.parent)


def _put(file: Path, content: bytes) -> None:
    try:
        put_whole(file, content, lasts=True)
    except OSError as error:
        raise OutsideError(
            f"cannot write {file}: {error.strerror}; what was there before is as it was; "
            "make room, or choose another place with --out"
        ) from error
