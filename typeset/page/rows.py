"""Rows of two columns: on the left a figure or a heading, on the right what there is to say about it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from ..compose.book import Exercise
from ..compose.engraving import Engraving
from ..pattern.limb import Limb
from ..wording.markup import Span
from .breaking import Piece
from .faces import cap_height
from .flow import baseline_in, body_look, text_pieces
from .marks import Begins, Mark, Music, Role, moved
from .paragraph import Look, lines_of, words_of
from .setting import Setting, points

_LEFT_SHARE = 0.27
_GUTTER = 4.0

LIMB_WORDS = {Limb.RIGHT: "right", Limb.LEFT: "left", Limb.KICK: "kick", Limb.HAT: "hat"}
"""Where the catalogue has what a limb is called, under `limbs`."""


@dataclass(frozen=True, slots=True)
class Figure:
    """Marks from their top left corner, and how tall they are; `middle` is what lines up with the text."""

    marks: tuple[Mark, ...]
    height: float
    middle: float


def left_width(setting: Setting) -> float:
    """How wide a figure may be."""
    return setting.measure * _LEFT_SHARE - points(_GUTTER)


def right_edge(setting: Setting) -> float:
    """Where the right column begins."""
    return setting.measure * _LEFT_SHARE


def right_width(setting: Setting) -> float:
    """The width of the right column."""
    return min(setting.text_width, setting.measure - right_edge(setting))


def words_figure(words: str, look: Look, setting: Setting) -> Figure:
    """Words as a figure, in as many lines as they need."""
    cap = look.size * cap_height(look.cuts.regular)
    lines = lines_of(words_of([Span(words)], look), left_width(setting))
    marks = [mark for index, line in enumerate(lines) for mark in line.marks(0, cap + index * look.leading)]
    return Figure(tuple(marks), cap + look.leading * max(0, len(lines) - 1), cap / 2)


def music_figure(specimen: Engraving, scale: float, setting: Setting) -> Figure:
    """A specimen as a figure of that scale; the middle of its staff lines up with the text."""
    block = setting.blocks[specimen]
    left, bottom, _, top = block.ink
    middle = top - (block.top + block.bottom) / 2
    return Figure((Music(-left * scale, top * scale, specimen, scale),), (top - bottom) * scale, middle * scale)


def limbs_of(exercises: Iterable[Exercise]) -> tuple[Limb, ...]:
    """The limbs that these exercises use, in their order."""
    used = {stroke.limb for exercise in exercises for stroke in exercise.pattern.strokes}
    return tuple(limb for limb in Limb if limb in used)


def row(figure: Figure | None, text: str, setting: Setting, values: Mapping[str, str] | None = None) -> Piece:
    """A figure with its text: the figure's middle stands beside the middle of the first line."""
    height, marks = _side_by_side(figure, text, body_look(setting), setting, values)
    return Piece(setting.rounded(height), marks, setting.unit * 2, setting.unit * 3)


def small_row(figure: Figure, text: str, setting: Setting) -> Piece:
    """A row of a list: a figure, and a few words in the face of letters."""
    style = setting.style
    size = style.type.instruction
    look = Look(setting.letters, size, size * 1.25, style.greys.text)
    height, marks = _side_by_side(figure, text, look, setting, None)
    return Piece(setting.rounded(height), marks, setting.unit)


def heading_row(heading: str, text: str, setting: Setting) -> Piece:
    """A text with its heading beside it."""
    look = body_look(setting)
    strong = Look(setting.strong_text, look.size, look.leading, look.ink)
    if not heading:
        return row(None, text, setting)
    figure = words_figure(heading, strong, setting)
    return row(replace(figure, marks=(Begins(Role.SUBHEADING), *figure.marks)), text, setting)


def beside(marks: Sequence[Mark], height: float, setting: Setting) -> Piece:
    """Marks that stand in the right column."""
    placed = moved(marks, right_edge(setting))
    return Piece(setting.rounded(height), placed, setting.unit * 3, setting.unit * 3)


def _side_by_side(
    figure: Figure | None, text: str, look: Look, setting: Setting, values: Mapping[str, str] | None
) -> tuple[float, tuple[Mark, ...]]:
    """The height and the marks of a figure and its text."""
    middle = baseline_in(look) - look.size * cap_height(look.cuts.regular) / 2
    down = max(0.0, figure.middle - middle) if figure else 0.0
    marks: list[Mark] = []
    y = down
    for piece in text_pieces(text, look, setting, values, right_width(setting)):
        marks += moved(piece.marks, right_edge(setting), y)
        y += piece.height + piece.after
    if figure is None:
        return y, tuple(marks)
    top = down + middle - figure.middle
    return max(y, top + figure.height), (*moved(figure.marks, 0, top), Begins(Role.TEXT), *marks)
