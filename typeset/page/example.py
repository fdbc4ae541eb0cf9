"""The example that explains these pages: a line of the book, with its lines named beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..compose.book import Book, Exercise
from .breaking import Piece
from .faces import cap_height, width_of
from .head import NUMBER_GAP
from .marks import Mark, Words, moved, scaled
from .setting import Setting, points
from .system import reach_of, system_box

_LONG, _SHORT = 0.8, 0.5
"""How much of the measure a line takes that shows enough, and one that will do where it saves scaling."""

_EDGE = 5.0
"""Millimetres at a page's edge that nothing is printed on."""

_ALLOWED_OVER = 0.5


def example(book: Book, setting: Setting) -> Iterator[Piece]:
    """The first long line, its lines named in the margin; where that is too narrow, inside of the measure."""
    if not book.exercises:
        return
    indent = _indent(setting)
    room = setting.measure - indent
    exercise = _shown(book.exercises, room / points(1), setting)
    system = exercise.systems[0]
    box = system_box(system, reach_of([system], setting), setting.measure, "the example", setting)
    scale = min(1.0, room / box.width)
    marks: list[Mark] = list(moved(scaled(box.marks, scale), indent))
    font, size, ink = setting.letters.regular, setting.style.type.small, setting.style.greys.quiet
    for kind, middle in box.names:
        words = setting.words[f"pages.how-to-read.lines.{kind}"]
        x = indent - points(NUMBER_GAP) - width_of(words, font, size)
        marks.append(Words(x, middle * scale + size * cap_height(font) / 2, words, font, size, ink))
    caption = setting.words.say("pages.how-to-read.example", number=exercise.number)
    y = box.height * scale + size * 2.2
    marks.append(Words(indent, y, caption, setting.text.italic, setting.style.type.instruction, ink))
    yield Piece(setting.rounded(y), tuple(marks), setting.unit * 5, setting.unit * 4)


def _indent(setting: Setting) -> float:
    """How far the example moves in to make room for the names of its lines: not at all where they hang."""
    font, size = setting.letters.regular, setting.style.type.small
    key = "pages.how-to-read.lines."
    widest = max(width_of(setting.words[f"{key}{kind}"], font, size) for kind in ("staff", "sticking", "counting"))
    needed = widest + points(NUMBER_GAP)
    return 0.0 if needed <= points(setting.style.margins.inner - _EDGE) else needed


def _shown(exercises: Sequence[Exercise], room: float, setting: Setting) -> Exercise:
    """The first with a line long enough to show something, better one that needs no scaling to fit."""
    widths = [(one.systems[0].width, one) for one in exercises]
    measure = setting.style.spacing.measure
    for least in (_LONG * measure, _SHORT * measure):
        for width, one in widths:
            if least <= width <= room + _ALLOWED_OVER:
                return one
    return next((one for width, one in widths if width >= _LONG * measure), exercises[0])
