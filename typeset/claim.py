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


def take(opened: int) -> bool:
    """Claim what was just made, by its file descriptor; False where it was cleared away before the claim.

    The claim ends with the descriptor, or with the process.
    """
    return _lock(opened) is not _HELD and os.fstat(opened).st_nlink > 0


@contextmanager
def claimed_folder(place: Path) -> Iterator[Path]:
    """A new, empty folder in a place, claimed as long as it is used, and removed then. Raises OSError."""
    while True:
        folder = place / fresh_name()
        folder.mkdir(mode=0o700)
        opened = None if fcntl is None else os.open(folder, os.O_RDONLY)
        if opened is None or take(opened):
            break
        os.close(opened)
    try:
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)
        if opened is not None:
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
