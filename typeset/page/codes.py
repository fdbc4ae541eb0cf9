"""The codes of a font's characters, the same in every book: what is drawn for one can go into another.

A part of a font has 256 codes (ISO 32000-1, 9.6.6): 0 stands for what it lacks and 32 for a space. In the first
part Latin letters stand under their own numbers; whatever else a font has comes after, in the order of Unicode.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from itertools import chain, islice
from typing import NamedTuple

from reportlab.pdfbase.pdfdoc import PDFDocument

from .faces import load
from .families import CUTS
from .repertoire import characters_of

_PART = 256
_SPACE = ord(" ")
_LATIN = {*range(0x21, 0x7F), *range(0xA1, 0x100)}
"""Unicode's numbers of what ISO 8859-1 prints."""

_PUNCTUATION = range(0x2010, 0x2070)
"""Quotation marks, dashes and the like, which come next: a book in a language of the west needs one part."""


class CharacterCode(NamedTuple):
    """Which part of a font has a character, and its code there."""

    part: int
    byte: int


@cache
def codes_of(font: str) -> Mapping[str, CharacterCode]:
    """The code of each character of a font. Raises OutsideError where it is not installed."""
    known = sorted(map(ord, characters_of(font)))
    own = [number for number in known if number in _LATIN]
    others = [number for number in known if number not in _LATIN and number not in (_SPACE, 0xA0)]
    later = sorted(others, key=lambda number: (number not in _PUNCTUATION, number))
    taken = {0, _SPACE, *own}
    free = chain(
        (CharacterCode(0, byte) for byte in range(_PART) if byte not in taken),
        (CharacterCode(part, byte) for part in range(1, 1 + len(later) // (_PART - 2) + 1) for byte in _bytes()),
    )
    spaces = {" ": CharacterCode(0, _SPACE), "\xa0": CharacterCode(0, _SPACE)}
    return (
        spaces
        | {chr(number): CharacterCode(0, number) for number in own}
        | {chr(number): code for number, code in zip(later, islice(free, len(later)), strict=True)}
    )


def _bytes() -> Iterable[int]:
    return (byte for byte in range(_PART) if byte not in (0, _SPACE))


@cache
def name_of(font: str, part: int) -> str:
    """What a part of a font is called in a page's content."""
    return f"{_names()[font]}+{part}"


@cache
def _names() -> Mapping[str, str]:
    cuts = (
        cut for one in CUTS.values() for cut in (one.light, one.regular, one.italic, one.strong, one.strong_italic)
    )
    return {font: f"F{number}" for number, font in enumerate(cuts, start=1)}


def add_fonts(document: PDFDocument, used: Mapping[str, Iterable[str]]) -> None:
    """Add fonts to a document that is being made, with the glyphs of the characters used of each and no others."""
    for font, characters in sorted(used.items()):
        face = load(font)
        state = face._assignState(document)
        state.subsets, state.frozen = _parts(font, characters), True
        state.internalName = _names()[font]
        document.fontMapping[face.fontName] = f"/{state.internalName}"
        document.delayedFonts.append(face)


def _parts(font: str, characters: Iterable[str]) -> list[list[int]]:
    """For each part of a font the characters under its codes, up to the last that is used; spaces fill the gaps."""
    codes = codes_of(font)
    at = {codes[character]: ord(character) for character in characters if codes[character].byte != _SPACE}
    last = max((part for part, _ in at), default=0)
    ends = [max((byte for place, byte in at if place == part), default=_SPACE) for part in range(last + 1)]
    return [
        [0, *(at.get(CharacterCode(part, byte), _SPACE) for byte in range(1, end + 1))]
        for part, end in enumerate(ends)
    ]
