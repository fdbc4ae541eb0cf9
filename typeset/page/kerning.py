"""How much nearer, or farther apart, letters stand than their widths say: what a font tells of its pairs.

The font's own table (`GPOS`, ISO/IEC 14496-22) is read by HarfBuzz. Nothing else of a text's shape changes: no
ligatures, so every character stays one glyph, and is copied and read aloud as it was written.
"""

from __future__ import annotations

from functools import cache, lru_cache

import uharfbuzz

from .families import font_file

_FEATURES = {"kern": True} | dict.fromkeys(("liga", "clig", "calt", "ccmp", "locl", "mark", "mkmk"), False)


@lru_cache(maxsize=65536)
def kerning_of(words: str, font: str) -> tuple[tuple[int, float], ...]:
    """After which characters, from 0, something is added, and how much, in thousandths of the size.

    Each word by itself: what stands before a space or after it is never moved, so a line is as long as its
    words and spaces.
    """
    found: list[tuple[int, float]] = []
    start = 0
    for word in words.split(" "):
        found += ((start + place, added) for place, added in _in_word(word, font))
        start += len(word) + 1
    return tuple(found)


@lru_cache(maxsize=65536)
def _in_word(word: str, font: str) -> tuple[tuple[int, float], ...]:
    if len(word) < 2:
        return ()
    face, thousandths = _face(font)
    text = uharfbuzz.Buffer()
    text.add_str(word)
    text.guess_segment_properties()
    text.direction = "ltr"
    uharfbuzz.shape(face, text, _FEATURES)
    glyphs = text.glyph_infos
    if len(glyphs) != len(word):
        # A letter and its accent became one glyph; their places are no longer those of the characters.
        return ()
    added = (
        (place, (position.x_advance - face.get_glyph_h_advance(glyph.codepoint)) * thousandths)
        for place, (glyph, position) in enumerate(zip(glyphs, text.glyph_positions, strict=True))
    )
    return tuple((place, amount) for place, amount in added if amount)


@cache
def _face(font: str) -> tuple[uharfbuzz.Font, float]:
    """A font as HarfBuzz knows it, and what its units are in thousandths of the size."""
    face = uharfbuzz.Face(uharfbuzz.Blob.from_file_path(str(font_file(font))))
    return uharfbuzz.Font(face), 1000 / face.upem
