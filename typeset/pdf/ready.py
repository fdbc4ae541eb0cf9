"""Objects that are ready: written as bytes as soon as they are made.

A book has thousands of small ones that are much alike, such as the elements of its structure and its links. To
build each out of the PDF library's parts takes ten times as long as to write it down.
"""

from __future__ import annotations

from codecs import BOM_UTF16_BE
from collections.abc import Iterable
from typing import Any

from pypdf import PdfWriter
from pypdf.generic import PdfObject


class Ready(PdfObject):
    """An object that is written already. What it refers to is ready too, or something else leads to it."""

    def __init__(self, data: bytes) -> None:
        self.data = data

    def write_to_stream(self, stream: Any) -> None:
        """Write it down."""
        stream.write(self.data)


def reserved(writer: PdfWriter, count: int = 1) -> range:
    """The numbers of so many objects that are still to be put."""
    first = len(writer._objects) + 1
    writer._objects += [None] * count
    return range(first, first + count)


def put(writer: PdfWriter, number: int, data: bytes) -> None:
    """Put an object under a number that was reserved for it."""
    writer._objects[number - 1] = Ready(data)


def reference(number: int) -> bytes:
    """A reference to an object."""
    return b"%d 0 R" % number


def array(things: Iterable[bytes]) -> bytes:
    """An array of what is written already."""
    return b"[%s]" % b" ".join(things)


def real(number: float) -> bytes:
    """A number with at most three decimals."""
    return repr(round(number, 3)).encode()


def string(data: bytes) -> bytes:
    """Bytes as a literal string (ISO 32000-1, 7.3.4.2)."""
    for plain, escaped in ((b"\\", b"\\\\"), (b"(", b"\\("), (b")", b"\\)"), (b"\r", b"\\r")):
        data = data.replace(plain, escaped)
    return b"(%s)" % data


def text(words: str) -> bytes:
    """Words as a text string (ISO 32000-1, 7.9.2.2): ASCII as it is, everything else in UTF-16."""
    is_plain = words.isascii() and words.replace("\n", "").isprintable()
    return string(words.encode("ascii") if is_plain else BOM_UTF16_BE + words.encode("utf-16-be"))
