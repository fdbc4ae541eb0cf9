"""MIDI files, read back with mido."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from tests.notation.made import bar, pickup
from tests.sound.made import exercise, messages, read, struck
from typeset.pattern.swell import Swell
from typeset.pattern.swing import Swing
from typeset.sound.midi import midi_file
from typeset.sound.performance import Performance
from typeset.sound.strokes import TICKS

BAR = TICKS
GROOVE = bar("4/4", "8ths", "hk h hs! h? hk h hs! h")
FILL = bar("7/8", "16ths", "s")


def test_all_is_played_on_channel_ten() -> None:
    file = read(midi_file(exercise(GROOVE)))
    channels = {message.channel for track in file.tracks for message in track if not message.is_meta}
    assert {channel + 1 for channel in channels} == {10}


def test_a_bar_of_clicks_comes_first() -> None:
    content = midi_file(exercise(GROOVE, times=1), Performance(click=False))
    assert [tick for tick, *_ in struck(content, "Click")] == [0, BAR // 4, BAR // 2, BAR * 3 // 4]
    assert struck(content)[0][0] == BAR


def test_the_click_goes_on_beside_the_drums() -> None:
    content = midi_file(exercise(GROOVE, times=2))
    assert len(struck(content, "Click")) == 3 * 4


def test_without_click_and_count_in_the_file_has_the_drums_alone() -> None:
    content = midi_file(exercise(GROOVE), Performance(click=False, count_in=False))
    assert [track.name for track in read(content).tracks] == ["1.2 As a groove", "Drums"]
    assert struck(content)[0][0] == 0


def test_the_passes_follow_each_other_without_a_gap() -> None:
    content = midi_file(exercise(GROOVE, times=3), Performance(count_in=False))
    once = [tick for tick, *_ in struck(content) if tick < BAR]
    assert [tick for tick, *_ in struck(content)] == [turn * BAR + tick for turn in range(3) for tick in once]


def test_a_pickup_is_played_once_into_the_end_of_the_count_in() -> None:
    content = midi_file(exercise(GROOVE, times=2, pickup=pickup("4/4", "8ths", "t c")))
    ticks = [tick for tick, key, _ in struck(content) if key in (49, 50)]
    assert ticks == [BAR * 3 // 4, BAR * 7 // 8]
    assert len([tick for tick, *_ in struck(content, "Click") if tick < BAR]) == 4
    assert read(content).length == pytest.approx(3 * 4 * 60 / 60)


def test_without_a_count_in_the_file_begins_with_the_pickup_and_bar_1_follows() -> None:
    content = midi_file(
        exercise(GROOVE, times=1, pickup=pickup("4/4", "16ths", "s s s")), Performance(count_in=False)
    )
    assert [tick for tick, *_ in struck(content)][:4] == [0, BAR // 16, BAR // 8, BAR * 3 // 16]
    assert struck(content, "Click")[0][0] == BAR * 3 // 16
    meters = [tick for tick, one in messages(content, "1.2 As a groove") if one.type == "time_signature"]
    assert meters == [BAR * 3 // 16]


ENDED = (bar("4/4", "quarters", "s"), bar("4/4", "quarters", "t"), bar("4/4", "quarters", "c"))
"""A body of one bar with two endings."""


@pytest.mark.parametrize(("times", "heard"), [(None, "stsc"), (3, "ststsc"), (2, "stsc")])
def test_each_pass_ends_with_its_own_ending(times: int | None, heard: str) -> None:
    content = midi_file(exercise(*ENDED, endings=(1, 1), times=times))
    names = {38: "s", 50: "t", 49: "c"}
    assert "".join(names[key] for tick, key, _ in struck(content) if tick % BAR == 0) == heard
    assert read(content).length == pytest.approx((1 + len(heard)) * 4)


def test_a_swell_goes_over_the_bars_on_every_pass() -> None:
    base = exercise(bar("2/4", "8ths", "s"), bar("2/4", "8ths", "s"), times=2)
    swelled = replace(base, pattern=replace(base.pattern, swells=(Swell(Fraction(0), Fraction(7, 8)),)))
    velocities = [velocity for _, _, velocity in struck(midi_file(swelled))]
    assert velocities[:8] == sorted(velocities[:8]) and velocities[0] < velocities[7]
    assert velocities[8:] == velocities[:8]


def test_a_pickup_swings_where_its_beat_does() -> None:
    played = exercise(GROOVE, feel="swing-8ths", times=1, pickup=pickup("4/4", "8ths", "c"))
    content = midi_file(played, Performance(click=False))
    assert struck(content)[0][0] == BAR - BAR // 12


def test_each_rung_of_a_ladder_is_counted_in_and_played_as_often() -> None:
    content = midi_file(exercise(GROOVE, tempo="60-80"), Performance(ladder=10, times=2))
    conductor = list(messages(content, "1.2 As a groove"))
    tempos = [(tick / BAR, round(60e6 / one.tempo)) for tick, one in conductor if one.type == "set_tempo"]
    assert tempos == [(0, 60), (3, 70), (6, 80)]
    assert read(content).length == pytest.approx(sum(3 * 4 * 60 / tempo for tempo in (60, 70, 80)), abs=1e-4)


def test_each_change_of_meter_is_told_once() -> None:
    content = midi_file(exercise(GROOVE, GROOVE, FILL, times=2), Performance(count_in=False))
    told = [
        (tick / BAR, one.numerator, one.denominator)
        for tick, one in messages(content, "1.2 As a groove")
        if one.type == "time_signature"
    ]
    assert told == [(0, 4, 4), (2, 7, 8), (2.875, 4, 4), (4.875, 7, 8)]


def test_the_tempo_counts_the_unit_of_the_first_bar() -> None:
    dotted = midi_file(exercise(bar("6/8", "8ths", "s"), tempo="80"), Performance(times=1, count_in=False))
    assert read(dotted).length == 2 * 60 / 80


def test_two_strokes_on_one_drum_sound_once_as_hard_as_the_harder() -> None:
    content = midi_file(exercise(bar("2/4", "quarters", "s!s .")), Performance(times=1, count_in=False))
    assert [(tick, velocity) for tick, _, velocity in struck(content)] == [(0, 118)]


def test_a_key_is_let_go_before_it_is_struck_again() -> None:
    down: set[int] = set()
    for _, message in messages(midi_file(exercise(bar("4/4", "16ths", "sd sz sg hs"))), "Drums"):
        if message.type == "note_on":
            assert message.note not in down
            down.add(message.note)
        elif message.type == "note_off":
            down.remove(message.note)
    assert not down


def test_without_a_count_in_all_waits_for_the_grace_strokes_of_the_first_beat() -> None:
    content = midi_file(exercise(bar("2/4", "quarters", "sf s"), loops=False), Performance(count_in=False))
    ticks = [tick for tick, *_ in struck(content)]
    assert ticks[0] == 0
    assert ticks[1] == struck(content, "Click")[0][0] > 0


def test_swing_moves_the_drums_and_not_the_click() -> None:
    straight = exercise(bar("2/4", "8ths", "s"), times=1)
    content = midi_file(straight, Performance(swing=Swing(2, 1), count_in=False))
    assert [tick for tick, *_ in struck(content)] == [0, BAR // 6, BAR // 4, BAR // 4 + BAR // 6]
    assert [tick for tick, *_ in struck(content, "Click")] == [0, BAR // 4]


def test_the_last_sound_may_ring_after_the_last_bar() -> None:
    played = exercise(GROOVE, tempo="60", times=1)
    silent = read(midi_file(played)).length
    assert read(midi_file(played, ring=1.5)).length - silent == 1.5


def test_a_title_in_any_letters_is_kept() -> None:
    content = midi_file(exercise(GROOVE, title="Für die linke Hand – 左手"))
    assert read(content).tracks[0].name == "1.2 Für die linke Hand – 左手"


def test_the_same_exercise_gives_the_same_bytes() -> None:
    assert midi_file(exercise(GROOVE)) == midi_file(exercise(GROOVE))
