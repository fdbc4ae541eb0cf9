"""Files as text: what can be wrong with a file before any YAML is read."""

from __future__ import annotations

import re
from pathlib import Path

from .nearest import meant
from .problem import Mark, Problem

LARGEST = 2 * 1024 * 1024
"""The most bytes that a file of a book may have."""

# Line ends that only some programs see would put line numbers out; the others are never meant.
_INVISIBLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff]")


class FileTrouble(Exception):
    """A file that cannot be read as text; `problem` says why and where."""

    def __init__(self, mark: Mark, what: str) -> None:
        self.problem = Problem(mark, what)
        super().__init__(what)


def text_of(path: Path, asked_at: Mark | None = None) -> str:
    """The text of a file, without a byte order mark.

    `asked_at` is the place that names the file; a missing file is reported there. Raises FileTrouble.
    """
    here = asked_at or Mark(path)
    name = path.name if asked_at else str(path)
    if path.is_dir():
        raise FileTrouble(here, f"'{name}' is a folder; a file is expected")
    if not path.exists():
        raise FileTrouble(here, f"there is no file '{name}'{_near_file(path)}")
    if not path.is_file():
        raise FileTrouble(here, f"'{name}' is no ordinary file")
    try:
        size = path.stat().st_size
        raw = path.read_bytes() if size <= LARGEST else b""
    except OSError as error:
        raise FileTrouble(here, f"'{name}' cannot be read: {error.strerror or error}") from None
    if size > LARGEST:
        most = LARGEST // 1024 // 1024
        raise FileTrouble(Mark(path), f"this file is larger than {most} MiB; divide it into several")
    return _decode(path, raw)


def _decode(path: Path, raw: bytes) -> str:
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise FileTrouble(Mark(path), "this file is UTF-16; save it as UTF-8")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = raw[: error.start].decode("utf-8-sig", "replace")
        byte = raw[error.start]
        raise FileTrouble(
            _end_of(path, before), f"this is not UTF-8 (a byte {byte:#04x}); save the file as UTF-8"
        ) from None
    found = _INVISIBLE.search(text)
    if found:
        raise FileTrouble(
            _end_of(path, text[: found.start()]),
            f"an invisible character (U+{ord(found[0]):04X}) stands here; delete it",
        )
    return text


def _end_of(path: Path, before: str) -> Mark:
    """The place right after this text."""
    lines = re.split(r"\r\n|\r|\n", before)
    return Mark(path, len(lines), len(lines[-1]) + 1)


def _near_file(path: Path) -> str:
    if not path.parent.is_dir():
        return ""
    return meant(path.name, (other.name for other in path.parent.iterdir() if other.is_file()))
