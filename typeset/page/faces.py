"""The typefaces: OFL TrueType files from their PyPI packages, and how wide words are in them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.util import find_spec
from pathlib import Path

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from ..problem import OutsideError
from ..style.model import Family


@dataclass(frozen=True, slots=True)
class Cuts:
    """A family's printed name, and its cuts by the names of their files, without `.ttf`."""

    name: str
    light: str
    regular: str
    italic: str
    strong: str
    strong_italic: str


_PACKAGES = {
    "SourceSerifPro": "font_source_serif_pro",
    "SourceSansPro": "font_source_sans_pro",
    "Lato": "font_lato",
}


def _source(stem: str, name: str) -> Cuts:
    return Cuts(name, *(f"{stem}-{cut}" for cut in ("Light", "Regular", "It", "Semibold", "SemiboldIt")))


CUTS: dict[Family, Cuts] = {
    "source-serif": _source("SourceSerifPro", "Source Serif"),
    "source-sans": _source("SourceSansPro", "Source Sans"),
    "lato": Cuts("Lato", "Lato-Light", "Lato-Regular", "Lato-Italic", "Lato-Bold", "Lato-BoldItalic"),
}


@cache
def load(font: str) -> TTFont:
    """A font by its file's name, made known to reportlab. Raises OutsideError where it is not installed."""
    package = _PACKAGES[font.partition("-")[0]]
    found = find_spec(package)
    if found is None or found.origin is None:
        name = package.replace("_", "-")
        raise OutsideError(f"the fonts of the package {name} are missing; install it again")
    face = TTFont(font, str(Path(found.origin).parent / "files" / f"{font}.ttf"))
    pdfmetrics.registerFont(face)
    return face


@lru_cache(maxsize=65536)
def width_of(words: str, font: str, size: float) -> float:
    """The width of words in points."""
    return float(load(font).stringWidth(words, size))


@cache
def cap_height(font: str) -> float:
    """The height of capitals as a share of the size, measured on the letter H."""
    return float(load(font).face.capHeight) / 1000
