"""Abjad's leaves, made from numbers alike under Abjad 3.19 (Python 3.11) and 3.31 (3.12 and later).

Making leaves from strings would start Abjad's parser for each, which is slow.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

import abjad

_IS_NEWER = hasattr(abjad.Rest, "from_duration")


def chord(heads: Sequence[Any], written: Fraction) -> Any:
    """Drum heads on one stem; `written` as a fraction of a whole note."""
    duration = abjad.Duration(written.numerator, written.denominator)
    if _IS_NEWER:
        return abjad.Chord.from_duration_and_note_heads(duration, heads)
    made = abjad.Chord([], duration)
    made.note_heads.extend(heads)
    return made


def rest(written: Fraction) -> Any:
    """A rest that one symbol shows."""
    duration = abjad.Duration(written.numerator, written.denominator)
    return abjad.Rest.from_duration(duration) if _IS_NEWER else abjad.Rest(duration)


def bar_rest(length: Fraction) -> Any:
    """A whole-bar rest."""
    return _scaled(abjad.MultimeasureRest, length)


def skip(length: Fraction) -> Any:
    """Time in which nothing is printed."""
    return _scaled(abjad.Skip, length)


def _scaled(kind: Any, length: Fraction) -> Any:
    factor = (length.numerator, length.denominator)
    if _IS_NEWER:
        return kind.from_duration(abjad.Duration(1, 1), dmp=factor)
    return kind(abjad.Duration(1, 1), multiplier=factor)


def at_bar(leaf: Any, text: str) -> None:
    """Put LilyPond's text before a leaf and before its grace notes."""
    abjad.attach(abjad.LilyPondLiteral(text, site="absolute_before"), leaf)


def before(leaf: Any, text: str) -> None:
    """Put LilyPond's text before a leaf."""
    abjad.attach(abjad.LilyPondLiteral(text, site="before"), leaf)


def after(leaf: Any, text: str) -> None:
    """Put LilyPond's text after a leaf."""
    abjad.attach(abjad.LilyPondLiteral(text, site="after"), leaf)


def grace(leaf: Any, notes: Sequence[Any]) -> None:
    """Put grace notes, or as much silence, before a leaf: a single one with a slash, several under a beam."""
    command = r"\grace"
    if isinstance(notes[0], abjad.Chord):
        if len(notes) == 1:
            command = r"\slashedGrace"
        else:
            abjad.attach(abjad.StartBeam(), notes[0])
            abjad.attach(abjad.StopBeam(), notes[-1])
    abjad.attach(abjad.BeforeGraceContainer(notes, command=command), leaf)
