"""Beams of full bars against music21's meter module (music21 10, `TimeSignature.getBeams`), as to which
notes share a beam; and what drummers do otherwise (common practice, no source)."""

from __future__ import annotations

from fractions import Fraction

import pytest
from music21 import meter as m21
from music21 import note

from tests.notation.made import bar
from typeset.notation.voices import ALL_UP, write_voice
from typeset.pattern.grid import GRIDS


def our_groups(meter: str, grid: str) -> list[int]:
    """How many notes stand under each beam of a full bar, a note without one counting as 1."""
    sizes = [0]
    for group in write_voice(bar(meter, grid, "s"), ALL_UP):
        for symbol in group.symbols:
            sizes[-1] += 1
            if symbol.beams is None or symbol.ends_beam:
                sizes.append(0)
    return sizes[:-1]


def their_groups(meter: str, grid: str) -> list[int]:
    """The same as music21 beams it."""
    signature = m21.TimeSignature(meter)
    length = Fraction(1, GRIDS[grid])
    notes = [note.Note(quarterLength=length) for _ in range(int(signature.barDuration.quarterLength / length))]
    sizes = [0]
    for beams in signature.getBeams(notes):
        sizes[-1] += 1
        if beams is None or not beams.beamsList or beams.beamsList[0].type == "stop":
            sizes.append(0)
    return sizes[:-1]


@pytest.mark.parametrize("grid", ["8ths", "16ths", "32nds"])
@pytest.mark.parametrize("meter", ["2/4", "3/4", "4/4", "3/8", "6/8", "7/8", "9/8", "12/8", "15/8"])
def test_plain_meters_are_beamed_as_music21_does(meter: str, grid: str) -> None:
    assert our_groups(meter, grid) == their_groups(meter, grid)


@pytest.mark.parametrize("meter", ["2/2", "3/2"])
def test_eighths_in_half_note_beats_are_beamed_in_fours_as_music21_does(meter: str) -> None:
    assert our_groups(meter, "8ths") == their_groups(meter, "8ths")


@pytest.mark.parametrize("grid", ["8ths", "16ths"])
@pytest.mark.parametrize(
    ("ours", "theirs"),
    [
        ("5/8 (2+3)", "2+3/8"),
        ("5/8 (3+2)", "3+2/8"),
        ("5/8", "3+2/8"),
        ("7/8 (2+2+3)", "2+2+3/8"),
        ("7/8 (3+2+2)", "3+2+2/8"),
        ("8/8", "3+3+2/8"),
        ("8/8 (2+3+3)", "2+3+3/8"),
        ("9/8 (2+2+2+3)", "2+2+2+3/8"),
        ("12/8 (3+2+2+3+2)", "3+2+2+3+2/8"),
    ],
)
def test_additive_meters_are_beamed_by_their_groups_as_music21_does(ours: str, theirs: str, grid: str) -> None:
    assert our_groups(ours, grid) == their_groups(theirs, grid)


@pytest.mark.parametrize("meter", ["5/4", "6/4", "7/4"])
def test_in_longer_meters_of_quarters_drummers_beam_by_the_beat_where_music21_beams_wider(meter: str) -> None:
    beats = int(meter.partition("/")[0])
    assert our_groups(meter, "8ths") == [2] * beats
    assert our_groups(meter, "16ths") == [4] * beats
    assert max(their_groups(meter, "8ths")) > 2


def test_sixteenths_in_two_two_are_beamed_by_the_quarter_where_music21_beams_the_half() -> None:
    assert our_groups("2/2", "16ths") == [4, 4, 4, 4]
    assert their_groups("2/2", "16ths") == [8, 8]
