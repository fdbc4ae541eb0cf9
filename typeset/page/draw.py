"""The one place that draws: pages of marks become a PDF, in greys only, the same bytes every time."""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping, Sequence

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas

from .faces import load
from .kerning import kerning_of
from .marks import Anchor, Begins, Box, Code, Curve, Dot, Entry, Link, Mark, Music, Role, Rule, Words
from .pages import Bounds, Crossing, Heading, Place, Placement
from .repertoire import refuse_uncovered

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
            pageCompression=1,
            initialFontName=first_font,
        )
        self._height = height
        self._page = 0
        self._known: dict[tuple[str, str], tuple[tuple[str, str], ...]] = {}
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
            self._canvas.addLiteral("EMC")
        self.sections.append(tuple(self._sections))
        self._sections = []
        self._canvas.showPage()
        self._page += 1

    def pdf(self) -> bytes:
        """Everything that was drawn."""
        self._canvas.save()
        return self._paper.getvalue()

    def _section(self) -> int:
        """The section that is being drawn, begun here if it was only announced."""
        if self._announced:
            if self._sections:
                self._canvas.addLiteral("EMC")
            self._canvas.addLiteral(f"/{self._announced.role.value} <</MCID {len(self._sections)}>> BDC")
            self._sections.append(self._announced)
            self._announced = None
        return len(self._sections) - 1

    def _draw(self, mark: Mark, left: float, top: float) -> None:
        if isinstance(mark, Begins):
            self._announced = mark
            return
        section = -1 if isinstance(mark, Anchor | Entry) else self._section()
        match mark:
            case Words():
                self._words(mark, left + mark.x, top - mark.y)
            case Rule():
                self._rule(mark, left, top)
            case Dot():
                self._canvas.setFillGray(_grey(mark.ink))
                self._canvas.circle(left + mark.x, top - mark.y, mark.radius, stroke=0, fill=1)
            case Box(x0, y0, x1, y1, thickness, ink):
                corner = f"{left + x0:.2f} {top - y1:.2f} {x1 - x0:.2f} {y1 - y0:.2f}"
                self._canvas.addLiteral(f"{_grey(ink):g} G {thickness:.2f} w [] 0 d {corner} re S")
            case Curve():
                self._curve(mark, left, top)
            case Code():
                self._code(mark, left + mark.x, top - mark.y)
            case Music():
                place = Placement(self._page, mark.engraving, left + mark.x, top - mark.y, mark.scale, section)
                self.placements.append(place)
            case Link():
                box = (left + mark.x0, top - mark.y1, left + mark.x1, top - mark.y0)
                self._links.append((self._page, box, mark, section))
            case Anchor():
                self._places[mark.name] = Place(self._page, top - mark.y + _ABOVE)
            case Entry():
                self.headings.append(Heading(mark.depth, mark.words, self._page, top - mark.y + _ABOVE))

    def _words(self, mark: Words, x: float, y: float) -> None:
        """Written out here: asking the library for each of a book's many letters takes half of all its time."""
        # What is read aloud or copied needs a space where words end; letters under a staff stand for themselves.
        stands_alone = self._sections[-1].role is Role.FIGURE or mark.joined or mark.words.endswith("-")
        words = mark.words if stands_alone else f"{mark.words} "
        shown = " ".join(f"/{font} {mark.size:.2f} Tf {string}" for font, string in self._strings(mark.font, words))
        self._canvas.addLiteral(f"BT {_grey(mark.ink):g} g {x:.2f} {y:.2f} Td {shown} ET")

    def _strings(self, face: str, words: str) -> tuple[tuple[str, str], ...]:
        """How words are shown, part by part, each with the name of the part of a font that has its glyphs."""
        key = face, words
        if key not in self._known:
            refuse_uncovered(words, face)
            font, document = load(face), self._canvas._doc
            kerning = dict(kerning_of(words, face))
            shown: list[tuple[str, str]] = []
            start = 0
            for part, codes in font.splitString(words, document):
                added = {place - start: kerning[place] for place in kerning if start <= place < start + len(codes)}
                shown.append((font.getSubsetInternalName(part, document).lstrip("/"), _shown(codes, added)))
                start += len(codes)
            self._known[key] = tuple(shown)
        return self._known[key]

    def _rule(self, mark: Rule, left: float, top: float) -> None:
        dash = f"1 J [0 {mark.dots:g}] 0 d" if mark.dots else "0 J [] 0 d"
        ends = f"{left + mark.x0:.2f} {top - mark.y0:.2f} m {left + mark.x1:.2f} {top - mark.y1:.2f} l"
        self._canvas.addLiteral(f"{_grey(mark.ink):g} G {mark.thickness:.2f} w {dash} {ends} S")

    def _curve(self, mark: Curve, left: float, top: float) -> None:
        start, *rest = (f"{left + x:.2f} {top - y:.2f}" for x, y in mark.points)
        ways = " ".join(f"{' '.join(rest[at : at + 3])} c" for at in range(0, len(rest), 3))
        line = f"{_grey(mark.ink):g} G {mark.thickness:.2f} w 0 J [] 0 d " if mark.thickness else ""
        inside = "" if mark.fill is None else f"{_grey(mark.fill):g} g "
        # Closed and filled and lined, filled alone, or lined alone (ISO 32000-1, 8.5.3).
        paint = ("h B" if mark.thickness else "h f") if inside else "S"
        self._canvas.addLiteral(f"{line}{inside}{start} m {ways} {paint}")

    def _code(self, mark: Code, x: float, y: float) -> None:
        """All of a code is one path, so that no fine white lines show between its modules."""
        dark = " ".join(f"{column} {row} {count} 1 re" for row, column, count in mark.dark)
        self._canvas.addLiteral(f"q 0 g {mark.size:.5f} 0 0 {-mark.size:.5f} {x:.3f} {y:.3f} cm {dark} f Q")

    @property
    def links(self) -> tuple[Crossing, ...]:
        """The boxes that lead elsewhere, of those that lead to something that was drawn."""
        return tuple(self._crossings())

    def _crossings(self) -> Iterator[Crossing]:
        for page, box, mark, section in self._links:
            to = mark.to if mark.outside else self._places.get(mark.to)
            if to is not None:
                yield Crossing(page, box, to, section)


_ESCAPED = {code: chr(code) if 32 <= code < 127 else f"\\{code:03o}" for code in range(256)} | {
    ord(mark): f"\\{mark}" for mark in "()\\"
}


def _shown(codes: bytes, added: Mapping[int, float]) -> str:
    """Bytes as they are shown, nearer together or farther apart after some of them (ISO 32000-1, 9.4.3)."""
    if not added:
        return f"{_string(codes)} Tj"
    ends = [place + 1 for place in sorted(added)]
    pieces = (
        f"{_string(codes[start:end])}{-added[end - 1]:g}" for start, end in zip([0, *ends], ends, strict=False)
    )
    return f"[{''.join(pieces)}{_string(codes[ends[-1] :])}] TJ"


def _string(codes: bytes) -> str:
    """Bytes as a string in a page's content."""
    return f"({''.join(map(_ESCAPED.__getitem__, codes))})"


def _grey(ink: float) -> float:
    """DeviceGray counts light: 0 is black."""
    return round(1 - ink / 100, 4)
