"""Files as text: what can be wrong with a file before any YAML is read."""

from __future__ import annotations

import re
import unicodedata
from pathlib import Path

from .nearest import meant
from .problem import Mark, Problem

LARGEST = 2 * 1024 * 1024
"""The most bytes that a file of a book may have."""

_UNSEEN = {"Cc", "Cf", "Cs", "Zl", "Zp"}
"""Unicode's categories of controls, of signs that only steer how others are shown, of half a pair, and of line
ends that only some programs see and that would put line numbers out."""

# Of those, what is wrong anywhere in a file. The others may stand in a comment.
_NOWHERE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff]")


class FileTrouble(Exception):
    """A file that cannot be read as text; `problem` says why and where."""

    def __init__(self, mark: Mark, what: str) -> None:
        self.problem = Problem(mark, what)
        super().__init__(what)


def text_of(path: Path, asked_at: Mark | None = None, most: int = LARGEST, within: Path | None = None) -> str:
    """The text of a file of so many bytes at most, without a byte order mark.

    `asked_at` is the place that names the file; a missing file is reported there. A file that belongs to a
    folder lies `within` it, wherever a link of its name leads. Raises FileTrouble.
    """
    here = asked_at or Mark(path)
    name = short(path.name) if asked_at else str(path)
    if within is not None and leads_out(path, within):
        raise FileTrouble(here, f"'{name}' is a link that leads out of the book's folder; put the file there")
    try:
        raw = _raw(path, here, name, most)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise FileTrouble(here, f"'{name}' cannot be read: {reason}") from None
    if len(raw) > most:
        size = f"{most // 1024 // 1024} MiB" if most >= 1024 * 1024 else f"{most // 1024} KiB"
        raise FileTrouble(Mark(path), f"this file is larger than {size}; divide it into several")
    return _decode(path, raw)


def _raw(path: Path, here: Mark, name: str, most: int) -> bytes:
    """A file's bytes, as far as they are read. Raises FileTrouble, OSError, ValueError."""
    if path.is_dir():
        raise FileTrouble(here, f"'{name}' is a folder; a file is expected")
    if not path.is_file():
        if path.exists():
            raise FileTrouble(here, f"'{name}' is no ordinary file")
        raise FileTrouble(here, f"there is no file '{name}'{_near_file(path)}")
    with path.open("rb") as file:
        return file.read(most + 1)


def beginning_of(path: Path) -> bytes:
    """What a file holds, as far as it can matter: more than the largest that is read. Nothing of what is no
    ordinary file. Raises OSError."""
    if not path.is_file():
        return b""
    with path.open("rb") as file:
        return file.read(LARGEST + 1)


def leads_out(path: Path, folder: Path) -> bool:
    """True where links or dots lead from a path out of a folder, or round in a circle."""
    try:
        return not path.resolve().is_relative_to(folder.resolve())
    except (OSError, RuntimeError, ValueError):
        return True


def unseen(text: str) -> tuple[int, str] | None:
    """The first character that steers how others are shown, or that is none: where, from 0, and its name.

    Line ends and tabs are white, and seen.
    """
    if text.isprintable():
        return None
    for offset, letter in enumerate(text):
        if letter not in "\n\r\t" and _is_unseen(letter):
            name = unicodedata.name(letter, "")
            return offset, f"{name}, U+{ord(letter):04X}" if name else f"U+{ord(letter):04X}"
    return None


def _is_unseen(letter: str) -> bool:
    # The last two of every 65,536 are no characters (The Unicode Standard, 23.7).
    return not letter.isprintable() and (unicodedata.category(letter) in _UNSEEN or ord(letter) & 0xFFFE == 0xFFFE)


def short(words: str) -> str:
    """Words as a message says them: not too long, and nothing in them that only steers."""
    shown = harmless(words)
    return f"{shown[:57]}..." if len(shown) > 60 else shown


def harmless(words: str) -> str:
    """Words on one line in which nothing steers: what is not seen is a sign for that."""
    return words if words.isprintable() else "".join(map(_harmless, words))


def _harmless(letter: str) -> str:
    return " " if letter in "\n\r\t" else "\ufffd" if _is_unseen(letter) else letter


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
    found = _NOWHERE.search(text)
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
