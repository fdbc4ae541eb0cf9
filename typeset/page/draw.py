"""Printing: pages that were drawn are put together, the same bytes every time."""

from __future__ import annotations

import io
from collections.abc import Iterator

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from .codes import add_fonts
from .faces import load
from .marks import Anchor, Begins, Drawn, Link
from .pages import Bounds, Crossing, Heading, Place, Placement

_ABOVE = 12.0
"""How far above a baseline a reader's window begins that was led there, in points."""


class Press:
    """Puts page after page together. Marks are measured from the text block's top left corner."""

    def __init__(self, width: float, height: float, first_font: str) -> None:
        self._size = width, height
        self._first_font = first_font
        self._contents: list[str] = []
        self._glyphs: dict[str, set[str]] = {first_font: set()}
        self.sections: list[tuple[Begins, ...]] = []
        self._links: list[tuple[int, Bounds, Link, int]] = []
        self._places: dict[str, Place] = {}
        self.placements: list[Placement] = []
        self.headings: list[Heading] = []

    def page(self, one: Drawn, left: float, top: float) -> None:
        """Add a page whose text block begins `left` points in and `top` points down."""
        page, top = len(self._contents), self._size[1] - top
        self._contents.append(f"1 0 0 1 {left:.3f} {top:.3f} cm\n{one.content}" if one.content else "")
        self.sections.append(one.sections)
        for font, characters in one.glyphs:
            self._glyphs.setdefault(font, set()).update(characters)
        self.placements += (
            Placement(page, music.engraving, left + music.x, top - music.y, music.scale, section)
            for music, section in one.music
        )
        self._links += (
            (page, (left + link.x0, top - link.y1, left + link.x1, top - link.y0), link, section)
            for link, section in one.links
        )
        self._find(one, page, top)

    def _find(self, one: Drawn, page: int, top: float) -> None:
        """Note where the places of a page are that something leads to."""
        for place in one.places:
            y = top - place.y + _ABOVE
            if isinstance(place, Anchor):
                self._places[place.name] = Place(page, y)
            else:
                self.headings.append(Heading(place.depth, place.words, page, y))

    @property
    def contents(self) -> tuple[bytes, ...]:
        """What draws each page."""
        return tuple(content.encode("ascii") for content in self._contents)

    def fonts(self) -> bytes:
        """A PDF of one blank page that has every font of all pages."""
        load(self._first_font)
        # Streams go into another program next; writing them as printable characters only costs time.
        rl_config.useA85 = 0
        paper = io.BytesIO()
        canvas = Canvas(
            paper,
            pagesize=self._size,
            invariant=1,
            pageCompression=1,
            initialFontName=self._first_font,
        )
        add_fonts(canvas._doc, self._glyphs)
        canvas.showPage()
        canvas.save()
        return paper.getvalue()

    @property
    def links(self) -> tuple[Crossing, ...]:
        """The boxes that lead elsewhere, of those that lead to something that was drawn."""
        return tuple(self._crossings())

    def _crossings(self) -> Iterator[Crossing]:
        for page, box, mark, section in self._links:
            to = mark.to if mark.outside else self._places.get(mark.to)
            if to is not None:
                yield Crossing(page, box, to, section)
