"""Building a book once: where nothing changed since an earlier build, its PDFs are found and not made.

This stands between the command and the pipeline, which is imported only when there is something to make.
"""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from .built import Built, Run
from .problem import OutsideError
from .record import Records, key_of


def build(path: Path, out: Path, edition: str | None, run: Run) -> dict[Path, Built]:
    """Build a book's PDF, or an edition's, or with `all` every one of them, into a folder.

    Gives each file with what stands in it. Nothing is written unless everything asked for was made.
    Raises BookError, NotThere for an edition that the book does not have, OutsideError.
    """
    records = Records.usual()
    key = key_of(path, edition or "")
    made = None if run.fresh else records.get(key)
    if made is None:
        from .pipeline import make

        made = make(path, edition, run)
        records.put(key, made)
    files = {out / f"{one.name}.pdf": one for one in made}
    for file, one in files.items():
        write_whole(file, one.pdf)
    return files


def write_whole(file: Path, content: bytes) -> None:
    """Write a file so that it appears whole or not at all. Raises OutsideError."""
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        handle, draft = tempfile.mkstemp(dir=file.parent, prefix=".shedbook-", suffix=file.suffix)
    except OSError as error:
        raise OutsideError(f"cannot write {file}: {error.strerror}; choose another place with --out") from error
    try:
        with os.fdopen(handle, "wb") as written:
            written.write(content)
            written.flush()
            os.fsync(written.fileno())
        Path(draft).chmod(0o666 & ~_umask())
        Path(draft).replace(file)
    except BaseException as error:
        Path(draft).unlink(missing_ok=True)
        if isinstance(error, OSError):
            what = f"cannot write {file}: {error.strerror}; what was there before is as it was"
            raise OutsideError(what) from error
        raise


def _umask() -> int:
    """What this process withholds from new files; asking means setting it and setting it back."""
    mask = os.umask(0)
    os.umask(mask)
    return mask
