"""Rows of two columns: on the left a figure or a heading, on the right what there is to say about it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .breaking import Piece
from .faces import cap_height
from .flow import baseline_in, body_look, text_pieces
from .marks import Mark, Words, moved
from .setting import Setting, points

COLUMN = 44.0
"""The width of the left column in millimetres."""


@dataclass(frozen=True, slots=True)
class Figure:
    """Marks from their top left corner, and how tall they are; `middle` is what lines up with the text."""

    marks: tuple[Mark, ...]
    height: float
    middle: float


def words_figure(words: str, font: str, size: float, ink: float) -> Figure:
    """Words as a figure."""
    cap = size * cap_height(font)
    return Figure((Words(0, cap, words, font, size, ink),), cap, cap / 2)


def row(figure: Figure | None, text: str, setting: Setting, values: Mapping[str, str] | None = None) -> Piece:
    """A figure with its text: the figure's middle stands beside the middle of the first line."""
    look = body_look(setting)
    column = points(COLUMN)
    width = min(setting.text_width, setting.measure - column)
    middle = baseline_in(look) - look.size * cap_height(look.cuts.regular) / 2
    down = max(0.0, figure.middle - middle) if figure else 0.0
    marks: list[Mark] = []
    y = down
    for piece in text_pieces(text, look, setting, values, width):
        marks += moved(piece.marks, column, y)
        y += piece.height + piece.after
    height = y
    if figure:
        top = down + middle - figure.middle
        marks += moved(figure.marks, 0, top)
        height = max(height, top + figure.height)
    return Piece(setting.rounded(height), tuple(marks), setting.unit * 2, setting.unit * 3)


def small_row(figure: Figure, words: str, setting: Setting) -> Piece:
    """A row of a list: a figure, and a few words in the face of letters."""
    style = setting.style
    font, size = setting.letters.regular, style.type.instruction
    height = setting.rounded(max(figure.height + setting.unit, size * 1.3))
    baseline = height / 2 + size * cap_height(font) / 2
    marks = [Words(points(COLUMN), baseline, words, font, size, style.greys.text)]
    return Piece(height, (*moved(figure.marks, 0, height / 2 - figure.middle), *marks), setting.unit)


def heading_row(heading: str, text: str, setting: Setting) -> Piece:
    """A text with its heading beside it."""
    look = body_look(setting)
    return row(words_figure(heading, look.cuts.strong, look.size, look.ink), text, setting)


def beside(marks: Sequence[Mark], height: float, setting: Setting) -> Piece:
    """Marks that stand in the right column."""
    return Piece(setting.rounded(height), moved(marks, points(COLUMN)), setting.unit * 3, setting.unit * 3)
