"""Swing: what comes late, by how much, and what stays where it is."""

from __future__ import annotations

from fractions import Fraction

import pytest

from tests.notation.made import bar
from typeset.pattern.swing import EIGHTH, SIXTEENTH, Swing, SwingError, swing_of, swung


def quarters(times: tuple[Fraction, ...]) -> list[Fraction]:
    return [time * 4 for time in times]


def test_an_offbeat_eighth_comes_on_the_third_triplet_of_its_beat() -> None:
    times = swung(bar("2/4", "8ths", "s"), Swing(note=EIGHTH))
    assert quarters(times) == [0, Fraction(2, 3), 1, Fraction(5, 3), 2]


def test_swung_sixteenths_leave_the_eighths_where_they_are() -> None:
    times = swung(bar("2/4", "16ths", "s"), Swing(3, 2, SIXTEENTH))
    assert quarters(times)[:5] == [0, Fraction(3, 10), Fraction(1, 2), Fraction(8, 10), 1]


def test_sixteenths_inside_swung_eighths_share_the_long_and_the_short_one() -> None:
    times = swung(bar("2/4", "16ths", "s"), Swing(note=EIGHTH))
    assert quarters(times)[:5] == [0, Fraction(1, 3), Fraction(2, 3), Fraction(5, 6), 1]


@pytest.mark.parametrize("grid", ["quarters", "triplets", "quintuplets", "sextuplets", "septuplets"])
def test_a_beat_that_is_not_divided_in_halves_does_not_swing(grid: str) -> None:
    even = bar("4/4", grid, "s")
    assert swung(even, Swing(note=EIGHTH))[:-1] == even.onsets


def test_only_the_sixteenths_of_a_mixed_bar_swing() -> None:
    mixed = bar("2/4", "16ths triplets", "s")
    times = swung(mixed, Swing(note=SIXTEENTH))
    assert quarters(times)[:2] == [0, Fraction(1, 3)]
    assert times[4:7] == mixed.onsets[4:]


def test_where_eighths_are_counted_they_do_not_swing_but_sixteenths_do() -> None:
    counted = bar("7/8", "16ths", "s")
    assert swung(counted, Swing(note=EIGHTH))[:-1] == counted.onsets
    assert swung(counted, Swing(note=SIXTEENTH))[1] == Fraction(1, 12)


def test_an_exercise_swings_what_it_says_in_the_ratio_asked_for() -> None:
    assert swing_of("swing-16ths") == Swing(2, 1, SIXTEENTH)
    assert swing_of("swing-16ths", Swing(3, 2)) == Swing(3, 2, SIXTEENTH)
    assert swing_of("swing-16ths", Swing(3, 2, EIGHTH)) == Swing(3, 2, EIGHTH)
    assert swing_of("straight", Swing(3, 2)) == Swing(3, 2, EIGHTH)
    assert swing_of("straight") is None


def test_one_to_one_is_straight() -> None:
    assert swing_of("swing-8ths", Swing.parse("1:1")) is None


@pytest.mark.parametrize(
    ("written", "read"),
    [("2:1", Swing(2, 1)), ("16ths 6:4", Swing(3, 2, SIXTEENTH)), (" 8ths 3:1 ", Swing(3, 1, EIGHTH))],
)
def test_a_swing_is_read_and_reduced(written: str, read: Swing) -> None:
    assert Swing.parse(written) == read


@pytest.mark.parametrize("written", ["", "hard", "2", "1:2", "9:1", "2:0", "32nds 2:1", "2.5:1"])
def test_what_nobody_swings_is_refused(written: str) -> None:
    with pytest.raises(SwingError):
        Swing.parse(written)
