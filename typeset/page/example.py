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
"""How much longer than its room a line may be: points here, millimetres where one is chosen."""


def example(book: Book, setting: Setting) -> Iterator[Piece]:
    """The first long line, its lines named in the margin; where that is too narrow, inside of the measure.

    A line that would have to be made smaller for that keeps its size, and its lines are named under it.
    """
    if not book.exercises:
        return
    indent = _indent(setting)
    exercise = _shown(book.exercises, (setting.measure - indent) / points(1), setting)
    system = exercise.systems[0]
    box = system_box(system, reach_of([system], setting), setting.measure, "the example", setting)
    is_beside = box.width <= setting.measure - indent + _ALLOWED_OVER
    indent = indent if is_beside else 0.0
    scale = min(1.0, (setting.measure - indent) / box.width)
    marks: list[Mark] = list(moved(scaled(box.marks, scale), indent))
    names = sorted(box.names, key=lambda one: one[1])
    words = [setting.words[f"pages.how-to-read.lines.{kind}"] for kind, _ in names]
    captions = [setting.words.say("pages.how-to-read.example", number=exercise.number)]
    if is_beside:
        marks += _beside(words, [middle * scale for _, middle in names], indent, setting)
    else:
        captions.append(setting.words.say("pages.how-to-read.from-top", names=", ".join(words)))
    size = setting.style.type.instruction
    y = box.height * scale + setting.style.type.small * 2.2
    for number, caption in enumerate(captions):
        if number:
            y += size * 1.28
        marks.append(Words(indent, y, caption, setting.text.italic, size, setting.style.greys.quiet))
    yield Piece(setting.rounded(y), tuple(marks), setting.unit * 5, setting.unit * 4)


def _beside(names: Sequence[str], middles: Sequence[float], indent: float, setting: Setting) -> Iterator[Mark]:
    """Names that end a little before the music, each at the height of its line."""
    font, size, ink = setting.letters.regular, setting.style.type.small, setting.style.greys.quiet
    for words, middle in zip(names, middles, strict=True):
        x = indent - points(NUMBER_GAP) - width_of(words, font, size)
        yield Words(x, middle + size * cap_height(font) / 2, words, font, size, ink)


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
