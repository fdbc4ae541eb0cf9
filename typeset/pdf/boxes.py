"""The boxes of a page, and the crop marks outside of them."""

from __future__ import annotations

from functools import lru_cache

from pypdf.generic import DictionaryObject, NameObject

from ..style.paper import Press
from .ready import Ready, array, real

_POINTS = 72 / 25.4
"""Points in a millimetre."""

# In millimetres; common practice, no source: marks stand clear of the trim, and of the bleed where that is wider.
_CLEAR, _LENGTH, _BEYOND = 3.0, 5.0, 1.0

_THICKNESS = 0.25
"""Of a crop mark, in points."""


def set_boxes(page: DictionaryObject, width: float, height: float, press: Press) -> None:
    """Set a page's boxes (ISO 32000-1, 14.11.2) for a trimmed page of `width` by `height` points.

    The trimmed page begins at 0, 0, so what lies outside of it has negative coordinates on two sides.
    """
    page[NameObject("/TrimBox")] = _grown(width, height, 0)
    page[NameObject("/BleedBox")] = _grown(width, height, press.bleed * _POINTS)
    page[NameObject("/MediaBox")] = page[NameObject("/CropBox")] = _grown(width, height, _around(press))


def crop_marks(width: float, height: float, press: Press) -> str:
    """What draws the crop marks, two at each corner, in DeviceGray; nothing where the style asks for none."""
    if not press.crop_marks:
        return ""
    near = _clear(press) * _POINTS
    far = near + _LENGTH * _POINTS
    lines = []
    for x, outward in ((0.0, -1), (width, 1)):
        lines += [(x + outward * near, y, x + outward * far, y) for y in (0.0, height)]
    for y, outward in ((0.0, -1), (height, 1)):
        lines += [(x, y + outward * near, x, y + outward * far) for x in (0.0, width)]
    drawn = "".join(f"{x0:.3f} {y0:.3f} m {x1:.3f} {y1:.3f} l S\n" for x0, y0, x1, y1 in lines)
    return f"/Artifact BMC q 0 G {_THICKNESS} w 0 J [] 0 d\n{drawn}Q EMC\n"


def _clear(press: Press) -> float:
    return max(press.bleed, _CLEAR)


def _around(press: Press) -> float:
    """How far the sheet reaches over the trimmed page on each side, in points."""
    marked = _clear(press) + _LENGTH + _BEYOND
    return (marked if press.crop_marks else press.bleed) * _POINTS


@lru_cache(maxsize=64)
def _grown(width: float, height: float, by: float) -> Ready:
    by = round(by, 3)
    return Ready(array(map(real, (-by or 0, -by or 0, round(width, 3) + by, round(height, 3) + by))))
