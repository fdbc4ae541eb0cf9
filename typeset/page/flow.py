"""Running text and titles as pieces, so that no line is left alone at a page's head or foot."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from ..wording.markup import Paragraph, one_line, paragraphs
from .breaking import Piece
from .faces import cap_height
from .marks import Anchor, Begins, Entry, Mark, Role, Words
from .paragraph import Line, Look, lines_of, words_of
from .setting import Setting, points

_ITEM_INDENT = 1.25
"""A list item's indent in ems."""


def body_look(setting: Setting) -> Look:
    """How running text looks."""
    style = setting.style
    return Look(setting.text, style.type.body, style.type.leading, style.greys.text, setting.hyphened)


def intro_look(setting: Setting) -> Look:
    """How a chapter's opening text looks."""
    style = setting.style
    return Look(setting.text, style.type.intro, style.type.leading * 1.125, style.greys.text, setting.hyphened)


def small_look(setting: Setting) -> Look:
    """How the sentences over an exercise, and those of an aside, look."""
    style = setting.style
    size = style.type.instruction
    return Look(setting.text, size, size * 1.28, style.greys.text, setting.hyphened)


def text_pieces(
    text: str,
    look: Look,
    setting: Setting,
    values: Mapping[str, str] | None = None,
    width: float | None = None,
) -> tuple[Piece, ...]:
    """An author's or the program's text as lines, two of them together at either end of a paragraph.

    A list stays with the paragraph that announces it.
    """
    pieces: list[Piece] = []
    in_list = False
    for paragraph in paragraphs(setting.sided(text), values):
        if pieces and paragraph.is_item:
            pieces[-1] = replace(pieces[-1], keeps=pieces[-1].keeps or not in_list)
        elif pieces:
            white = setting.rounded(look.leading * 0.5)
            pieces[-1] = replace(pieces[-1], after=white, stretch=white / 2)
        in_list = paragraph.is_item
        pieces += _paragraph_pieces(paragraph, look, width or setting.text_width)
    return tuple(pieces)


def _paragraph_pieces(paragraph: Paragraph, look: Look, width: float) -> list[Piece]:
    indent = look.size * _ITEM_INDENT if paragraph.is_item else 0.0
    lines = lines_of(words_of(paragraph.spans, look), width - indent)
    last = len(lines) - 1
    return [
        Piece(
            look.leading,
            _line_marks(line, indent, look, has_dash=paragraph.is_item and index == 0),
            keeps=index == 0 < last or index == last - 1,
            goes_on=index > 0,
        )
        for index, line in enumerate(lines)
    ]


def _line_marks(line: Line, indent: float, look: Look, *, has_dash: bool) -> tuple[Mark, ...]:
    baseline = baseline_in(look)
    marks = line.marks(indent, baseline)
    return (Words(0, baseline, "–", look.cuts.regular, look.size, look.ink), *marks) if has_dash else marks


def baseline_in(look: Look) -> float:
    """How far down in its line the baseline of a text stands."""
    return look.leading - look.size * 0.32


def kept(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """The same pieces, held together with each other and with what follows."""
    return tuple(replace(piece, keeps=True) for piece in pieces)


def title_piece(title: str, anchor: str, setting: Setting) -> Piece:
    """The title of a part of the front or back, its anchor and its line in the outline."""
    style = setting.style
    font, size = setting.text.light, style.type.chapter
    look = Look(setting.light_text, size, size * 1.15, style.greys.text)
    baseline = setting.rounded(points(style.chapters.sink) + size * cap_height(font))
    marks: list[Mark] = [Anchor(0, anchor), Entry(0, 0, one_line(title)), Begins(Role.HEADING)]
    marks.append(Words(0, baseline, one_line(title), font, size, look.ink))
    return Piece(setting.rounded(baseline + size * 0.5), tuple(marks), setting.unit * 4, keeps=True)
