"""Ogg files with a serial number of their own: encoders draw one by lot, and no two files would be alike.

Pages are laid out after RFC 3533, section 6.
"""

from __future__ import annotations

import struct
import zlib

_CAPTURE = b"OggS"
_SERIAL, _CHECKSUM, _SEGMENTS, _HEAD = 14, 22, 26, 27
_TURNED = bytes(int(f"{byte:08b}"[::-1], 2) for byte in range(256))


def with_serial(content: bytes, serial: int = 1) -> bytes:
    """The same stream under this serial number. Raises ValueError for what is no Ogg file."""
    pages: list[bytes] = []
    start = 0
    while start < len(content):
        if content[start : start + 4] != _CAPTURE:
            raise ValueError("an Ogg file is a row of pages")
        count = content[start + _SEGMENTS]
        sizes = content[start + _HEAD : start + _HEAD + count]
        end = start + _HEAD + count + sum(sizes)
        page = bytearray(content[start:end])
        struct.pack_into("<L", page, _SERIAL, serial)
        struct.pack_into("<L", page, _CHECKSUM, 0)
        struct.pack_into("<L", page, _CHECKSUM, checksum(bytes(page)))
        pages.append(bytes(page))
        start = end
    return b"".join(pages)


def checksum(page: bytes) -> int:
    """Ogg's checksum of a page: the polynomial of zlib's, with bits the other way round and nothing inverted."""
    turned = zlib.crc32(page.translate(_TURNED), 0xFFFFFFFF) ^ 0xFFFFFFFF
    return int(f"{turned:032b}"[::-1], 2)
