"""Which strokes are held, which rests show, which tuplets there are."""

from __future__ import annotations

from fractions import Fraction
from itertools import accumulate

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.notation.made import bar, pickup, text_of, written
from typeset.notation.rhythm import NOBODY, write_bar
from typeset.notation.symbol import Kind, Line, Symbol, is_printable
from typeset.notation.voices import FEET, HANDS, write_voice
from typeset.pattern.bar import Bar, empty_bar
from typeset.pattern.grid import GRIDS, IN_EIGHTHS, Grid
from typeset.pattern.meter import Meter


@pytest.mark.parametrize(
    ("strokes", "text"),
    [
        ("s s s s", "16-16-16-16"),
        ("s . s .", "8-8"),
        ("s . s s", "8-16-16"),
        ("s s s .", "16-16-8"),
        ("s s . s", "16-8-16"),
        ("s . . s", "8.-16"),
        ("s s . .", "16-8."),
        ("s . . .", "4"),
        (". s . .", "r16 8."),
        (". . s .", "r8 8"),
        (". . . s", "r8. 16"),
        (". s s .", "r16 16-8"),
        (". . s s", "r8 16-16"),
    ],
)
def test_a_stroke_in_sixteenths_is_held_to_the_next_inside_its_beat(strokes: str, text: str) -> None:
    assert written("2/4", "16ths", strokes) == f"{text} | {text}"


@pytest.mark.parametrize(
    ("strokes", "text"),
    [
        ("s s s", "3(8-8-8)"),
        ("s . s", "3(4 8)"),
        ("s s .", "3(8 4)"),
        (". s s", "3(r8 8-8)"),
        (". s .", "3(r8 4)"),
        (". . s", "3(r4 8)"),
        ("s . .", "4"),
    ],
)
def test_strokes_are_held_in_triplets_likewise(strokes: str, text: str) -> None:
    assert written("2/4", "triplets", strokes) == f"{text} | {text}"


@pytest.mark.parametrize(
    ("strokes", "text"),
    [
        ("s s s s s s", "6(16-16-16-16-16-16)"),
        ("s . s s . s", "6(8-16-8-16)"),
        ("s . . . s .", "3(4 8)"),
        ("s . s . s .", "3(8-8-8)"),
        ("s . . s . .", "8-8"),
        ("s . . . . .", "4"),
    ],
)
def test_a_sextuplet_is_written_no_finer_than_its_strokes(strokes: str, text: str) -> None:
    assert written("2/4", "sextuplets", strokes) == f"{text} | {text}"


@pytest.mark.parametrize(
    ("meter", "grid", "strokes", "text"),
    [
        ("4/4", "16ths", "s", "16"),
        ("4/4", "16ths", "s s", "16-16"),
        ("4/4", "16ths", "s s s", "16-16-16"),
        ("4/4", "16ths", "s . s", "8-16"),
        ("4/4", "16ths", "s s .", "16-8"),
        ("4/4", "16ths", "s . .", "8."),
        ("4/4", "16ths", ". s .", "r16 8"),
        ("4/4", "16ths", "s . . s s s s", "8. | 16-16-16-16"),
        ("4/4", "8ths", ". s", "r8 8"),
        ("4/4", "8ths", ". . s", "r8 | r8 8"),
        ("4/4", "8ths", ". . . . . s", "r4 | r4 | r8 8"),
        ("3/4", "quarters", "s", "4"),
        ("6/8", "8ths", "s", "8"),
        ("6/8", "8ths", "s s", "8-8"),
        ("6/8", "8ths", "s .", "4"),
        ("6/8", "16ths", "s s s", "16-16-16"),
        ("4/4", "triplets", "s", "3(8)"),
        ("4/4", "triplets", "s s", "3(8-8)"),
        ("4/4", "triplets", ". s s", "3(r8 8-8)"),
        ("4/4", "triplets", "s . .", "4"),
        ("4/4", "triplets", ". s s s", "3(r8) | 3(8-8-8)"),
        ("4/4", "sextuplets", "s s", "6(16-16)"),
        ("2/2", "triplets", "s", "3(8)"),
        ("2/2", "triplets", "s s s s", "3(8) | 3(8-8-8)"),
        ("2/2", "8ths", "s s", "8-8"),
    ],
)
def test_a_pickup_is_written_as_the_end_of_its_bar(meter: str, grid: str, strokes: str, text: str) -> None:
    assert text_of(pickup(meter, grid, strokes)) == text


def test_feet_that_are_silent_in_a_pickup_print_nothing() -> None:
    (gap,) = (
        symbol for group in write_voice(pickup("4/4", "triplets", "s s s s"), FEET) for symbol in group.symbols
    )
    assert (gap.kind, gap.length) == (Kind.GAP, Fraction(1, 3))


def test_five_and_seven_stand_in_the_time_of_four_sixteenths() -> None:
    strokes = "s s s . s" + " s s s s s s ."
    assert written("2/4", "quintuplets septuplets", strokes) == "5(16-16-8-16) | 7(16-16-16-16-16-8)"


def test_grids_mix_inside_a_bar() -> None:
    text = written("4/4", "8ths triplets sextuplets 32nds", "s")
    assert text == "8-8 | 3(8-8-8) | 6(16-16-16-16-16-16) | 32-32-32-32-32-32-32-32"


@pytest.mark.parametrize(
    ("grid", "strokes", "text"),
    [
        ("32nds", "s . . . . s . .", "8 r32-16."),
        ("32nds", "s . . . . . . s", "8. r32-32"),
        ("32nds", "s s . . . s . .", "32-16. r32-16."),
        ("sextuplets", "s . . . . s", "6(4 r16 16)"),
        ("septuplets", "s . . . . s s", "7(4 r16 16-16)"),
    ],
)
def test_where_a_tie_would_be_needed_there_is_a_shorter_note_and_a_rest(grid: str, strokes: str, text: str) -> None:
    assert written("2/4", grid, strokes) == f"{text} | {text}"


@pytest.mark.parametrize(
    ("meter", "strokes", "text"),
    [
        ("6/8", "s . s . s .", "8-8-8"),
        ("6/8", "s . . s s .", "8.-16-8"),
        ("6/8", "s . . . s .", "4 8"),
        ("6/8", "s . . . . .", "4."),
        ("6/8", ". . s . . .", "r8 4"),
        ("6/8", ". . . . s s", "r4 16-16"),
        ("6/8", ". . . . . s", "r4 r16 16"),
        ("6/8", "s s . s . .", "16-8-8."),
        ("6/8", "s s . . . s", "16-8. r16-16"),
    ],
)
def test_dotted_beats_fall_into_their_eighths(meter: str, strokes: str, text: str) -> None:
    assert written(meter, "16ths", strokes) == f"{text} | {text}"


@pytest.mark.parametrize(
    ("meter", "strokes", "text"),
    [
        ("4/4", ". . s .", "r2 | 4 | r4"),
        ("4/4", "s . . .", "4 | r4 | r2"),
        ("4/4", "s . . s", "4 | r4 | r4 | 4"),
        ("3/4", ". . s", "r4 | r4 | 4"),
        ("3/4", "s . .", "4 | r4 | r4"),
        ("5/4", ". . . . s", "r4 | r4 | r4 | r4 | 4"),
        ("5/4 (3+2)", "s . . . .", "4 | r4 | r4 | r2"),
        ("5/4 (2+3)", ". . s . .", "r2 | 4 | r4 | r4"),
        ("6/4 (4+2)", ". . . . s .", "r1 | 4 | r4"),
    ],
)
def test_silent_beats_share_a_rest_only_inside_half_a_bar_or_a_stated_group(
    meter: str, strokes: str, text: str
) -> None:
    assert written(meter, "quarters", strokes) == text


def test_silent_dotted_beats_are_dotted_rests_and_halves_of_twelve_eight_share_one() -> None:
    assert written("6/8", "8ths", ". . . s . s") == "r4. | 4 8"
    assert written("9/8", "8ths", "s s s . . . . . .") == "8-8-8 | r4. | r4."
    assert written("12/8", "8ths", ". . . . . . s . . . . .") == "r2. | 4. | r4."


@pytest.mark.parametrize("meter", ["2/4", "3/4", "4/4", "7/4", "2/2", "3/8", "6/8", "7/8", "15/8"])
def test_a_silent_bar_is_a_whole_bar_rest(meter: str) -> None:
    assert written(meter, "8ths", ".") == "R"


def test_in_half_note_beats_a_stroke_may_fill_the_half() -> None:
    assert written("2/2", "8ths", "s . . . s s . s") == "2 | 8 4 8"
    assert written("2/2", "triplets", "s . . . . . s . s . . s") == "2 | 3(4 8) | 3(r4 8)"


def test_a_diddle_is_not_held_beyond_its_slot() -> None:
    assert written("2/4", "16ths", "sd . s .") == "16 r16-8 | 16 r16-8"
    assert written("2/4", "16ths", "sz . s .") == "8-8 | 8-8"


def test_with_split_stems_a_rest_stands_only_where_both_are_silent() -> None:
    strokes = "hk . h . s . h k . k h . . . . ."
    assert written("4/4", "16ths", strokes, HANDS) == "8-8 | 8-8 | s8 8 | r4"
    assert written("4/4", "16ths", strokes, FEET) == "4 | s8. 16 | r16 8. | s4"


def test_with_split_stems_a_silent_bar_is_rested_once() -> None:
    assert written("4/4", "16ths", ".", HANDS) == "R"
    assert written("4/4", "16ths", ".", FEET) == "S"


def test_with_split_stems_one_number_speaks_for_both_tuplets() -> None:
    hands, feet = (write_voice(bar("2/4", "triplets", "h . h h k k"), voice) for voice in (HANDS, FEET))
    assert [group.tuplet for group in hands] == [(3, 2), None]
    feet = write_voice(bar("2/4", "triplets", "hk . hk h k k"), FEET)
    assert [(group.tuplet, group.is_numbered) for group in feet] == [((3, 2), False), ((3, 2), True)]


METERS = ["2/4", "3/4", "4/4", "5/4 (3+2)", "7/4", "2/2", "3/2", "3/8", "5/8", "6/8", "7/8", "8/8 (4+4)", "12/8"]


@st.composite
def bars_with_strokes(draw: st.DrawFn) -> tuple[Bar, Line, Line]:
    """Any bar, with what hands and feet play in it."""
    meter = Meter.parse(draw(st.sampled_from(METERS)))
    if meter.bottom == 8:
        names = [draw(st.sampled_from(IN_EIGHTHS))]
    else:
        names = draw(st.lists(st.sampled_from(sorted(GRIDS)), min_size=1, max_size=4))
    made = empty_bar(meter, Grid.of(*names))
    places = st.frozensets(st.integers(0, len(made.slots) - 1))
    struck = draw(places)
    return made, Line(struck, struck & draw(places)), Line(draw(places))


def _symbols(made: Bar, line: Line, other: Line = NOBODY, leads: bool = True) -> list[Symbol]:
    return [symbol for group in write_bar(made, line, other, leads) for symbol in group.symbols]


@given(bars_with_strokes())
@settings(max_examples=300, deadline=None)
def test_symbols_fill_the_bar_without_gap_or_overlap(drawn: tuple[Bar, Line, Line]) -> None:
    made, line, _ = drawn
    symbols = _symbols(made, line)
    ends = list(accumulate(symbol.length for symbol in symbols))
    assert [symbol.onset for symbol in symbols] == [Fraction(0), *ends[:-1]]
    assert ends[-1] == made.meter.length


@given(bars_with_strokes())
@settings(max_examples=300, deadline=None)
def test_every_stroke_is_one_note_at_its_slot(drawn: tuple[Bar, Line, Line]) -> None:
    made, line, _ = drawn
    notes = [symbol for symbol in _symbols(made, line) if symbol.kind is Kind.NOTE]
    assert [note.slot for note in notes] == sorted(line.struck)
    assert [note.onset for note in notes] == [made.onsets[slot] for slot in sorted(line.struck)]
    assert all(is_printable(note.written) for note in notes)


@given(bars_with_strokes())
@settings(max_examples=300, deadline=None)
def test_no_note_lasts_beyond_its_beat(drawn: tuple[Bar, Line, Line]) -> None:
    made, line, _ = drawn
    ends = list(accumulate(beat.length for beat in made.beats))
    for note in _symbols(made, line):
        if note.kind is Kind.NOTE:
            assert note.onset + note.length <= next(end for end in ends if end > note.onset)


@given(bars_with_strokes())
@settings(max_examples=300, deadline=None)
def test_two_voices_rest_once_wherever_both_are_silent(drawn: tuple[Bar, Line, Line]) -> None:
    made, hands, feet = drawn
    up = _symbols(made, hands, feet, leads=True)
    down = _symbols(made, feet, hands, leads=False)
    for moment in made.onsets:
        kinds = [_at(up, moment), _at(down, moment)]
        if Kind.NOTE not in kinds:
            assert kinds.count(Kind.REST) == 1, (moment, up, down)


def _at(symbols: list[Symbol], moment: Fraction) -> Kind:
    return next(symbol.kind for symbol in symbols if symbol.onset <= moment < symbol.onset + symbol.length)
