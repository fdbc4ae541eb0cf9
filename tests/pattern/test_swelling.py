"""Swells: from where to where, and what becomes of them when the music changes."""

from fractions import Fraction

import pytest

from typeset.pattern.counts import Place
from typeset.pattern.draft import Draft, Setting, displace, set_in_time
from typeset.pattern.grid import Grid
from typeset.pattern.meter import Meter
from typeset.pattern.mirror import mirrored
from typeset.pattern.order import read_order
from typeset.pattern.phrase import Part, join_parts, unfolded, with_endings
from typeset.pattern.selection import Selection
from typeset.pattern.steps.shape import Answer, Omit, Stop
from typeset.pattern.steps.timing import Regrid, Remeter
from typeset.pattern.swell import Swell, loudness_at
from typeset.pattern.swelling import SwellError, Swelling, lay_swell
from typeset.pattern.written import write_music


def draft(order: str = "R L", bars: int = 2) -> Draft:
    return set_in_time(read_order(order), Meter.parse("2/4"), Grid.of("8ths"), Setting(bars))


def swelled(start: str = "", end: str = "", louder: bool = True, on: Draft | None = None) -> Draft:
    places = (Place.parse(text) if text else None for text in (start, end))
    return lay_swell(on or draft(), Swelling(*places, louder))


@pytest.mark.parametrize(
    ("start", "end", "written"),
    [
        ("", "", "(< R L R L | R L R L)"),
        ("1|1&", "2|2", "R (< L R L | R L R) L"),
        ("1", "2", "(< R L R) L | (< R L R) L"),
        ("2|1", "", "R L R L | (< R L R L)"),
    ],
)
def test_a_swell_goes_from_a_place_to_a_place_or_so_in_every_bar(start: str, end: str, written: str) -> None:
    assert write_music(swelled(start, end).finished) == written


def test_a_swell_may_begin_where_another_ends() -> None:
    there_and_back = swelled("1|2", "1|2&", False, swelled("1|1", "1|2"))
    assert write_music(there_and_back.finished) == "(< R L R) (> L) | R L R L"


@pytest.mark.parametrize(
    ("start", "end", "message"),
    [
        ("1|2", "1|1", "ends after it begins"),
        ("1|1", "1|1", "ends after it begins"),
        ("3", "4", "there is no count 3 here"),
        ("1", "2|1", "say in which bar 1 is"),
        ("1|1", "4|1", "there is no bar 4"),
    ],
)
def test_what_is_no_stretch_is_refused(start: str, end: str, message: str) -> None:
    with pytest.raises(SwellError, match=message):
        swelled(start, end)


def test_one_swell_over_another_is_refused() -> None:
    with pytest.raises(SwellError, match="there is a swell already"):
        swelled("1|2", "2|2", on=swelled("1|1", "2|1"))


def test_it_rises_evenly_to_what_is_written_or_falls_from_there() -> None:
    up, down = Swell(Fraction(1), Fraction(2)), Swell(Fraction(2), Fraction(3), louder=False)
    moments = [Fraction(half, 2) for half in range(1, 8)]
    assert [float(loudness_at((up, down), moment)) for moment in moments] == [1, 0, 0.5, 1, 0.5, 0, 1]


def test_it_ends_on_the_last_stroke_that_is_left() -> None:
    stopped = Stop(Place.parse("2|1")).change(swelled())
    assert write_music(stopped.finished) == "(< R L R L | R) . . ."
    omitted = Omit(Selection(at=(Place.parse("1|1"),))).change(swelled())
    assert write_music(omitted.finished).startswith(". (< L R")


def test_a_swell_with_one_stroke_left_is_none() -> None:
    assert Stop(Place.parse("1|1")).change(swelled("1|1", "1|2")).finished.swells == ()


def test_it_stays_at_its_counts_when_strokes_move_or_change_hands() -> None:
    assert displace(swelled("1|1", "1|2"), 1).pattern.swells == swelled("1|1", "1|2").pattern.swells
    assert mirrored(swelled().pattern).swells == swelled().pattern.swells


def test_on_another_grid_and_in_another_meter_it_is_laid_anew() -> None:
    again = Regrid(Grid.of("triplets")).change(swelled("1|1", "1|2"))
    assert write_music(again.finished) == "(< R L R L) R L | R L R L R L"
    longer = Remeter(Meter.parse("3/4")).change(swelled())
    assert write_music(longer.finished) == "(< R L R L R L | R L R L R L)"
    with pytest.raises(SwellError, match="there is no count 1& here"):
        Regrid(Grid.of("triplets")).change(swelled("1|1&", "1|2"))


def test_an_answer_swells_too_and_backwards_it_fades() -> None:
    assert write_music(Answer("hands").change(swelled("1|1", "1|2", on=draft("R L", 1))).finished) == (
        "(< R L R) L | (< L R L) R"
    )
    assert write_music(Answer("backwards").change(swelled("1|1", "1|2", on=draft("R L K", 1))).finished) == (
        "(< R L K) R | R (> K L R)"
    )


def test_a_phrase_keeps_the_swells_of_its_parts_as_far_as_it_plays_them() -> None:
    joined = join_parts([Part(draft("K", 1)), Part(swelled("1|2", "2|2"), bars=1, times=2)])
    assert write_music(joined.finished) == "K K K K | R L (< R L) | R L (< R L)"


def test_an_ending_keeps_its_own_and_the_body_swells_each_time() -> None:
    body, ending = swelled("1|1", "1|2", on=draft("R L", 1)), swelled("1|1&", "1|2&", False, draft("K", 1))
    ended = with_endings(body, [Part(ending), Part(draft("L", 1))])
    assert write_music(ended.finished) == "(< R L R) L | K (> K K K) | L L L L"
    assert write_music(unfolded(ended).finished) == "(< R L R) L | K (> K K K) | (< R L R) L | L L L L"
