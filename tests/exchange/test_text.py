"""Exercises as text to be read aloud."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from tests.notation.made import bar, pickup
from tests.sound.made import exercise
from typeset.exchange.text import exercise_text
from typeset.pattern.swell import Swell

GROOVE = exercise(bar("4/4", "16ths", "h! s? h . kh h s! . h h sf . c k p sd"), number="1.2", title="As a groove")


def test_each_beat_is_a_line_that_says_who_plays_what() -> None:
    assert exercise_text(GROOVE).splitlines()[4:] == [
        "beat 1: right hand, hi-hat, accent; e: right hand, snare, ghost; &: right hand, hi-hat",
        "beat 2: right hand, hi-hat with kick foot, bass drum; e: right hand, hi-hat; &: right hand, snare, accent",
        "beat 3: right hand, hi-hat; e: right hand, hi-hat; &: right hand, snare, flam, left hand first",
        "beat 4: right hand, crash; e: kick foot, bass drum; &: hi-hat foot, hi-hat pedal; "
        "a: right hand, snare, diddle",
    ]


def test_a_pickup_is_read_before_bar_1() -> None:
    opened = exercise(bar("4/4", "16ths", "s"), pickup=pickup("4/4", "16ths", "s s? t . s!"))
    assert exercise_text(opened).splitlines()[3:7] == [
        "Pickup into bar 1, 4/4",
        "beat 3 a: right hand, snare",
        "beat 4: right hand, snare, ghost; e: right hand, high-tom; a: right hand, snare, accent",
        "",
    ]


def test_an_ending_says_for_which_times_it_is() -> None:
    ended = exercise(*(bar("2/4", "8ths", "s"),) * 4, endings=(1, 2), times=3)
    lines = exercise_text(ended).splitlines()
    assert lines[1].startswith("Played 3 times")
    assert [line for line in lines if "Bar" in line] == [
        "Bar 1, 2/4", "Ending for times 1 to 2: Bar 2, 2/4", "Ending for time 3: Bar 3, 2/4", "Bar 4, 2/4",
    ]  # fmt: skip


def test_a_swell_is_said_at_the_strokes_that_it_goes_between() -> None:
    base = exercise(bar("2/4", "8ths", "s"))
    there_and_back = (Swell(Fraction(0), Fraction(1, 8)), Swell(Fraction(1, 8), Fraction(3, 8), louder=False))
    swelled = replace(base, pattern=replace(base.pattern, swells=there_and_back))
    assert exercise_text(swelled).splitlines()[4:] == [
        "beat 1: right hand, snare, louder from here; &: right hand, snare, to here, softer from here",
        "beat 2: right hand, snare; &: right hand, snare, to here",
    ]


def test_a_beat_without_a_stroke_is_silence() -> None:
    assert "beat 2: silence\n" in exercise_text(exercise(bar("2/4", "16ths", "s s s s . . . .")))


def test_what_an_author_says_is_read_without_its_marks() -> None:
    said = replace(GROOVE, instruction=("Let the *left* hand **fall**; 2 * 3 makes six.",), said=True)
    assert exercise_text(said).splitlines()[1] == "Let the left hand fall; 2 * 3 makes six."


def test_it_begins_with_number_title_and_how_it_is_played() -> None:
    assert exercise_text(GROOVE).splitlines()[:2] == [
        "1.2 As a groove",
        "Played again and again, from 60 to 100 beats a minute. Level 3; playable up to 140.",
    ]


def test_it_says_where_it_comes_from_and_what_to_do() -> None:
    grown = replace(GROOVE, parent="plain", parent_number="1.1", instruction=("Accent the strokes on 1.",))
    assert exercise_text(grown).splitlines()[1:3] == ["Grows out of 1.1.", "Accent the strokes on 1."]


def test_a_tempo_names_what_it_counts_where_that_is_not_the_quarter() -> None:
    assert "at 120 eighths a minute" in exercise_text(exercise(bar("7/8", "8ths", "s"), tempo="120"))
    assert "at 60 dotted quarters a minute" in exercise_text(exercise(bar("6/8", "8ths", "s"), tempo="60"))


def test_times_and_swing_are_said() -> None:
    swung = exercise(bar("4/4", "8ths", "s"), times=4, feel="swing-8ths", tempo=None)
    assert "Played 4 times with swung eighths. " in exercise_text(swung)
