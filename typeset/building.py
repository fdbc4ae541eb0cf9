"""Building: where nothing of a book changed since an earlier build, its PDFs are found and not made.

This stands between the command and the pipeline, which is imported only when there is something to make.
"""

from __future__ import annotations

import hashlib
from pathlib import Path

from .built import Built, Run, SheetOrder
from .curricula import is_curriculum, make_curriculum
from .pdf.output import AS_BOOK, Output
from .problem import NotThere, OutsideError, Problem
from .record import Records, key_of
from .whole import put_whole


def build(path: Path, out: Path, edition: str | None, run: Run, output: Output = AS_BOOK) -> dict[Path, Built]:
    """Build a book's PDF, or an edition's, or with `all` every one of them, or a curriculum's, into a folder.

    Gives each file with what stands in it. Nothing is written unless everything asked for was made.
    Raises BookError, NotThere for an edition that the book does not have, OutsideError.
    """
    made = (_curriculum(path, edition, output),) if is_curriculum(path) else _book(path, edition, run, output)
    files = {out / f"{one.name}.pdf": one for one in made}
    for file, one in files.items():
        write_whole(file, one.pdf)
    return files


def _book(path: Path, edition: str | None, run: Run, output: Output) -> tuple[Built, ...]:
    """What was built before of a book, else what is built now."""
    records = Records.usual()
    key = key_of(path, edition or "", repr(output))
    made = None if run.fresh else records.get(key)
    if made is None:
        from .pipeline import make

        made = make(path, edition, run, output)
        records.put(key, made)
    return made


def _curriculum(path: Path, edition: str | None, output: Output) -> Built:
    """A curriculum, which is made anew each time: it engraves nothing, and depends on several books."""
    if edition is not None:
        raise NotThere("a curriculum has no editions; build those of its books")
    return make_curriculum(path, output)


def build_sheet(path: Path, out: Path | None, order: SheetOrder, run: Run) -> dict[Path, Built]:
    """Build one handout into a file; without one into `build/`. Raises as `build` does."""
    records = Records.usual()
    key = key_of(path, "sheet", repr(order))
    kept = None if run.fresh else records.get(key)
    if kept is None:
        from .handouts import make_sheet

        kept = (make_sheet(path, order, run),)
        records.put(key, kept)
    (made,) = kept
    file = out or Path("build") / f"{made.name}.pdf"
    write_whole(file, made.pdf)
    return {file: made}


def build_roster(
    path: Path, out: Path | None, order: SheetOrder, roster: Path, run: Run
) -> tuple[dict[Path, Built], tuple[Problem, ...]]:
    """Build a handout for each student of a roster, and one PDF of all of them, into a folder.

    Without a folder they go into one of the roster's name in `build/`. Gives the files, and what is wrong
    in rows that were left out. Raises as `build` does, and BookError where no row is right.
    """
    records = Records.usual()
    key = key_of(path, "roster", repr(order), hashlib.sha256(roster.read_bytes()).hexdigest())
    problems: tuple[Problem, ...] = ()
    made = None if run.fresh else records.get(key)
    if made is None:
        from .handouts import make_roster

        handouts = make_roster(path, order, roster, run)
        made, problems = handouts.built, handouts.problems
        if not problems:
            records.put(key, made)
    folder = out or Path("build") / roster.stem
    files = {folder / f"{one.name}.pdf": one for one in made}
    for file, one in files.items():
        write_whole(file, one.pdf)
    return files, problems


def write_whole(file: Path, content: bytes) -> None:
    """Write a file so that it appears whole or not at all. Raises OutsideError."""
    try:
        put_whole(file, content, lasts=True)
    except OSError as error:
        raise OutsideError(
            f"cannot write {file}: {error.strerror}; what was there before is as it was; "
            "make room, or choose another place with --out"
        ) from error
