"""What came of earlier builds, found again by all that they were made of.

A build depends on the author's files, on what travels with the program, on the program itself and on the
libraries that write the PDF. Where none of these changed, the PDF of the earlier build is the PDF of this one.
"""

from __future__ import annotations

import hashlib
import json
import os
import sys
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cache, partial
from pathlib import Path

from .book_files import files_of
from .built import Built
from .installed import version
from .kept import Shelf, read_with, told_not_kept
from .shipped import engraver_version, shelf, store_folder
from .text_file import beginning_of

_PROGRAM = (".py", ".yaml", ".ily")
_AT_ONCE = 1024 * 1024
_LIBRARIES = (
    *("reportlab", "pypdf", "abjad", "pydantic", "pyyaml", "uharfbuzz", "pyphen", "fonttools"),
    *("font-source-serif-pro", "font-source-sans-pro", "font-lato"),
)


def key_of(path: Path, *wanted: str) -> str:
    """The name that a build of a book is kept under; `wanted` says what was made of it."""
    digest = hashlib.sha256(os.fsencode(path) + repr(wanted).encode() + program().encode())
    for file in files_of(path):
        digest.update(os.fsencode(file) + b"\0" + beginning_of(file) + b"\0")
    return digest.hexdigest()


@cache
def program() -> str:
    """A hash of the program, of what travels with it, and of the libraries that it writes with."""
    made_by = (sys.version_info, os.environ.get("SOURCE_DATE_EPOCH"), engraver_version())
    digest = hashlib.sha256(repr(made_by).encode())
    for library in _LIBRARIES:
        digest.update(f"{library} {version(library)}\0".encode())
    for folder in (Path(__file__).parent, shelf("styles"), shelf("shared")):
        for name, file in _files_in(str(folder)):
            digest.update(os.fsencode(name) + b"\0" + _bytes_of(file) + b"\0")
    return digest.hexdigest()


def _files_in(folder: str, way: str = "") -> Iterator[tuple[str, str]]:
    """Every file of the program in a folder and in those inside it, in one order: its way there, and its path."""
    with os.scandir(folder) as entries:
        inside = sorted(entries, key=lambda entry: entry.name)
    for entry in inside:
        if entry.is_dir(follow_symlinks=False):
            yield from _files_in(entry.path, f"{way}{entry.name}/")
        elif entry.name.endswith(_PROGRAM):
            yield way + entry.name, entry.path


def _bytes_of(file: str) -> bytes:
    """A file's bytes. Hundreds are read before a build is found, and `read_bytes` takes twice as long."""
    opened = os.open(file, os.O_RDONLY | getattr(os, "O_BINARY", 0))
    try:
        return b"".join(iter(partial(os.read, opened, _AT_ONCE), b""))
    finally:
        os.close(opened)


@dataclass(frozen=True)
class Records:
    """The folder that finished builds are kept in."""

    folder: Path

    @classmethod
    def usual(cls) -> Records:
        """The folder beside the store of engravings."""
        return cls(Shelf.under(store_folder(), "build").folder)

    def get(self, key: str) -> tuple[Built, ...] | None:
        """The build kept under a key, everything found and nothing engraved; None where there is none."""
        return read_with(_unpacked, self._shelf.get(key))

    def put(self, key: str, build: Sequence[Built]) -> tuple[Built, ...]:
        """Keep a build. One that cannot be kept is given back with the reason."""
        facts = json.dumps([_about(one) for one in build]).encode()
        try:
            self._shelf.put(key, b"".join([facts, b"\n", *(one.pdf for one in build)]))
        except OSError as error:
            not_kept = told_not_kept(self.folder.parent, error)
            return tuple(replace(one, not_kept=one.not_kept or not_kept) for one in build)
        return tuple(build)

    def text(self, key: str) -> str | None:
        """A text kept under a key; None where there is none."""
        return read_with(bytes.decode, self._shelf.get(key))

    def put_text(self, key: str, text: str) -> None:
        """Keep a text; where it cannot be kept, it is made again the next time."""
        with suppress(OSError):
            self._shelf.put(key, text.encode())

    @property
    def _shelf(self) -> Shelf:
        return Shelf(self.folder, "build")


def _unpacked(body: bytes) -> tuple[Built, ...]:
    """What was kept of a build. Of anything else it raises what `read_with` passes over."""
    facts, _, pdfs = body.partition(b"\n")
    found: list[Built] = []
    start = 0
    for about in json.loads(facts):
        size = about.pop("size")
        warnings = tuple(about.pop("warnings"))
        found.append(Built(**about, pdf=pdfs[start : start + size], warnings=warnings))
        start += size
    if not found or start != len(pdfs):
        raise ValueError("the PDFs are not what the facts say")
    return tuple(found)


def _about(built: Built) -> dict[str, object]:
    """What is kept of a build beside its PDF; found again, it has nothing engraved."""
    return {
        "name": built.name,
        "size": len(built.pdf),
        "pages": built.pages,
        "exercises": built.exercises,
        "sheets": built.sheets,
        "engraved": 0,
        "stored": built.engraved + built.stored,
        "warnings": built.warnings,
    }
