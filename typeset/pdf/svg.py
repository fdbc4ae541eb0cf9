"""A page as SVG: lines, shapes and glyphs as outlines, exactly where the PDF has them.

It reads the operators that our own pages and blocks are written with (ISO 32000-1, 8 and 9), which are few; text
becomes outlines, so no font is needed to see it.
"""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Any

from pypdf import PdfReader
from pypdf.generic import ContentStream

from .outlines import Face

Matrix = tuple[float, float, float, float, float, float]
UNMOVED: Matrix = (1, 0, 0, 1, 0, 0)

_CAPS = ("butt", "round", "square")
_JOINS = ("miter", "round", "bevel")


def times(first: Matrix, second: Matrix) -> Matrix:
    """The matrix that does the first and then the second."""
    a, b, c, d, e, f = first
    g, h, i, j, k, m = second
    return a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m


@dataclass(frozen=True)
class _State:
    """The graphics state, as far as we write it."""

    matrix: Matrix = UNMOVED
    fill: float = 0.0
    line: float = 0.0
    width: float = 1.0
    cap: int = 0
    join: int = 0
    dash: str = ""


@dataclass
class _Drawing:
    """A page while it is drawn."""

    shapes: list[str] = field(default_factory=list)
    glyphs: dict[tuple[int, int], tuple[int, str]] = field(default_factory=dict)
    faces: dict[int, Face] = field(default_factory=dict)


def first_page_as_svg(pdf: bytes) -> bytes:
    """The first page of one of our PDFs as an SVG, a point of the page a unit of the picture."""
    reader = PdfReader(io.BytesIO(pdf))
    page = reader.pages[0]
    width, height = float(page.mediabox.width), float(page.mediabox.height)
    drawing = _Drawing()
    start = _State(matrix=(1, 0, 0, -1, -float(page.mediabox.left), height + float(page.mediabox.bottom)))
    contents = page.get_contents()
    if contents is not None:
        _Painter(drawing, page["/Resources"].get_object(), reader, start).paint(contents)
    symbols = "".join(f'<path id="g{number}" d="{path}"/>' for number, path in drawing.glyphs.values())
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:g}pt" height="{height:g}pt" '
        f'viewBox="0 0 {width:g} {height:g}"><defs>{symbols}</defs>{"".join(drawing.shapes)}</svg>\n'
    ).encode()


class _Painter:
    """Draws one content stream."""

    def __init__(self, drawing: _Drawing, resources: Any, reader: PdfReader, state: _State) -> None:
        self.drawing = drawing
        self.resources = resources
        self.reader = reader
        self.state = state
        self.kept: list[_State] = []
        self.path: list[str] = []
        self.text: Matrix = UNMOVED
        self.text_line: Matrix = UNMOVED
        self.leading = 0.0
        self.face: Face | None = None
        self.size = 1.0

    def paint(self, contents: Any) -> None:
        """Draw everything that a stream says."""
        for operands, operator in ContentStream(contents, self.reader).operations:
            action = _ACTIONS.get(operator)
            if action:
                action(self, operands)

    def keep(self, _: Any) -> None:
        self.kept.append(self.state)

    def go_back(self, _: Any) -> None:
        self.state = self.kept.pop()

    def move(self, by: Any) -> None:
        self.state = replace(self.state, matrix=times(_matrix(by), self.state.matrix))

    def set(self, **values: Any) -> None:
        self.state = replace(self.state, **values)

    def draw_form(self, operands: Any) -> None:
        form = self.resources["/XObject"][operands[0]].get_object()
        if form["/Subtype"] != "/Form":
            return
        matrix = _matrix(form.get("/Matrix", UNMOVED))
        state = replace(self.state, matrix=times(matrix, self.state.matrix))
        resources = form.get("/Resources", self.resources).get_object()
        _Painter(self.drawing, resources, self.reader, state).paint(form)

    def add(self, command: str, operands: Any) -> None:
        self.path.append(command + " ".join(f"{float(number):g}" for number in operands))

    def add_rectangle(self, operands: Any) -> None:
        x, y, width, height = (float(number) for number in operands)
        self.path.append(f"M{x:g} {y:g}h{width:g}v{height:g}h{-width:g}z")

    def end_path(self, fills: bool, strokes: bool, closes: bool = False) -> None:
        path = "".join(self.path) + ("z" if closes else "")
        self.path = []
        if not path or not (fills or strokes):
            return
        state = self.state
        paint = f'fill="{_grey(state.fill)}"' if fills else 'fill="none"'
        if strokes:
            paint += f' stroke="{_grey(state.line)}" stroke-width="{state.width:g}"'
            paint += f' stroke-linecap="{_CAPS[state.cap]}" stroke-linejoin="{_JOINS[state.join]}"'
            paint += f' stroke-dasharray="{state.dash}"' if state.dash else ""
        self.drawing.shapes.append(f'<path transform="{_written(state.matrix)}" {paint} d="{path}"/>')

    def begin_text(self, _: Any) -> None:
        self.text = self.text_line = UNMOVED

    def take_font(self, operands: Any) -> None:
        font = self.resources["/Font"][operands[0]].get_object()
        if id(font) not in self.drawing.faces:
            self.drawing.faces[id(font)] = Face(font)
        self.face, self.size = self.drawing.faces[id(font)], float(operands[1])

    def set_text(self, operands: Any) -> None:
        self.text = self.text_line = _matrix(operands)

    def next_line(self, x: float, y: float) -> None:
        self.text = self.text_line = times((1, 0, 0, 1, x, y), self.text_line)

    def show(self, parts: Any) -> None:
        """Draw strings one after the other; a number between them moves back by thousandths of the size."""
        for part in parts:
            if isinstance(part, (int, float)):
                self.advance(-float(part) / 1000)
            else:
                self.show_string(part.original_bytes if hasattr(part, "original_bytes") else bytes(part))

    def show_string(self, text: bytes) -> None:
        assert self.face is not None  # text is shown in a font
        for code, glyph in self.face.glyphs(text):
            if glyph.path:
                number = self._number_of(code, glyph.path)
                scale = self.size * self.face.scale
                place = times(times((scale, 0, 0, scale, 0, 0), self.text), self.state.matrix)
                self.drawing.shapes.append(
                    f'<use href="#g{number}" transform="{_written(place)}" fill="{_grey(self.state.fill)}"/>'
                )
            self.advance(glyph.advance)

    def _number_of(self, code: int, path: str) -> int:
        known = self.drawing.glyphs
        number, _ = known.setdefault((id(self.face), code), (len(known), path))
        return number

    def advance(self, by: float) -> None:
        self.text = times((1, 0, 0, 1, by * self.size, 0), self.text)


def _matrix(numbers: Any) -> Matrix:
    a, b, c, d, e, f = (float(number) for number in numbers)
    return a, b, c, d, e, f


def _written(matrix: Matrix) -> str:
    return f"matrix({' '.join(f'{number:.6g}' for number in matrix)})"


def _grey(lightness: float) -> str:
    part = round(255 * lightness)
    return f"#{part:02x}{part:02x}{part:02x}"


_ACTIONS: dict[bytes, Callable[[_Painter, Any], None]] = {
    b"q": _Painter.keep,
    b"Q": _Painter.go_back,
    b"cm": _Painter.move,
    b"g": lambda painter, given: painter.set(fill=float(given[0])),
    b"G": lambda painter, given: painter.set(line=float(given[0])),
    b"w": lambda painter, given: painter.set(width=float(given[0])),
    b"J": lambda painter, given: painter.set(cap=int(given[0])),
    b"j": lambda painter, given: painter.set(join=int(given[0])),
    b"d": lambda painter, given: painter.set(dash=" ".join(f"{float(part):g}" for part in given[0])),
    b"Do": _Painter.draw_form,
    b"m": lambda painter, given: painter.add("M", given),
    b"l": lambda painter, given: painter.add("L", given),
    b"c": lambda painter, given: painter.add("C", given),
    b"h": lambda painter, given: painter.add("z", given),
    b"re": _Painter.add_rectangle,
    b"f": lambda painter, _: painter.end_path(True, False),
    b"S": lambda painter, _: painter.end_path(False, True),
    b"s": lambda painter, _: painter.end_path(False, True, closes=True),
    b"B": lambda painter, _: painter.end_path(True, True),
    b"n": lambda painter, _: painter.end_path(False, False),
    b"BT": _Painter.begin_text,
    b"Tf": _Painter.take_font,
    b"Tm": _Painter.set_text,
    b"Td": lambda painter, given: painter.next_line(float(given[0]), float(given[1])),
    b"TL": lambda painter, given: setattr(painter, "leading", float(given[0])),
    b"T*": lambda painter, _: painter.next_line(0, -painter.leading),
    b"Tj": lambda painter, given: painter.show(given),
    b"TJ": lambda painter, given: painter.show(given[0]),
}
