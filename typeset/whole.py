"""Files that appear whole or not at all: written beside their place and moved there once they are complete."""

from __future__ import annotations

import os
from pathlib import Path

from .claim import fresh_name, take


def put_whole(file: Path, content: bytes, *, lasts: bool = False) -> None:
    """Put a file in its place, whole; its folder is made where there is none.

    What `lasts` is on the disk, and not only on its way there, before it takes the place of what was
    there. Raises OSError; the former file is then as it was, and nothing is left beside it. The draft of a
    process that is killed is left, and cleared by `claim.clear_left_behind`.
    """
    file.parent.mkdir(parents=True, exist_ok=True)
    draft, opened = _draft_beside(file)
    try:
        with os.fdopen(opened, "wb") as written:
            written.write(content)
            written.flush()
            if lasts:
                os.fsync(opened)
            if os.name == "posix":
                # Moved while it is still claimed; Windows moves no open file.
                draft.replace(file)
                return
        draft.replace(file)
    except BaseException:
        draft.unlink(missing_ok=True)
        raise


def _draft_beside(file: Path) -> tuple[Path, int]:
    """A new file beside another, claimed and open for writing."""
    while True:
        draft = file.parent / fresh_name(file.suffix)
        opened = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
        if take(draft, opened):
            return draft, opened
        os.close(opened)
