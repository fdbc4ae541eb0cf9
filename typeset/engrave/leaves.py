"""Abjad's leaves, made from numbers alike under Abjad 3.19 (Python 3.11) and 3.31 (3.12 and later).

A book has few leaves that differ, each many times, and Abjad takes half a millisecond to make one and to write it.
So a leaf is described by a value, made and written once, and its text used again. (Making leaves from strings
would start Abjad's parser for each, which is slower still.)
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from functools import lru_cache
from typing import Any

import abjad

_IS_NEWER = hasattr(abjad.Rest, "from_duration")

# As many as a large book has that differ.
_KEPT = 8192

# What holds the place of leaves and details in the text of what stands round them.
_PLACE, _DETAILS = "%leaves", "%details"


class Kind(Enum):
    """What a leaf is: drum heads on one stem, a rest, a whole bar's rest, or time in which nothing is printed."""

    CHORD = "chord"
    REST = "rest"
    BAR_REST = "bar rest"
    SKIP = "skip"


@dataclass(frozen=True, slots=True)
class Head:
    """A note head by LilyPond's name of its drum, tweaked or not."""

    drum: str
    tweak: str = ""


@dataclass(frozen=True, slots=True)
class Leaf:
    """A leaf with everything that is attached to it.

    `length` is a fraction of a whole note: how long a chord or a rest is written, how long a bar's rest or a
    skip lasts. `at_bar` is LilyPond's text before it and its grace notes, `before` between these and it, `after`
    behind it. `graces` are a single grace note with a slash, or several under a beam, or as much silence.
    `beam` is empty or begins (`[`) or ends (`]`) one; `tremolo` is the value of its slashes, 0 for none.
    """

    kind: Kind
    length: Fraction
    heads: tuple[Head, ...] = ()
    at_bar: tuple[str, ...] = ()
    before: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    graces: tuple[Leaf, ...] = ()
    beam: str = ""
    tremolo: int = 0
    is_accented: bool = False


@dataclass(frozen=True, slots=True)
class Tuplet:
    """Leaves in the time of others: `ratio` is (number, normal). `at_bar` stands before all of it."""

    ratio: tuple[int, int]
    leaves: tuple[Leaf, ...]
    at_bar: tuple[str, ...] = ()


def skip(length: Fraction, before: tuple[str, ...] = (), after: tuple[str, ...] = ()) -> Leaf:
    """Time in which nothing is printed."""
    return Leaf(Kind.SKIP, length, before=before, after=after)


def score_text(voices: Sequence[Sequence[Leaf | Tuplet]], details: str) -> str:
    """LilyPond's text of a score of one drum staff with these voices; `details` is a Scheme value."""
    frame, *between = _frame(len(voices))
    written = ("\n".join(map(_text, voice)) + after for voice, after in zip(voices, between, strict=True))
    return frame.replace(_DETAILS, details, 1) + "".join(written)


def _text(written: Leaf | Tuplet) -> str:
    if isinstance(written, Leaf):
        return _leaf_text(written)
    beginning, end = _tuplet(written.ratio, tuple(leaf.length for leaf in written.leaves), written.at_bar)
    return "\n".join((beginning, *map(_leaf_text, written.leaves), end))


@lru_cache
def _frame(voices: int) -> tuple[str, ...]:
    """What stands round the leaves of so many voices."""
    made = [abjad.Voice([], lilypond_type="DrumVoice") for _ in range(voices)]
    for voice in made:
        abjad.attach(abjad.LilyPondLiteral(_PLACE, site="opening"), voice)
    score = abjad.Score([abjad.Staff(made, lilypond_type="DrumStaff", simultaneous=True)])
    abjad.override(score).System.details = _DETAILS
    return tuple(abjad.lilypond(score).split(_PLACE))


@lru_cache(_KEPT)
def _tuplet(ratio: tuple[int, int], lengths: tuple[Fraction, ...], at_bar: tuple[str, ...]) -> tuple[str, str]:
    """What stands before and behind the leaves of a tuplet; they may fill it or not."""
    number, normal = ratio
    made = abjad.Tuplet(f"{number}:{normal}", [_made(skip(length)) for length in lengths])
    _put(made, "absolute_before", at_bar)
    beginning, brace, rest = abjad.lilypond(made).partition("{")
    return beginning + brace, rest[rest.rindex("}") :]


@lru_cache(_KEPT)
def _leaf_text(leaf: Leaf) -> str:
    text: str = abjad.lilypond(_made(leaf))
    return text


def _made(leaf: Leaf) -> Any:
    """Abjad's leaf with everything that is attached to it."""
    made = _MAKERS[leaf.kind](leaf)
    _put(made, "absolute_before", leaf.at_bar)
    _put(made, "before", leaf.before)
    _put(made, "after", leaf.after)
    if leaf.graces:
        _grace(made, leaf.graces)
    if leaf.beam:
        abjad.attach(abjad.StartBeam() if leaf.beam == "[" else abjad.StopBeam(), made)
    if leaf.tremolo:
        abjad.attach(abjad.StemTremolo(leaf.tremolo), made)
    if leaf.is_accented:
        abjad.attach(abjad.Articulation(">"), made)
    return made


def _put(made: Any, site: str, texts: Sequence[str]) -> None:
    for text in texts:
        abjad.attach(abjad.LilyPondLiteral(text, site=site), made)


def _grace(made: Any, graces: Sequence[Leaf]) -> None:
    """A single grace note has a slash, several have a beam; silence has neither."""
    notes = [_made(grace) for grace in graces]
    command = r"\grace"
    if graces[0].kind is Kind.CHORD:
        if len(notes) == 1:
            command = r"\slashedGrace"
        else:
            abjad.attach(abjad.StartBeam(), notes[0])
            abjad.attach(abjad.StopBeam(), notes[-1])
    abjad.attach(abjad.BeforeGraceContainer(notes, command=command), made)


def _chord(leaf: Leaf) -> Any:
    heads = [_head(head) for head in leaf.heads]
    if _IS_NEWER:
        return abjad.Chord.from_duration_and_note_heads(_duration(leaf.length), heads)
    made = abjad.Chord([], _duration(leaf.length))
    made.note_heads.extend(heads)
    return made


def _head(head: Head) -> Any:
    made = abjad.DrumNoteHead(head.drum)
    if head.tweak:
        abjad.tweak(made, head.tweak)
    return made


def _rest(leaf: Leaf) -> Any:
    duration = _duration(leaf.length)
    return abjad.Rest.from_duration(duration) if _IS_NEWER else abjad.Rest(duration)


def _bar_rest(leaf: Leaf) -> Any:
    return _scaled(abjad.MultimeasureRest, leaf.length)


def _skip(leaf: Leaf) -> Any:
    return _scaled(abjad.Skip, leaf.length)


def _scaled(kind: Any, length: Fraction) -> Any:
    factor = (length.numerator, length.denominator)
    if _IS_NEWER:
        return kind.from_duration(_duration(Fraction(1)), dmp=factor)
    return kind(_duration(Fraction(1)), multiplier=factor)


def _duration(length: Fraction) -> Any:
    return abjad.Duration(length.numerator, length.denominator)


_MAKERS = {Kind.CHORD: _chord, Kind.REST: _rest, Kind.BAR_REST: _bar_rest, Kind.SKIP: _skip}
