"""MIDI files as other programs and players make them, and files that nobody should send."""

from __future__ import annotations

import io
import time
from pathlib import Path

import mido
import pytest

from tests.taking.made import beat, midi, played, taken
from typeset.problem import BookError
from typeset.taking import take
from typeset.taking.midi import read_midi
from typeset.taking.piece import NotRead

HAT = beat("x.x.x.x.x.x.x.x.", 42)
SNARE = beat("....X.......X...", 38)
KICK = beat("x.......x.x.....", 36)
GROOVE = [*HAT, *SNARE, *KICK]


def later(hits: list[tuple[float, int, int]], quarters: float) -> list[tuple[float, int, int]]:
    return [(at + quarters, key, velocity) for at, key, velocity in hits]


def test_a_groove_becomes_one_exercise_with_its_tempo(tmp_path: Path) -> None:
    (exercise,) = taken(midi(GROOVE, tempo=96), tmp_path).exercises
    assert played(exercise.pattern) == ["R(hi-hat)+K R(hi-hat) R(hi-hat)+L! R(hi-hat) R(hi-hat)+K R(hi-hat)+K "
                                        "R(hi-hat)+L! R(hi-hat)"]  # fmt: skip
    assert exercise.tempo is not None
    assert exercise.tempo.start == 96


def test_what_is_played_again_is_a_loop_of_what_is_played_once(tmp_path: Path) -> None:
    (exercise,) = taken(midi(GROOVE + later(GROOVE, 4) + later(GROOVE, 8)), tmp_path).exercises
    assert len(exercise.pattern.bars) == 1
    assert exercise.plays_on


def test_what_is_played_once_ends(tmp_path: Path) -> None:
    (exercise,) = taken(midi(GROOVE + later(HAT, 4)), tmp_path).exercises
    assert len(exercise.pattern.bars) == 2
    assert not exercise.plays_on


def test_a_bar_of_clicks_before_it_is_left_out_and_the_click_too(tmp_path: Path) -> None:
    click = [(number, 76, 100) for number in range(8)]
    (exercise,) = taken(midi(later(GROOVE, 4), click), tmp_path).exercises
    assert len(exercise.pattern.bars) == 1


def test_strokes_at_the_end_of_the_count_in_are_a_pickup(tmp_path: Path) -> None:
    click = [(number, 76, 100) for number in range(8)]
    pickup = [(3.25, 38, 84), (3.5, 38, 84), (3.75, 38, 84)]
    (exercise,) = taken(midi([*pickup, *later(GROOVE, 4)], click), tmp_path).exercises
    assert exercise.pattern.pickup is not None
    assert len(exercise.pattern.pickup.slots) == 3
    assert len(exercise.pattern.bars) == 1


def test_markers_part_a_file_into_exercises(tmp_path: Path) -> None:
    marks = [(0, "Walking"), (8, "Turning")]
    both = GROOVE + later(GROOVE, 4) + later(HAT, 8) + later(HAT, 12)
    walking, turning = taken(midi(both, markers=marks), tmp_path).exercises
    assert (walking.title, turning.title) == ("Walking", "Turning")


def test_a_long_rest_parts_a_file_too(tmp_path: Path) -> None:
    assert len(taken(midi(GROOVE + later(HAT, 4 * 8)), tmp_path).exercises) == 2


def test_keys_that_nothing_stands_for_are_listed(tmp_path: Path) -> None:
    file = tmp_path / "claps.mid"
    file.write_bytes(midi([*GROOVE, (1.0, 39, 90), (3.0, 54, 90)]))
    found = take(file)
    assert [problem.what for problem in found.left_out] == [
        "no sound of ours stands for hand clap (key 39), tambourine (key 54); left out"
    ]
    assert "hand clap (key 39)" in found.text


def test_other_channels_are_named_and_left_alone(tmp_path: Path) -> None:
    file = mido.MidiFile(file=io.BytesIO(midi(GROOVE)))
    file.tracks.append(mido.MidiTrack([mido.Message("note_on", channel=0, note=60, velocity=90, time=0)]))
    content = io.BytesIO()
    file.save(file=content)
    assert any("notes on 1 too" in remark for remark in read_midi(content.getvalue(), "x").remarks)


def test_a_players_unsteadiness_is_evened_out(tmp_path: Path) -> None:
    unsteady = [
        (max(at + (0.012 if number % 3 else -0.01), 0), key, velocity - number % 4)
        for number, (at, key, velocity) in enumerate(sorted(GROOVE + later(GROOVE, 4)))
    ]
    (exercise,) = taken(midi(unsteady, tempo=100), tmp_path).exercises
    assert {len(bar.slots) for bar in exercise.pattern.bars} == {8}


def test_what_stands_far_off_the_grid_is_doubtful(tmp_path: Path) -> None:
    file = tmp_path / "off.mid"
    file.write_bytes(midi([*GROOVE, *later(HAT, 4), (5.53, 38, 84)], tempo=40))
    assert "could also be meant elsewhere" in take(file).text


def test_threes_without_their_middle_could_be_swing(tmp_path: Path) -> None:
    swung = [(number + offset, 42, 84) for number in range(4) for offset in (0, 2 / 3)]
    file = tmp_path / "swung.mid"
    file.write_bytes(midi(swung))
    assert "# triplets without their middle could also be grid: 8ths with feel: swing-8ths" in take(file).text


@pytest.mark.parametrize(("meter", "said"), [((7, 8), "7/8"), ((6, 8), "6/8"), ((5, 4), "5/4")])
def test_meters_are_kept(meter: tuple[int, int], said: str, tmp_path: Path) -> None:
    eighths = 8 * meter[0] // meter[1]
    (exercise,) = taken(midi(beat("x" * eighths, 42, step=0.5), meter=meter), tmp_path).exercises
    assert {str(bar.meter) for bar in exercise.pattern.bars} == {said}


def test_a_meter_that_has_to_say_its_beats_is_grouped_and_doubtful(tmp_path: Path) -> None:
    file = tmp_path / "eleven.mid"
    file.write_bytes(midi(beat("x" * 11, 42, step=0.5), meter=(11, 8)))
    text = take(file).text
    assert "meter: 11/8 (3+3+3+2)" in text
    assert "# 11/8 could also be grouped otherwise than 3+3+3+2" in text


def refusal(content: bytes) -> str:
    with pytest.raises(NotRead) as refused:
        read_midi(content, "x")
    return str(refused.value)


def test_a_file_without_drums_says_where_its_notes_are() -> None:
    file = mido.MidiFile()
    file.tracks.append(mido.MidiTrack([mido.Message("note_on", channel=2, note=60, velocity=90)]))
    content = io.BytesIO()
    file.save(file=content)
    assert refusal(content.getvalue()) == "there are no drums on channel 10 in this file; its notes are on 3"


def test_tracks_that_do_not_belong_together_are_refused() -> None:
    assert "format 2" in refusal(midi(GROOVE, kind=2))


def test_film_frames_are_refused() -> None:
    content = bytearray(midi(GROOVE))
    content[12:14] = b"\xe7\x28"
    assert "film frames" in refusal(bytes(content))


@pytest.mark.parametrize("length", [0, 4, 13, 20, 60])
def test_a_file_that_breaks_off_is_refused(length: int) -> None:
    assert "no sound MIDI file" in refusal(midi(GROOVE)[:length])


def test_a_number_that_never_ends_is_refused_at_once() -> None:
    begun = time.perf_counter()
    hostile = midi(GROOVE)[:14] + b"MTrk" + (3_000_000).to_bytes(4, "big") + b"\xff" * 3_000_000
    assert "never ends" in refusal(hostile)
    assert time.perf_counter() - begun < 5


def test_a_file_that_lasts_for_days_is_refused() -> None:
    assert "lasts longer" in refusal(midi([*GROOVE, (100_000.0, 36, 90)]))


def test_hours_of_bars_are_refused(tmp_path: Path) -> None:
    file = tmp_path / "hours.mid"
    file.write_bytes(midi([*GROOVE, (9_000.0, 36, 90)]))
    with pytest.raises(BookError, match="more than 2,000 bars"):
        take(file)


def test_titles_in_any_letters_are_kept_and_what_cannot_be_printed_is_not(tmp_path: Path) -> None:
    file = mido.MidiFile(file=io.BytesIO(midi(GROOVE)), charset="utf-8")
    file.tracks[0].insert(0, mido.MetaMessage("track_name", name="Höfe \x07: #2"))
    file.charset = "utf-8"
    content = io.BytesIO()
    file.save(file=content)
    (exercise,) = taken(content.getvalue(), tmp_path).exercises
    assert exercise.title == "Höfe : #2"
