"""The one place that draws: pages of marks become a PDF, in greys only, the same bytes every time."""

from __future__ import annotations

import io
import math
from collections.abc import Iterator, Sequence
from functools import cache

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from .faces import load
from .marks import Anchor, Begins, Box, Code, Curve, Dot, Entry, Link, Mark, Music, Role, Rule, Words
from .pages import Bounds, Crossing, Heading, Place, Placement
from .strings import Strings

# How long the handles of a quarter circle are for its radius: as near as one Bézier curve comes to it.
_HANDLE = 4 / 3 * (math.sqrt(2) - 1)
_ABOVE = 12.0
"""How far above a baseline a reader's window begins that was led there, in points."""


class Press:
    """Draws page after page. Marks are measured from the text block's top left corner."""

    def __init__(self, width: float, height: float, first_font: str) -> None:
        load(first_font)
        # Streams go into another program next; writing them as printable characters only costs time.
        rl_config.useA85 = 0
        self._paper = io.BytesIO()
        self._canvas = Canvas(
            self._paper,
            pagesize=(width, height),
            invariant=1,
            pageCompression=0,  # done when they are bound, with the music on them
            initialFontName=first_font,
        )
        self._height = height
        self._page = 0
        self._content: list[str] = []
        self._strings = Strings(self._canvas._doc)
        self._shown: dict[tuple[str, str, float, float, bool], tuple[str, str]] = {}
        self._announced: Begins | None = None
        self._sections: list[Begins] = []
        self.sections: list[tuple[Begins, ...]] = []
        self._links: list[tuple[int, Bounds, Link, int]] = []
        self._places: dict[str, Place] = {}
        self.placements: list[Placement] = []
        self.headings: list[Heading] = []

    def page(self, marks: Sequence[Mark], left: float, top: float) -> None:
        """Draw a page whose text block begins `left` points in and `top` points down."""
        self._announced = Begins(Role.TEXT)
        for mark in marks:
            self._draw(mark, left, self._height - top)
        if self._sections:
            self._content.append("EMC")
        self.sections.append(tuple(self._sections))
        self._sections = []
        # All at once: asking the library for each of a book's many letters takes half of all its time.
        self._canvas.addLiteral("\n".join(self._content))
        self._content = []
        self._canvas.showPage()
        self._page += 1

    def pdf(self) -> bytes:
        """Everything that was drawn."""
        self._canvas.setPageCompression(1)  # of what is added last, the fonts
        self._canvas.save()
        return self._paper.getvalue()

    def _begin(self, section: Begins) -> None:
        """Begin a section that was announced, now that something of it is drawn."""
        if self._sections:
            self._content.append("EMC")
        self._content.append(f"/{section.role.value} <</MCID {len(self._sections)}>> BDC")
        self._sections.append(section)
        self._announced = None

    def _draw(self, mark: Mark, left: float, top: float) -> None:
        if self._announced is not None and not isinstance(mark, Begins | Anchor | Entry):
            self._begin(self._announced)
        match mark:
            case Words():
                self._words(mark, left + mark.x, top - mark.y)
            case Begins():
                self._announced = mark
            case Rule():
                self._rule(mark, left, top)
            case Dot():
                self._curve(_circle(mark), left, top)
            case Box(x0, y0, x1, y1, thickness, ink):
                corner = f"{left + x0:.2f} {top - y1:.2f} {x1 - x0:.2f} {y1 - y0:.2f}"
                self._content.append(f"{_grey(ink)} G {thickness:.2f} w [] 0 d {corner} re S")
            case Curve():
                self._curve(mark, left, top)
            case Code():
                self._code(mark, left + mark.x, top - mark.y)
            case Music():
                x, y = left + mark.x, top - mark.y
                self.placements.append(Placement(self._page, mark.engraving, x, y, mark.scale, self._section))
            case Link():
                box = (left + mark.x0, top - mark.y1, left + mark.x1, top - mark.y0)
                self._links.append((self._page, box, mark, self._section))
            case Anchor():
                self._places[mark.name] = Place(self._page, top - mark.y + _ABOVE)
            case Entry():
                self.headings.append(Heading(mark.depth, mark.words, self._page, top - mark.y + _ABOVE))

    @property
    def _section(self) -> int:
        """The section that is being drawn."""
        return len(self._sections) - 1

    def _words(self, mark: Words, x: float, y: float) -> None:
        """Words, of which a book has few and many times: all but their place is written once."""
        # What is read aloud or copied needs a space where words end; letters under a staff stand for themselves.
        stands_alone = mark.joined or self._sections[-1].role is Role.FIGURE
        key = mark.words, mark.font, mark.size, mark.ink, stands_alone
        before, after = self._shown.get(key) or self._shown.setdefault(key, self._around(mark, stands_alone))
        self._content.append(f"{before} {x:.2f} {y:.2f} {after}")

    def _around(self, mark: Words, stands_alone: bool) -> tuple[str, str]:
        """What stands before and after the place of words."""
        ending = "" if stands_alone or mark.words.endswith("-") else " "
        return f"BT {_grey(mark.ink)} g", f"Td {self._strings.shown(mark.words, mark.font, mark.size, ending)} ET"

    def _rule(self, mark: Rule, left: float, top: float) -> None:
        dash = f"1 J [0 {mark.dots:g}] 0 d" if mark.dots else "0 J [] 0 d"
        ends = f"{left + mark.x0:.2f} {top - mark.y0:.2f} m {left + mark.x1:.2f} {top - mark.y1:.2f} l"
        self._content.append(f"{_grey(mark.ink)} G {mark.thickness:.2f} w {dash} {ends} S")

    def _curve(self, mark: Curve, left: float, top: float) -> None:
        start, *rest = (f"{left + x:.2f} {top - y:.2f}" for x, y in mark.points)
        ways = " ".join(f"{' '.join(rest[at : at + 3])} c" for at in range(0, len(rest), 3))
        line = f"{_grey(mark.ink)} G {mark.thickness:.2f} w 0 J [] 0 d " if mark.thickness else ""
        inside = "" if mark.fill is None else f"{_grey(mark.fill)} g "
        # Closed and filled and lined, filled alone, or lined alone (ISO 32000-1, 8.5.3).
        paint = ("h B" if mark.thickness else "h f") if inside else "S"
        self._content.append(f"{line}{inside}{start} m {ways} {paint}")

    def _code(self, mark: Code, x: float, y: float) -> None:
        """All of a code is one path, so that no fine white lines show between its modules."""
        dark = " ".join(f"{column} {row} {count} 1 re" for row, column, count in mark.dark)
        self._content.append(f"q 0 g {mark.size:.5f} 0 0 {-mark.size:.5f} {x:.3f} {y:.3f} cm {dark} f Q")

    @property
    def links(self) -> tuple[Crossing, ...]:
        """The boxes that lead elsewhere, of those that lead to something that was drawn."""
        return tuple(self._crossings())

    def _crossings(self) -> Iterator[Crossing]:
        for page, box, mark, section in self._links:
            to = mark.to if mark.outside else self._places.get(mark.to)
            if to is not None:
                yield Crossing(page, box, to, section)


def _circle(dot: Dot) -> Curve:
    """A dot as four curves, one for each quarter of it."""
    ways = ((1, 0), (0, 1), (-1, 0), (0, -1))
    points = [(dot.x + dot.radius, dot.y)]
    for (x0, y0), (x1, y1) in zip(ways, (*ways[1:], ways[0]), strict=True):
        around = ((x0 + _HANDLE * x1, y0 + _HANDLE * y1), (x1 + _HANDLE * x0, y1 + _HANDLE * y0), (x1, y1))
        points += [(dot.x + dot.radius * x, dot.y + dot.radius * y) for x, y in around]
    return Curve(tuple(points), 0.0, fill=dot.ink)


@cache
def _grey(ink: float) -> str:
    """DeviceGray counts light: 0 is black."""
    return f"{round(1 - ink / 100, 4):g}"
