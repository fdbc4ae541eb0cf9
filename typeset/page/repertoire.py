"""Which characters can be printed, asked of the font files themselves without the typesetting library.

The table of a TrueType file that leads from characters to glyphs is read as ISO/IEC 14496-22 (Open Font
Format) lays it out under `cmap`, in its formats 4 and 12.
"""

from __future__ import annotations

import struct
import unicodedata
from collections.abc import Iterator
from functools import cache

from ..style import Style
from ..style.model import Family
from .families import CUTS, font_file
from .refusals import MissingCharacters

_SPACES = "\n\r\t"
_NEVER_PRINTED = {"Cc", "Cf", "Cs", "Co", "Cn"}
"""Unicode's categories of controls, formatting, half pairs, private use, and nothing at all."""


def missing_characters(text: str, style: Style) -> tuple[str, ...]:
    """The characters of a text that a style's faces cannot print, each once, in their order.

    Line ends and tabs are spaces; composed and decomposed accents are alike.
    """
    known = _known(style.type.text, style.type.letters)
    found = unicodedata.normalize("NFC", text)
    return () if known.issuperset(found) else tuple(dict.fromkeys(one for one in found if one not in known))


def described(character: str) -> str:
    """A character with its name and code point, so that it can be found: `日 (CJK ..., U+65E5)`."""
    code = f"U+{ord(character):04X}"
    kind = unicodedata.category(character)
    if kind == "Cc":
        return f"a control character ({code})"
    if kind in ("Cs", "Cn", "Co"):
        return f"no character ({code})"
    name = f"{unicodedata.name(character, 'without a name')}, {code}"
    return name if kind in _NEVER_PRINTED else f"{character} ({name})"


def covers(font: str, words: str) -> bool:
    """True when a font has a glyph for every character."""
    return characters_of(font).issuperset(words)


def refuse_uncovered(words: str, font: str) -> None:
    """Raise MissingCharacters for words that a font lacks a character of, before a box is printed for it."""
    if not covers(font, words):
        missing = tuple(dict.fromkeys(one for one in words if one not in characters_of(font)))
        those = ", ".join(map(described, missing))
        raise MissingCharacters(f"'{words.strip()}': {font} cannot print {those}; leave it out", words, missing)


@cache
def _known(*families: Family) -> frozenset[str]:
    """What every upright cut of these families can print; what an italic lacks is set upright."""
    cuts = [CUTS[family] for family in families]
    fonts = [font for one in cuts for font in (one.light, one.regular, one.strong)]
    common = frozenset.intersection(*map(characters_of, fonts))
    return frozenset(one for one in common if unicodedata.category(one) not in _NEVER_PRINTED) | set(_SPACES)


@cache
def characters_of(font: str) -> frozenset[str]:
    """Every character that a font file has a glyph for. Raises OutsideError where it is not installed."""
    table = _cmap(font_file(font).read_bytes())
    (count,) = struct.unpack_from(">H", table, 2)
    offsets = {struct.unpack_from(">HHL", table, 4 + 8 * index)[2] for index in range(count)}
    codes: set[int] = set()
    for offset in offsets:
        (layout,) = struct.unpack_from(">H", table, offset)
        if layout == 4:
            codes.update(_segments(table[offset:]))
        elif layout == 12:
            codes.update(_groups(table[offset:]))
    return frozenset(map(chr, codes))


def _cmap(font: bytes) -> bytes:
    """The table `cmap` of a font file."""
    (count,) = struct.unpack_from(">H", font, 4)
    for index in range(count):
        tag, _, offset, length = struct.unpack_from(">4sLLL", font, 12 + 16 * index)
        if tag == b"cmap":
            return font[offset : offset + length]
    raise ValueError("a font without a table of its characters")


def _segments(table: bytes) -> Iterator[int]:
    """The characters of a table in format 4: runs, each with a shift or with glyphs of its own."""
    (doubled,) = struct.unpack_from(">H", table, 6)
    count = doubled // 2
    ends, starts, shifts, ranges = (
        struct.unpack_from(f">{count}H", table, offset)
        for offset in (14, 16 + doubled, 16 + 2 * doubled, 16 + 3 * doubled)
    )
    for index, (start, end) in enumerate(zip(starts, ends, strict=True)):
        for code in range(start, end + 1):
            glyph = code
            if ranges[index]:
                place = 16 + 3 * doubled + 2 * index + ranges[index] + 2 * (code - start)
                (glyph,) = struct.unpack_from(">H", table, place)
                if glyph == 0:
                    continue
            if (glyph + shifts[index]) & 0xFFFF:
                yield code


def _groups(table: bytes) -> Iterator[int]:
    """The characters of a table in format 12: runs of characters and of glyphs."""
    (count,) = struct.unpack_from(">L", table, 12)
    for index in range(count):
        start, end, glyph = struct.unpack_from(">LLL", table, 16 + 12 * index)
        yield from range(start if glyph else start + 1, end + 1)
