"""Files that appear whole or not at all: written beside their place and moved there once they are complete."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path


def put_whole(file: Path, content: bytes, *, lasts: bool = False) -> None:
    """Put a file in its place, whole; its folder is made where there is none.

    What `lasts` is on the disk, and not only on its way there, before it takes the place of what was
    there. Raises OSError; the former file is then as it was, and nothing is left beside it.
    """
    file.parent.mkdir(parents=True, exist_ok=True)
    handle, draft = tempfile.mkstemp(dir=file.parent, prefix=".shedbook-", suffix=file.suffix)
    try:
        with os.fdopen(handle, "wb") as written:
            written.write(content)
            if lasts:
                written.flush()
                os.fsync(written.fileno())
        Path(draft).chmod(0o666 & ~_umask())
        Path(draft).replace(file)
    except BaseException:
        Path(draft).unlink(missing_ok=True)
        raise


def _umask() -> int:
    """What this process withholds from new files; asking means setting it and setting it back."""
    mask = os.umask(0)
    os.umask(mask)
    return mask
