"""What can be made again and is kept between runs: engraved blocks, drawn chapters and whole builds.

Each is a file of its own under a key, checked when it is read, so neither a kill nor a damaged disk can put a
wrong note on paper. What is found is marked as used; at the end of a build what was used least recently goes,
until everything is within the limit. Any number of builds may do all this at once: files appear whole, and a
reader has read what another removes, or makes it again.
"""

from __future__ import annotations

import hashlib
import os
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, NamedTuple, TypeVar

from .claim import MARK, clear_left_behind
from .problem import OutsideError
from .shipped import STORE_VARIABLE
from .whole import put_whole

LIMIT_VARIABLE = "SHEDBOOK_STORE_LIMIT"

USUAL_LIMIT = 500
"""Megabytes that are kept where SHEDBOOK_STORE_LIMIT does not say otherwise."""

MOST_BUILDS = 64
"""How many whole builds are kept: each change of a book makes another."""

T = TypeVar("T")
Kind = Literal["block", "chapter", "build"]

# How many figures of a key name its folder.
_FOLDER = 2

_SHELVES: dict[Kind, str] = {"block": "blocks", "chapter": "chapters", "build": "builds"}
_DIGEST = hashlib.sha256().digest_size
_MEGABYTE = 1_000_000

# Some disks keep times to two seconds, and a file's own clock may lag a little behind.
_COARSE = 2.0


@dataclass(frozen=True, slots=True)
class Shelf:
    """A folder of kept files of one kind."""

    folder: Path
    kind: Kind

    @classmethod
    def under(cls, store: Path, kind: Kind) -> Shelf:
        """The shelf of that kind in a store."""
        return cls(store / _SHELVES[kind], kind)

    def get(self, key: str) -> bytes | None:
        """What is kept under a key, from now on the last used; None where there is nothing, or it is damaged."""
        path = self._path(key)
        try:
            kept = path.read_bytes()
        except OSError:
            return None
        start = len(self._magic) + _DIGEST
        body = kept[start:]
        if kept[:start] != self._magic + hashlib.sha256(body).digest():
            return None
        with suppress(OSError):
            os.utime(path)
        return body

    def put(self, key: str, body: bytes) -> None:
        """Keep something under a key. Raises OSError where the folder cannot be written."""
        put_whole(self._path(key), self._magic + hashlib.sha256(body).digest() + body)

    @property
    def _magic(self) -> bytes:
        return f"shedbook {self.kind} 1\n".encode()

    def _path(self, key: str) -> Path:
        return self.folder / key[:_FOLDER] / f"{key[_FOLDER:]}.{self.kind}"


def read_with(unpack: Callable[[bytes], T], body: bytes | None) -> T | None:
    """What is kept, unpacked; None where there is nothing, or it is whole and still not what this program packs."""
    with suppress(ValueError, TypeError, LookupError, AttributeError):
        return None if body is None else unpack(body)
    return None


class Kept(NamedTuple):
    """One kept file: when it was last used, in seconds since 1970, its bytes, its path, and its kind."""

    used: float
    size: int
    path: str
    kind: Kind


def kept_in(store: Path) -> list[Kept]:
    """Everything that is kept in a store, what was used least recently first."""
    return sorted(one for kind in _SHELVES for entry in _entries(store, kind) if (one := _kept(entry, kind)))


def told_not_kept(store: Path, error: OSError) -> str:
    """What a teacher is told where a store cannot be written: the build went through nevertheless."""
    return (
        f"the store at {store} cannot be written ({error.strerror}); the build is whole, but the next one takes "
        f"as long; make room there, or name another folder in {STORE_VARIABLE}"
    )


def limit() -> int:
    """How many bytes may be kept. Raises OutsideError where SHEDBOOK_STORE_LIMIT is no number of megabytes."""
    said = os.environ.get(LIMIT_VARIABLE, "").strip() or str(USUAL_LIMIT)
    if not (said.isascii() and said.isdigit()):
        raise OutsideError(f"{LIMIT_VARIABLE} is a number of megabytes, such as {USUAL_LIMIT}, and not '{said}'")
    return int(said) * _MEGABYTE


def sweep(store: Path, most: int, since: float) -> None:
    """Remove what killed builds left behind, then what was used least recently until `most` bytes are kept.

    What was used `since` a time, that of the build's beginning, stays even where that is more. A time that is
    yet to come, for a clock went wrong, counts as just before.
    """
    for kind in _SHELVES:
        _clear_drafts(store, kind)
    since -= _COARSE
    kept = kept_in(store)
    if kept and kept[-1].used > max(time.time(), since):
        kept = sorted(_timely(one, since) for one in kept)
    size = sum(one.size for one in kept)
    builds = sum(one.kind == "build" for one in kept)
    for one in kept:
        if one.used >= since or (size <= most and builds <= MOST_BUILDS):
            break
        if size > most or one.kind == "build":
            with suppress(OSError):
                Path(one.path).unlink()
                size -= one.size
                builds -= one.kind == "build"


def clear(store: Path) -> list[Kept]:
    """Remove everything that is kept, and nothing else; gives what was removed. Raises OSError."""
    kept = kept_in(store)
    for one in kept:
        Path(one.path).unlink(missing_ok=True)
    for kind in _SHELVES:
        _clear_drafts(store, kind)
    return kept


def _timely(one: Kept, since: float) -> Kept:
    """A kept file whose time of use has come; one from the future is told to be from the past."""
    if one.used <= max(time.time(), since):
        return one
    before = since - 1
    with suppress(OSError):
        os.utime(one.path, (before, before))
    return one._replace(used=before)


def _kept(entry: os.DirEntry[str], kind: Kind) -> Kept | None:
    if not entry.name.endswith(f".{kind}"):
        return None
    try:
        about = entry.stat(follow_symlinks=False)
    except OSError:
        return None  # another build has just removed it
    return Kept(about.st_mtime, about.st_size, entry.path, kind)


def _clear_drafts(store: Path, kind: Kind) -> None:
    drafts = [entry.path for entry in _entries(store, kind) if entry.name.startswith(MARK)]
    for folder in {Path(draft).parent for draft in drafts}:
        clear_left_behind(folder)


def _entries(store: Path, kind: Kind) -> Iterator[os.DirEntry[str]]:
    """The files of a shelf, which stand in folders by the first two figures of their keys."""
    for folder in _listed(store / _SHELVES[kind]):
        if len(folder.name) == _FOLDER and folder.is_dir(follow_symlinks=False):
            yield from _listed(folder.path)


def _listed(folder: Path | str) -> Iterable[os.DirEntry[str]]:
    try:
        with os.scandir(folder) as entries:
            return list(entries)
    except OSError:
        return []
