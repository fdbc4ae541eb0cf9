"""Files and folders that a running process works on: claimed by a lock, which goes with the process.

However a process ends, the system takes its locks away. So what nobody holds was left behind by one that was
killed, whatever its age says, and the next that comes by clears it away. Where there are no such
locks (Windows, some network folders) only what was not touched for a day is taken for left behind.
"""

from __future__ import annotations

import os
import shutil
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

try:
    import fcntl
except ImportError:  # Windows
    fcntl = None  # type: ignore[assignment]

LONG_AGO = 24 * 60 * 60
"""Seconds after which something without a lock is taken for left behind."""

MARK = ".shedbook-"
"""What the names of drafts and working folders begin with."""

_CANNOT, _HELD, _FREE = "cannot", "held", "free"


def fresh_name(suffix: str = "") -> str:
    """A name that nothing has yet."""
    return f"{MARK}{os.urandom(8).hex()}{suffix}"


def take(path: Path, opened: int) -> bool:
    """Claim what was just made, by its file descriptor; False where it was cleared away before the claim.

    The claim ends with the descriptor, or with the process.
    """
    if _lock(opened) is _HELD:
        return False
    try:
        return os.path.samestat(path.stat(), os.fstat(opened))
    except FileNotFoundError:
        return False


def working_place() -> Path:
    """Where working folders are made: among the system's temporary files."""
    import tempfile  # heavy, and a build that is found has none

    return Path(tempfile.gettempdir())


@contextmanager
def claimed_folder(place: Path) -> Iterator[Path]:
    """A new, empty folder in a place, claimed as long as it is used, and removed then. Raises OSError."""
    folder, opened = _claimed_in(place)
    try:
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)
        if opened is not None:
            os.close(opened)


def _claimed_in(place: Path) -> tuple[Path, int | None]:
    """A new folder, and the descriptor that claims it where there are locks."""
    while True:
        folder = place / fresh_name()
        folder.mkdir(mode=0o700)
        if fcntl is None:
            return folder, None
        with suppress(FileNotFoundError):  # cleared away by another build before it was claimed
            opened = os.open(folder, os.O_RDONLY)
            if take(folder, opened):
                return folder, opened
            os.close(opened)


def clear_left_behind(place: Path) -> None:
    """Remove the drafts and working folders in a place that no running process holds, and that are ours."""
    with suppress(OSError), os.scandir(place) as entries:
        for entry in entries:
            if entry.name.startswith(MARK):
                with suppress(OSError):
                    _clear(Path(entry.path))


def _clear(path: Path) -> None:
    about = path.lstat()
    if hasattr(os, "geteuid") and about.st_uid != os.geteuid():
        return
    opened = None if fcntl is None else os.open(path, os.O_RDONLY | os.O_NOFOLLOW)
    try:
        lock = _CANNOT if opened is None else _lock(opened)
        # A clock may have jumped, so both ways count as long ago.
        if lock is _FREE or (lock is _CANNOT and abs(time.time() - about.st_mtime) > LONG_AGO):
            if path.is_dir():
                shutil.rmtree(path, ignore_errors=True)
            else:
                path.unlink(missing_ok=True)
    finally:
        if opened is not None:
            os.close(opened)


def _lock(opened: int) -> str:
    """Lock what is opened, without waiting; says whether that was free, is held, or cannot be locked here."""
    if fcntl is None:
        return _CANNOT
    try:
        fcntl.flock(opened, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return _HELD
    except OSError:
        return _CANNOT
    return _FREE
