"""Whether one of the files that a book is made of has changed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

from ..book_files import files_beside

Stamps = Mapping[Path, tuple[int, int, int]]
"""Of each file when it was written, in nanoseconds, its size in bytes, and its number on the disk."""


def stamps_of(path: Path, named: Iterable[Path] = ()) -> Stamps:
    """The state of every file that a book may be read from: those beside it, and those that it has `named`."""
    stamps: dict[Path, tuple[int, int, int]] = {}
    for file in (*files_beside(path), *named):
        try:
            about = file.stat()
        except (OSError, ValueError):
            continue  # not there, or no name of a file
        stamps[file] = (about.st_mtime_ns, about.st_size, about.st_ino)
    return stamps
