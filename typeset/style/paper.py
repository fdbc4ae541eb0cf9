"""The page of a style and what becomes of it: its size, its margins, the press, the booklet."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from .part import Length, Millimetres, PageSide, Part, as_usual

# ISO 216 (A sizes) and ANSI/ASME Y14.1 (letter, and tabloid as its size B), in millimetres.
PAPERS = {
    "a3": (297.0, 420.0),
    "a4": (210.0, 297.0),
    "a5": (148.0, 210.0),
    "letter": (215.9, 279.4),
    "tabloid": (279.4, 431.8),
}


class Paper(Part):
    """The trimmed page: a name (`a3`, `a4`, `a5`, `letter`, `tabloid`), or a width and a height."""

    width: PageSide = 210.0
    """across the page"""
    height: PageSide = 297.0
    """from the page's head to its foot"""
    fitted: bool = False
    """cut every page to what stands on it and the margins; width and height are the most it may be"""

    @model_validator(mode="before")
    @classmethod
    def _by_name(cls, value: Any) -> Any:
        if not isinstance(value, str):
            return value
        if value.lower() not in PAPERS:
            raise ValueError(f"'{value}' is no paper; say {', '.join(PAPERS)}, or a width and a height")
        width, height = PAPERS[value.lower()]
        return {"width": width, "height": height}


class Gutter(Part):
    """How far the text block moves out of the spine as the book gets thicker."""

    every: Annotated[int, Field(ge=1, le=1000)] = 50
    """how many pages it takes for the gutter to grow,"""
    adds: Millimetres = 1.0
    """by this much each time,"""
    most: Millimetres = 8.0
    """and the most that it comes to"""

    def of(self, pages: int) -> float:
        """The gutter of a book of so many pages, in millimetres."""
        return min(self.most, pages // self.every * self.adds)


class Margins(Part):
    """Where the text block stands on the page. Margins and gutter move it; they never resize it."""

    top: Length = 24.0
    """from the page's head to the text block"""
    bottom: Length = 24.0
    """from the text block to the page's foot"""
    inner: Length = 20.0
    """from the spine to the music, before the gutter"""
    outer: Length = 12.0
    """the least that may be left on the other side; what is left is what paper, inner and measure leave"""
    gutter: Gutter = as_usual(Gutter)
    """what a thick book needs besides"""


class Press(Part):
    """What a printing house needs around the trimmed pages, and how many of them."""

    bleed: Millimetres = 0.0
    """how far a page reaches over its trim"""
    crop_marks: bool = False
    """lines outside of the trim that show where to cut"""
    pages_multiple: Annotated[int, Field(ge=1, le=64)] = 1
    """the number of pages is a multiple of this; blank ones at the end make it so"""


SheetName = Literal["a3", "a4", "a5", "letter", "tabloid"]


class Booklet(Part):
    """Two pages side by side on a sheet, and a booklet folded from such sheets."""

    sheet: SheetName = "a4"
    """the sheet in the printer, laid on its long side; pages that are too large for it are scaled down"""
    thickness: Annotated[float, Field(ge=0, le=1, allow_inf_nan=False), "mm"] = 0.1
    """of one sheet; it moves the pages of inner sheets to the fold, for a booklet that is trimmed"""
