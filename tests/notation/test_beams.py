"""How many beams join each note to the next."""

from __future__ import annotations

import pytest

from tests.notation.made import bar
from typeset.notation.symbol import Kind
from typeset.notation.voices import ALL_UP, write_voice


def beams(meter: str, grid: str, strokes: str) -> list[tuple[int, int] | None]:
    """The beams to the left and right of each note of a bar's first half."""
    made = bar(meter, grid, strokes)
    symbols = [symbol for group in write_voice(made, ALL_UP) for symbol in group.symbols]
    notes = [symbol for symbol in symbols if symbol.kind is Kind.NOTE]
    return [note.beams for note in notes if note.onset < made.meter.length / 2]


@pytest.mark.parametrize(
    ("strokes", "joined"),
    [
        ("s s s s", [(0, 2), (2, 2), (2, 2), (2, 0)]),
        ("s . s .", [(0, 1), (1, 0)]),
        ("s . . s", [(0, 1), (2, 0)]),
        ("s s . s", [(0, 2), (1, 1), (2, 0)]),
        ("s . s s", [(0, 1), (1, 2), (2, 0)]),
        ("s . . .", [None]),
        (". . s .", [None]),
    ],
)
def test_sixteenths_have_two_beams_and_a_short_one_where_a_neighbour_is_longer(
    strokes: str, joined: list[tuple[int, int] | None]
) -> None:
    assert beams("2/4", "16ths", strokes) == joined


def test_one_beam_passes_the_eighth_between_32nds() -> None:
    inner = [(3, 3)] * 2
    assert beams("2/4", "32nds", "s") == [(0, 3), *inner, (3, 1), (1, 3), *inner, (3, 0)]


def test_one_beam_passes_the_quarter_inside_a_beat_of_four_eighths() -> None:
    assert beams("8/8 (4+4)", "16ths", "s")[3:5] == [(2, 1), (1, 2)]


def test_sixteenths_of_a_dotted_beat_are_joined_throughout() -> None:
    assert beams("6/8", "16ths", "s") == [(0, 2), (2, 2), (2, 2), (2, 2), (2, 2), (2, 0)]


@pytest.mark.parametrize(("strokes", "second"), [("s . . s s .", (2, 1)), ("s . s s . .", (1, 2))])
def test_a_short_beam_end_points_to_the_note_that_fills_its_eighth(strokes: str, second: tuple[int, int]) -> None:
    assert beams("6/8", "16ths", strokes)[1] == second


def test_in_half_note_beats_eighths_are_joined_by_four_and_shorter_notes_by_the_quarter() -> None:
    assert beams("2/2", "8ths", "s") == [(0, 1), (1, 1), (1, 1), (1, 0)]
    assert beams("2/2", "16ths", "s . s . s . s s") == [(0, 1), (1, 0), (0, 1), (1, 2), (2, 0)]


def test_a_rest_inside_a_beat_does_not_break_its_beam() -> None:
    assert beams("2/4", "32nds", "s . . . . s . .") == [(0, 1), (2, 0)]
