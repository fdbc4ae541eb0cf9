"""Words as strings in a page's content: which codes show them, in which part of a font, and what is kerned."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby

from reportlab.pdfbase.pdfdoc import PDFDocument

from .faces import load
from .kerning import kerning_of
from .repertoire import refuse_uncovered

_ESCAPED = {code: chr(code) if 32 <= code < 127 else f"\\{code:03o}" for code in range(256)} | {
    ord(mark): f"\\{mark}" for mark in "()\\"
}


class Strings:
    """How words are shown in one document, whose fonts get their glyphs as words are asked for."""

    def __init__(self, document: PDFDocument) -> None:
        self._document = document
        self._fonts: dict[str, _Codes] = {}

    def shown(self, words: str, font: str, size: float, ending: str = "") -> str:
        """The operators that show words in a font, and what ends them, which is not kerned.

        Raises MissingCharacters where the font lacks one.
        """
        refuse_uncovered(words, font)
        known = self._fonts.get(font) or self._fonts.setdefault(font, _Codes(font, self._document))
        codes = [known[character] for character in words + ending]
        kerning = dict(kerning_of(words, font))
        return " ".join(
            f"/{known.part(number)} {size:.2f} Tf {_operator(codes, places, kerning)}"
            for number, places in _runs(codes)
        )


class _Codes(dict[str, tuple[int, str]]):
    """For each character the part of a font that has its glyph, and the glyph's code there as it is written."""

    def __init__(self, font: str, document: PDFDocument) -> None:
        super().__init__()
        self._font, self._document = load(font), document

    def __missing__(self, character: str) -> tuple[int, str]:
        ((part, code),) = self._font.splitString(character, self._document)
        self[character] = found = part, _ESCAPED[code[0]]
        return found

    def part(self, number: int) -> str:
        """What a part of the font is called in a page's content."""
        return str(self._font.getSubsetInternalName(number, self._document)).lstrip("/")


def _runs(codes: Sequence[tuple[int, str]]) -> list[tuple[int, range]]:
    """The parts of a font that characters are in, one after the other, and the places of those in each."""
    runs: list[tuple[int, range]] = []
    start = 0
    for part, run in groupby(part for part, _ in codes):
        end = start + len(list(run))
        runs.append((part, range(start, end)))
        start = end
    return runs


def _operator(codes: Sequence[tuple[int, str]], places: range, kerning: Mapping[int, float]) -> str:
    """The codes at places as they are shown, some nearer together or farther apart (ISO 32000-1, 9.4.3)."""
    written = [code for _, code in codes[places.start : places.stop]]
    moved = [place for place in kerning if place in places]
    for place in moved:
        written[place - places.start] += f"){-kerning[place]:g}("
    string = "".join(written)
    return f"[({string})] TJ" if moved else f"({string}) Tj"
