"""The glyphs of a PDF's embedded fonts as outlines, so that a picture needs no font."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from fontTools.cffLib import CFFFontSet
from fontTools.pens.svgPathPen import SVGPathPen
from fontTools.ttLib import TTFont


@dataclass(frozen=True)
class Glyph:
    """One glyph: its outline as an SVG path in the font's own units, and its advance in text space."""

    path: str
    advance: float


class Face:
    """An embedded font: from the bytes of a string to glyphs. `scale` takes its units to text space."""

    def __init__(self, font: Any) -> None:
        self._known: dict[int, Glyph] = {}
        self._two_bytes = font["/Subtype"] == "/Type0"
        inner = font["/DescendantFonts"][0].get_object() if self._two_bytes else font
        descriptor = inner["/FontDescriptor"].get_object()
        if "/FontFile2" in descriptor:
            self._outlines: _Outlines = _TrueType(descriptor["/FontFile2"].get_object().get_data())
        else:
            self._outlines = _Compact(descriptor["/FontFile3"].get_object().get_data(), by_cid=self._two_bytes)
        self._widths = dict(_widths_of(inner))
        self.scale = self._outlines.scale

    def glyphs(self, text: bytes) -> Iterator[tuple[int, Glyph]]:
        """The code and the glyph of each character of a string."""
        size = 2 if self._two_bytes else 1
        for start in range(0, len(text), size):
            code = int.from_bytes(text[start : start + size], "big")
            if code not in self._known:
                path = self._outlines.path_of(code)
                self._known[code] = Glyph(path, self._widths.get(code, 0.0) / 1000)
            yield code, self._known[code]


class _Outlines:
    """Outlines by code."""

    scale: float

    def path_of(self, code: int) -> str:
        """The outline of the glyph that a code means."""
        raise NotImplementedError


class _TrueType(_Outlines):
    """A TrueType program, as the text of our pages has it."""

    def __init__(self, program: bytes) -> None:
        font = TTFont(io.BytesIO(program))
        self._glyphs = font.getGlyphSet()
        self._names: dict[int, str] = font["cmap"].tables[0].cmap
        self.scale = 1 / font["head"].unitsPerEm

    def path_of(self, code: int) -> str:
        pen = SVGPathPen(self._glyphs)
        if code in self._names:
            self._glyphs[self._names[code]].draw(pen)
        return str(pen.getCommands())


class _Compact(_Outlines):
    """A compact font program, as the engraver writes it: by the glyphs' numbers, or by an encoding."""

    scale = 1 / 1000

    def __init__(self, program: bytes, by_cid: bool) -> None:
        fonts = CFFFontSet()
        fonts.decompile(io.BytesIO(program), None)
        self._font = fonts[0]
        self._by_cid = by_cid

    def path_of(self, code: int) -> str:
        strings = self._font.CharStrings
        pen = SVGPathPen(strings)
        name = self._name_of(code)
        if name in strings:
            strings[name].draw(pen)
        return str(pen.getCommands())

    def _name_of(self, code: int) -> str:
        if not self._by_cid:
            return str(self._font.Encoding[code])
        if hasattr(self._font, "ROS"):
            return f"cid{code:05}"
        order = self._font.charset
        return str(order[code]) if code < len(order) else ".notdef"


def _widths_of(font: Any) -> Iterator[tuple[int, float]]:
    """The advance of each code, in thousandths of the type size."""
    if "/Widths" in font:
        first = int(font["/FirstChar"])
        yield from ((first + place, float(width)) for place, width in enumerate(font["/Widths"]))
        return
    runs = list(font.get("/W", []))
    while runs:
        first, second = int(runs[0]), runs[1]
        if isinstance(second, list):
            yield from ((first + place, float(width)) for place, width in enumerate(second))
            runs = runs[2:]
        else:
            yield from ((code, float(runs[2])) for code in range(first, int(second) + 1))
            runs = runs[3:]
