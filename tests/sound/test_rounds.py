"""What a player in a browser is told, held against the MIDI file of the same exercise."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.notation.made import bar, pickup
from tests.sound.made import exercise, struck
from typeset.compose.book import Exercise
from typeset.pattern.swell import Swell
from typeset.pattern.swing import Swing
from typeset.sound.midi import midi_file
from typeset.sound.performance import Performance
from typeset.sound.rounds import rounds_of
from typeset.sound.strokes import TICKS

GROOVE = bar("4/4", "8ths", "hk h hs! h? hk h hs! h")
FILL = bar("7/8", "16ths", "s t")


def heard_in_midi(one: Exercise, performance: Performance, track: str = "Drums") -> list[tuple[float, int, int]]:
    """(seconds, key, velocity) of one round without its count-in."""
    tempo = performance.tempo or (one.tempo.start if one.tempo else 80)
    tick = 60 / tempo / float(one.tempo_unit) / TICKS
    content = midi_file(one, replace(performance, times=len(one.pattern.endings) or 1, count_in=False))
    return [(at * tick, key, velocity) for at, key, velocity in struck(content, track)]


@pytest.mark.parametrize(
    ("one", "performance"),
    [
        (exercise(GROOVE), Performance()),
        (exercise(GROOVE, GROOVE), Performance(tempo=133)),
        (exercise(FILL, tempo="180"), Performance()),
        (exercise(bar("6/8", "8ths", "h h hs h h h")), Performance()),
        (exercise(GROOVE, feel="swing-8ths"), Performance()),
        (exercise(GROOVE), Performance(swing=Swing(3, 2))),
        (exercise(GROOVE, GROOVE, GROOVE, endings=(1, 1)), Performance()),
    ],
)
def test_a_round_sounds_as_the_midi_file_does(one: Exercise, performance: Performance) -> None:
    around = rounds_of(one, performance).round
    for sounds, track in ((around.drums, "Drums"), (around.clicks, "Click")):
        expected = sorted(heard_in_midi(one, performance, track))
        assert [(sound.key, sound.velocity) for sound in sounds] == [(key, hard) for _, key, hard in expected]
        assert [sound.time for sound in sounds] == pytest.approx([time for time, *_ in expected])


def test_a_slot_is_reached_when_its_strokes_sound() -> None:
    rounds = rounds_of(exercise(GROOVE, GROOVE, tempo="60", feel="swing-8ths"), Performance())
    assert [one.slot for one in rounds.round.reached] == list(range(16))
    hats = [sound.time for sound in rounds.round.drums if sound.key == 42]
    assert [one.time for one in rounds.round.reached] == pytest.approx(hats)
    assert rounds.round.lasts == pytest.approx(8.0)


def test_a_count_in_of_one_bar_has_the_pickup_at_its_end() -> None:
    one = exercise(GROOVE, pickup=pickup("4/4", "8ths", "t c"), tempo="60")
    rounds = rounds_of(one, Performance())
    assert [click.time for click in rounds.count_in.clicks] == pytest.approx([0, 1, 2, 3])
    assert [(round(sound.time, 6), sound.key) for sound in rounds.count_in.drums] == [(3.0, 50), (3.5, 49)]
    assert [(round(slot.time, 6), slot.slot) for slot in rounds.count_in.reached] == [(3.0, 0), (3.5, 1)]
    assert rounds.round.reached[0].slot == 2


def test_without_a_count_in_the_pickup_is_played_by_itself() -> None:
    one = exercise(GROOVE, pickup=pickup("4/4", "8ths", "t c"), tempo="60")
    alone = rounds_of(one, Performance()).pickup
    assert [(round(sound.time, 6), sound.key) for sound in alone.drums] == [(0.0, 50), (0.5, 49)]
    assert [(round(slot.time, 6), slot.slot) for slot in alone.reached] == [(0.0, 0), (0.5, 1)]
    assert (alone.clicks, alone.lasts) == ((), 1.0)


def test_where_there_is_no_pickup_nothing_comes_before_the_round() -> None:
    alone = rounds_of(exercise(GROOVE), Performance()).pickup
    assert (alone.drums, alone.reached, alone.lasts) == ((), (), 0)


def test_with_endings_a_round_passes_the_shared_bars_once_for_each() -> None:
    rounds = rounds_of(exercise(GROOVE, GROOVE, GROOVE, endings=(1, 1)), Performance())
    assert [one.slot for one in rounds.round.reached[::8]] == [0, 8, 0, 16]


def test_a_swell_is_heard() -> None:
    one = exercise(GROOVE)
    swelling = replace(
        one, pattern=replace(one.pattern, swells=(Swell(one.pattern.onsets[0], one.pattern.onsets[-1], True),))
    )
    first, *_, last = rounds_of(swelling, Performance()).round.drums
    assert first.velocity < last.velocity


def test_the_tempo_is_the_one_that_was_asked_for_or_the_exercise_s_own() -> None:
    assert rounds_of(exercise(GROOVE), Performance()).tempo == 60
    assert rounds_of(exercise(GROOVE), Performance(tempo=91)).tempo == 91
