"""The families of type: OFL TrueType files from their PyPI packages. Nothing here draws."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib.util import find_spec
from pathlib import Path

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
def font_file(font: str) -> Path:
    """The file of a font by its name. Raises OutsideError where it is not installed."""
    package = _PACKAGES[font.partition("-")[0]]
    found = find_spec(package)
    if found is None or found.origin is None:
        name = package.replace("_", "-")
        raise OutsideError(f"the fonts of the package {name} are missing; install it again")
    return Path(found.origin).parent / "files" / f"{font}.ttf"
