"""The typefaces as the typesetting library knows them: how wide words are, and how high."""

from __future__ import annotations

from functools import cache, lru_cache

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from .families import font_file
from .kerning import kerning_of


@cache
def load(font: str) -> TTFont:
    """A font by its file's name, made known to reportlab. Raises OutsideError where it is not installed."""
    # Of its glyphs only those go into a book that the book prints.
    face = TTFont(font, str(font_file(font)), asciiReadable=False)
    pdfmetrics.registerFont(face)
    return face


@lru_cache(maxsize=65536)
def width_of(words: str, font: str, size: float) -> float:
    """The width of words in points, their kerning with it."""
    kerning = sum(added for _, added in kerning_of(words, font))
    return float(load(font).stringWidth(words, size)) + kerning * size / 1000


@cache
def cap_height(font: str) -> float:
    """The height of capitals as a share of the size, measured on the letter H."""
    return float(load(font).face.capHeight) / 1000
