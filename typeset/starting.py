"""A small book to start from."""

from __future__ import annotations

from pathlib import Path

from .problem import OutsideError
from .schemas import FOLDER, write_schemas
from .shipped import shelf


class NotEmpty(Exception):
    """There is something in the folder already; the message says what to do."""


def start_book(folder: Path) -> tuple[Path, ...]:
    """Write a small book, with remarks that teach the format, into a new or empty folder.

    With it go the schemas by which an editor helps with writing; each file names its own. Gives the files, and
    the folder of the schemas. Raises NotEmpty, or OutsideError where nothing can be written.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise NotEmpty(f"there is something in {folder} already; name a new folder, or an empty one")
    written: list[Path] = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for template in sorted((shelf("shared") / "new-book").glob("*.yaml")):
            file = folder / template.name
            file.write_bytes(template.read_bytes())
            written.append(file)
        write_schemas(folder / FOLDER)
        written.append(folder / FOLDER)
    except OSError as error:
        raise OutsideError(f"cannot write into {folder}: {error.strerror}") from error
    return tuple(written)
