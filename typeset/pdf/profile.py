"""ICC profiles: one for black ink on white paper, and whether one of a printing house's can be used."""

from __future__ import annotations

import struct
from functools import cache

NAME = "Black ink on white paper"

# A nominal sheet-fed offset condition on white coated paper, as ISO 12647-2:2004 describes it; the three
# figures are written from memory. Lightness of the paper and of solid black (CIE L*), and by how much of the
# area dots print too large in the middle tone.
_PAPER, _SOLID, _GAIN = 95.0, 16.0, 0.17

_STEPS = 256
_HEADER, _TAG = 128, 12

# CIE illuminant D50, as the header of a profile has it (ICC.1:2001-04, 6.1).
_D50 = (0.9642, 1.0, 0.8249)

_SPACES = {b"GRAY": 1, b"CMYK": 4}


@cache
def grey_profile() -> bytes:
    """A monochrome output profile (ICC.1:2001-04, 6.3.3.1): from DeviceGray to what is seen on the paper."""
    white = tuple(part * _luminance(_PAPER) for part in _D50)
    tags = {
        b"desc": _description(NAME),
        b"cprt": b"text" + bytes(4) + b"No copyright; use it freely.\0",
        b"wtpt": b"XYZ " + bytes(4) + _numbers(white),
        b"kTRC": b"curv" + bytes(4) + struct.pack(f">I{_STEPS}H", _STEPS, *_curve()),
    }
    table = struct.pack(">I", len(tags))
    body = b""
    start = _HEADER + 4 + _TAG * len(tags)
    for name, content in tags.items():
        table += name + struct.pack(">II", start + len(body), len(content))
        body += content + bytes(-len(content) % 4)
    return _header(start + len(body)) + table + body


def components_of(profile: bytes) -> int:
    """How many inks an output profile has: one, or four. Raises ValueError for any other profile, saying why.

    Greys alone may be printed by a condition with black ink; one in RGB says nothing of them (ISO 15930-7).
    """
    if len(profile) < _HEADER or profile[36:40] != b"acsp":
        raise ValueError("this is no ICC profile")
    kind, space = profile[12:16], profile[16:20]
    if kind != b"prtr":
        raise ValueError("this ICC profile is none of a printing condition (its class is not 'prtr')")
    if space not in _SPACES:
        inks = space.decode("ascii", "replace").strip()
        raise ValueError(f"this ICC profile is for {inks}; pages in greys need one for GRAY or CMYK")
    return _SPACES[space]


def description_of(profile: bytes) -> str:
    """A profile's own name, or `custom` where it does not tell."""
    count = struct.unpack_from(">I", profile, _HEADER)[0]
    for index in range(min(count, 100)):
        name, start, size = struct.unpack_from(">4sII", profile, _HEADER + 4 + _TAG * index)
        if name == b"desc":
            return _words(profile[start : start + size]) or "custom"
    return "custom"


def _words(tag: bytes) -> str:
    if tag[:4] == b"desc":
        size = struct.unpack_from(">I", tag, 8)[0]
        return tag[12 : 12 + size].rstrip(b"\0").decode("ascii", "replace").strip()
    if tag[:4] == b"mluc":
        size, start = struct.unpack_from(">II", tag, 20)
        return tag[start : start + size].decode("utf-16-be", "replace").strip("\0 ")
    return ""


def _header(size: int) -> bytes:
    head = struct.pack(">I4sI", size, b"", 0x02400000)
    head += b"prtr" + b"GRAY" + b"XYZ " + struct.pack(">6H", 2026, 1, 1, 0, 0, 0) + b"acsp"
    head = head.ljust(64, b"\0") + struct.pack(">I", 1)  # relative colorimetric
    return (head + _numbers(_D50)).ljust(_HEADER, b"\0")


def _curve() -> list[int]:
    """Light from each grey, from black to white, as a share of the light from the paper, in 65535ths.

    Dots print too large by a parabola over the tones, and the light is that of the paper between them and
    of the ink upon them (Murray and Davies, Journal of the Franklin Institute 221, 1936).
    """
    solid = _luminance(_SOLID) / _luminance(_PAPER)
    tones = [1 - step / (_STEPS - 1) for step in range(_STEPS)]
    areas = [tone + 4 * _GAIN * tone * (1 - tone) for tone in tones]
    return [round(65535 * (1 - area * (1 - solid))) for area in areas]


def _luminance(lightness: float) -> float:
    """CIE Y of an L* above 8, white being 1 (CIE 15)."""
    return float(((lightness + 16) / 116) ** 3)


def _numbers(values: tuple[float, ...]) -> bytes:
    """Signed fixed numbers with 16 bits behind the point."""
    return struct.pack(f">{len(values)}i", *(round(value * 65536) for value in values))


def _description(words: str) -> bytes:
    """A textDescriptionType with its ASCII part alone (ICC.1:2001-04, 6.5.17)."""
    told = words.encode("ascii") + b"\0"
    return b"desc" + bytes(4) + struct.pack(">I", len(told)) + told + bytes(4 + 4 + 2 + 1 + 67)
