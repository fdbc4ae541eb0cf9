"""Drawing: marks become the operators of a PDF's page, in greys only, the same every time."""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import cache, lru_cache

from .marks import (
    NOTHING,
    Anchor,
    Begins,
    Box,
    Code,
    Curve,
    Dot,
    Drawn,
    Entry,
    Link,
    Mark,
    Music,
    Role,
    Rule,
    Words,
)
from .strings import shown

# How long the handles of a quarter circle are for its radius: as near as one Bézier curve comes to it.
_HANDLE = 4 / 3 * (math.sqrt(2) - 1)
_END = "EMC"


def drawn(marks: Iterable[Mark], before: Drawn = NOTHING) -> Drawn:
    """Marks as they are drawn, after what was drawn `before` from the same point.

    Raises MissingCharacters where a face lacks a character.
    """
    pen = _Pen(before)
    for mark in marks:
        pen.draw(mark)
    return pen.drawn()


class _Pen:
    """Draws mark after mark, with up as PDF has it: below the point that is measured from, y is negative."""

    def __init__(self, before: Drawn) -> None:
        self._content = [before.content.removesuffix(f"\n{_END}")] if before.sections else []
        self._sections = list(before.sections)
        self._announced: Begins | None = Begins(Role.TEXT)
        self._music = list(before.music)
        self._links = list(before.links)
        self._places = list(before.places)
        self._glyphs = {font: set(characters) for font, characters in before.glyphs}

    def drawn(self) -> Drawn:
        """Everything that was drawn."""
        end = [_END] if self._sections else []
        return Drawn(
            "\n".join([*self._content, *end]),
            tuple(self._sections),
            tuple(self._music),
            tuple(self._links),
            tuple(self._places),
            tuple((font, "".join(sorted(self._glyphs[font]))) for font in sorted(self._glyphs)),
        )

    def draw(self, mark: Mark) -> None:
        """Draw a mark."""
        if self._announced is not None and not isinstance(mark, Begins | Anchor | Entry):
            self._begin(self._announced)
        match mark:
            case Words():
                self._words(mark)
            case Begins():
                self._announced = mark
            case Rule():
                self._rule(mark)
            case Dot():
                self._curve(_circle(mark))
            case Box(x0, y0, x1, y1, thickness, ink):
                corner = f"{x0:.2f} {-y1:.2f} {x1 - x0:.2f} {y1 - y0:.2f}"
                self._content.append(f"{_grey(ink)} G {thickness:.2f} w [] 0 d {corner} re S")
            case Curve():
                self._curve(mark)
            case Code():
                self._code(mark)
            case Music():
                self._music.append((mark, len(self._sections) - 1))
            case Link():
                self._links.append((mark, len(self._sections) - 1))
            case Anchor() | Entry():
                self._places.append(mark)

    def _begin(self, section: Begins) -> None:
        """Begin a section that was announced, now that something of it is drawn."""
        if self._sections:
            self._content.append(_END)
        self._content.append(f"/{section.role.value} <</MCID {len(self._sections)}>> BDC")
        self._sections.append(section)
        self._announced = None

    def _words(self, mark: Words) -> None:
        """Words, of which a book has few and many times: all but their place is written once."""
        # What is read aloud or copied needs a space where words end; letters under a staff stand for themselves.
        stands_alone = mark.joined or self._sections[-1].role is Role.FIGURE
        ending = "" if stands_alone or mark.words.endswith("-") else " "
        before, after = _around(mark.words, mark.font, mark.size, mark.ink, ending)
        self._content.append(f"{before} {mark.x:.2f} {-mark.y:.2f} {after}")
        self._glyphs.setdefault(mark.font, set()).update(mark.words, ending)

    def _rule(self, mark: Rule) -> None:
        dash = f"1 J [0 {mark.dots:g}] 0 d" if mark.dots else "0 J [] 0 d"
        ends = f"{mark.x0:.2f} {-mark.y0:.2f} m {mark.x1:.2f} {-mark.y1:.2f} l"
        self._content.append(f"{_grey(mark.ink)} G {mark.thickness:.2f} w {dash} {ends} S")

    def _curve(self, mark: Curve) -> None:
        start, *rest = (f"{x:.2f} {-y:.2f}" for x, y in mark.points)
        ways = " ".join(f"{' '.join(rest[at : at + 3])} c" for at in range(0, len(rest), 3))
        line = f"{_grey(mark.ink)} G {mark.thickness:.2f} w 0 J [] 0 d " if mark.thickness else ""
        inside = "" if mark.fill is None else f"{_grey(mark.fill)} g "
        # Closed and filled and lined, filled alone, or lined alone (ISO 32000-1, 8.5.3).
        paint = ("h B" if mark.thickness else "h f") if inside else "S"
        self._content.append(f"{line}{inside}{start} m {ways} {paint}")

    def _code(self, mark: Code) -> None:
        """All of a code is one path, so that no fine white lines show between its modules."""
        dark = " ".join(f"{column} {row} {count} 1 re" for row, column, count in mark.dark)
        self._content.append(f"q 0 g {mark.size:.5f} 0 0 {-mark.size:.5f} {mark.x:.3f} {-mark.y:.3f} cm {dark} f Q")


@lru_cache(maxsize=65536)
def _around(words: str, font: str, size: float, ink: float, ending: str) -> tuple[str, str]:
    """What stands before and after the place of words."""
    return f"BT {_grey(ink)} g", f"Td {shown(words, font, size, ending)} ET"


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
