"""An aside: what is not part of the exercise itself, behind a grey bar."""

from __future__ import annotations

from collections.abc import Sequence

from ..wording.markup import Span, paragraphs
from .flow import small_look
from .marks import Begins, Role, Rule, moved
from .paragraph import Look, lines_of, words_of
from .setting import Setting, points
from .stack import Part, pile

ASIDE_INDENT = 3.6
"""Millimetres from the bar's left edge to what stands beside it."""

_BAR = 1.2


def aside(parts: Sequence[Part], gap: float, setting: Setting) -> Part:
    """Parts under one another, `gap` points apart, beside a bar as tall as they are."""
    whole = pile(parts, gap)
    bar = Rule(_BAR / 2, 0, _BAR / 2, whole.height, _BAR, setting.style.greys.rule)
    return Part((bar, *moved(whole.marks, points(ASIDE_INDENT))), whole.height)


def words_part(spans: Sequence[Span], look: Look, width: float) -> Part:
    """A paragraph as a part, from the top of its first line to its last line's descenders."""
    lines = lines_of(words_of(spans, look), width)
    rise, fall = look.size * 0.72, look.size * 0.26
    if not lines:
        return Part((), 0.0)
    marks = (mark for index, line in enumerate(lines) for mark in line.marks(0, rise + index * look.leading))
    return Part((Begins(Role.TEXT), *marks), rise + fall + look.leading * (len(lines) - 1))


def label_part(words: str, setting: Setting) -> Part:
    """What an aside is, small and quiet."""
    look = Look(setting.letters, setting.style.type.small, setting.unit * 4, setting.style.greys.quiet)
    return words_part([Span(words)], look, setting.text_width)


def note_part(note: str | None, room: float, setting: Setting) -> Part | None:
    """What is said to the teacher alone, as an aside no wider than `room`; only in a teacher's copy."""
    if not (note and setting.for_teacher):
        return None
    look = small_look(setting)
    width = min(room - points(ASIDE_INDENT), setting.text_width)
    parts = [words_part(paragraph.spans, look, width) for paragraph in paragraphs(setting.sided(note))]
    label = label_part(setting.words["exercise.note"], setting)
    return aside([label, pile(parts, look.leading * 0.5)], setting.unit / 2, setting) if parts else None
