"""Our MIDI held to the General MIDI key map, to two readers of MIDI files, and to LilyPond's own MIDI.

Sources: the General MIDI 1 percussion key map (MIDI Manufacturers Association, 1991), by the names in
pretty_midi, by music21's percussion mapper, and by the drum table in LilyPond's wheel; the length of a
file by mido, the onsets by pretty_midi; LilyPond's MIDI of the score that it engraves.
"""

from __future__ import annotations

import io
import re
import subprocess
from collections import Counter
from fractions import Fraction
from pathlib import Path

import mido
import pretty_midi
import pytest
from music21.midi.percussion import PercussionMapper

from tests.notation.made import bar, picked_up, pickup
from tests.notation.made import system as a_system
from tests.published.demo import DEMO
from tests.sound.made import exercise, is_struck
from typeset.compose.book import Exercise
from typeset.compose.engraving import System
from typeset.engrave.lilypond import engraver, staff_settings
from typeset.engrave.places import places_of
from typeset.engrave.score import system_text
from typeset.pattern.sound import SOUNDS
from typeset.pattern.swing import Swing
from typeset.sound.midi import midi_file
from typeset.sound.performance import Performance
from typeset.style.music import Staff

KEY_NAMES = {
    "kick": "Bass Drum 1", "snare": "Acoustic Snare", "cross-stick": "Side Stick", "rim-shot": "Electric Snare",
    "hi-hat": "Closed Hi Hat", "open-hi-hat": "Open Hi Hat", "hi-hat-foot": "Pedal Hi Hat",
    "ride": "Ride Cymbal 1", "ride-bell": "Ride Bell", "crash": "Crash Cymbal 1", "splash": "Splash Cymbal",
    "china": "Chinese Cymbal", "high-tom": "High Tom", "mid-tom": "Low-Mid Tom", "floor-tom": "High Floor Tom",
    "cowbell": "Cowbell",
}  # fmt: skip

KEY_INSTRUMENTS = {
    "kick": "BassDrum", "snare": "SnareDrum", "cross-stick": "SnareDrum", "hi-hat": "HiHatCymbal",
    "open-hi-hat": "HiHatCymbal", "hi-hat-foot": "HiHatCymbal", "crash": "CrashCymbals",
    "high-tom": "TomTom", "mid-tom": "TomTom", "floor-tom": "TomTom", "cowbell": "Cowbell",
}  # fmt: skip
"""The class that music21 has for a key; it has none for the others."""

# How many of its tempo unit a bar has, for every meter that is offered (common practice, no source).
UNITS = {
    **{f"{top}/4": top for top in range(2, 8)},
    **{f"{top}/2": top for top in range(2, 5)},
    "5/4 (3+2)": 5, "6/8": 2, "9/8": 3, "12/8": 4, "15/8": 5,
    **{f"{top}/8": top for top in (3, 4, 5, 7, 8, 10, 14)},
    "7/8 (3+2+2)": 7, "9/8 (2+2+2+3)": 9, "11/8 (3+3+3+2)": 11, "13/8 (3+2+3+2+3)": 13,
}  # fmt: skip

IN_QUARTERS = ("quarters", "8ths", "triplets", "16ths", "quintuplets", "sextuplets", "septuplets", "32nds")
IN_EIGHTHS = ("8ths", "16ths", "32nds")

AS_ONE_BAR = Performance(times=1, click=False)


def onsets(content: bytes, instrument: str = "Drums") -> list[float]:
    """When pretty_midi hears an instrument, in seconds."""
    heard = pretty_midi.PrettyMIDI(io.BytesIO(content))
    return sorted(note.start for one in heard.instruments if one.name == instrument for note in one.notes)


@pytest.mark.parametrize("sound", SOUNDS)
def test_every_sound_has_its_key_in_the_general_midi_map(sound: str) -> None:
    assert pretty_midi.note_number_to_drum_name(SOUNDS[sound].midi) == KEY_NAMES[sound]


@pytest.mark.parametrize("sound", KEY_INSTRUMENTS)
def test_music21_makes_the_same_instrument_of_it(sound: str) -> None:
    made = PercussionMapper().midiPitchToInstrument(SOUNDS[sound].midi)
    assert type(made).__name__ == KEY_INSTRUMENTS[sound]


def test_lilypond_gives_the_same_key_to_every_drum_that_we_name_to_it() -> None:
    table = next(engraver().parents[1].glob("share/lilypond/*/ly/drumpitch-init.ly")).read_text(encoding="utf-8")
    made = re.findall(r"\((\w+) \. ,\(ly:make-pitch (-?\d+) (\d) (\w+)\)\)", table)
    alteration = {"NATURAL": 0, "SHARP": 1, "FLAT": -1, "DOUBLE-SHARP": 2, "DOUBLE-FLAT": -2}
    scale = (0, 2, 4, 5, 7, 9, 11)
    keys = {
        drum: 60 + 12 * int(octave) + scale[int(step)] + alteration[accidental]
        for drum, octave, step, accidental in made
    }
    assert {sound.drum: keys[sound.drum] for sound in SOUNDS.values()} == {
        sound.drum: sound.midi for sound in SOUNDS.values()
    }


@pytest.mark.parametrize("meter", UNITS)
def test_in_every_meter_and_grid_the_bar_lasts_as_long_as_its_units_and_its_strokes_divide_it_evenly(
    meter: str,
) -> None:
    tempo = 90
    lasts = UNITS[meter] * 60 / tempo
    for grid in IN_EIGHTHS if "/8" in meter else IN_QUARTERS:
        full = bar(meter, grid, "s")
        content = midi_file(exercise(full, tempo=str(tempo)), AS_ONE_BAR)
        assert mido.MidiFile(file=io.BytesIO(content)).length == pytest.approx(2 * lasts, abs=1e-4), grid
        slots = len(full.slots)
        assert onsets(content) == pytest.approx([lasts * (1 + slot / slots) for slot in range(slots)], abs=1e-4), (
            grid
        )


@pytest.mark.parametrize(
    ("grids", "parts"),
    [
        ("16ths 16ths sextuplets 16ths", (4, 4, 6, 4)),
        ("quarters 8ths triplets 32nds", (1, 2, 3, 8)),
        ("quintuplets septuplets", (5, 7, 5, 7)),
    ],
)
def test_in_a_mixed_grid_each_quarter_is_divided_for_itself(grids: str, parts: tuple[int, ...]) -> None:
    content = midi_file(exercise(bar("4/4", grids, "s"), tempo="60"), AS_ONE_BAR)
    expected = [4 + quarter + part / count for quarter, count in enumerate(parts) for part in range(count)]
    assert onsets(content) == pytest.approx(expected, abs=1e-4)


def test_the_unit_of_the_first_bar_goes_through_an_exercise_of_several_meters() -> None:
    bars = (bar("4/4", "quarters", "s"), bar("7/8", "8ths", "s"), bar("6/8", "8ths", "s"))
    content = midi_file(exercise(*bars, tempo="60"), AS_ONE_BAR)
    quarters = [0, 1, 2, 3, *(4 + eighth / 2 for eighth in range(13))]
    assert onsets(content) == pytest.approx([4 + quarter for quarter in quarters], abs=1e-4)


def test_pretty_midi_hears_drums_and_nothing_else() -> None:
    heard = pretty_midi.PrettyMIDI(io.BytesIO(midi_file(DEMO.exercises[0])))
    assert [one.name for one in heard.instruments if one.is_drum] == ["Drums", "Click"]
    assert len(heard.instruments) == 2


def test_every_exercise_of_the_demo_book_lasts_as_long_as_it_says() -> None:
    for one in DEMO.exercises:
        assert one.tempo
        units = one.pattern.length / one.tempo_unit
        content = midi_file(one, Performance(times=2, count_in=False, click=False, ladder=10))
        rungs = [*range(one.tempo.start, one.tempo.goal, 10), one.tempo.goal]
        lasts = sum(2 * float(units) * 60 / tempo for tempo in rungs)
        assert mido.MidiFile(file=io.BytesIO(content)).length == pytest.approx(lasts, abs=1e-3), one.id


def test_lilypond_plays_the_score_of_every_demo_exercise_as_we_do(tmp_path: Path) -> None:
    straight = Performance(times=1, click=False, count_in=False, swing=Swing(1, 1))
    theirs = lilypond_plays([system for one in DEMO.exercises for system in one.systems], tmp_path)
    for one in DEMO.exercises:
        ours = struck(mido.MidiFile(file=io.BytesIO(midi_file(one, straight))))
        start, engraved = Fraction(0), []
        for system in one.systems:
            engraved += [(start + time, key) for time, key in theirs[system]]
            start += sum(each.meter.length for each in system.bars)
        assert in_slots(one, engraved) == in_slots(one, ours) == printed_in_slots(one), one.id


@pytest.mark.parametrize(
    ("meter", "grid", "before"),
    [("4/4", "16ths", "s s t"), ("4/4", "triplets", "t"), ("4/4", "triplets", "s s s t"), ("6/8", "8ths", "s t")],
)
def test_lilypond_plays_a_pickup_before_bar_1_as_we_do(meter: str, grid: str, before: str, tmp_path: Path) -> None:
    opened = picked_up(a_system(bar(meter, grid, "h k s")), pickup(meter, grid, before))
    theirs = lilypond_plays([opened], tmp_path)[opened]
    one = exercise(*opened.bars, pickup=opened.pickup, tempo="60")
    ours = struck(mido.MidiFile(file=io.BytesIO(midi_file(one, Performance(times=1, click=False, count_in=False)))))
    assert [key for _, key in theirs] == [key for _, key in ours]
    assert [float(time) for time, _ in theirs] == pytest.approx([float(time) for time, _ in ours], abs=1e-3)


def test_lilypond_too_plays_the_grace_strokes_of_flams_and_drags_before_their_beats(tmp_path: Path) -> None:
    graced = bar("4/4", "8ths", "s sf h? hg . hsf k t")
    engraved = a_system(graced)
    theirs = lilypond_plays([engraved], tmp_path)[engraved]
    one = exercise(graced, tempo="60")
    straight = Performance(times=1, click=False, count_in=False)
    ours = struck(mido.MidiFile(file=io.BytesIO(midi_file(one, straight))))
    assert in_slots(one, theirs) == in_slots(one, ours)
    assert sorted(key for _, key in theirs) == sorted(key for _, key in ours)
    assert len(ours) == len(printed_in_slots(one)) + 4


def lilypond_plays(systems: list[System], folder: Path) -> dict[System, list[tuple[Fraction, int]]]:
    """What LilyPond's MIDI strikes of each system, from the very text that is engraved; nothing is drawn."""
    wanted = list(dict.fromkeys(systems))
    books = []
    for index, system in enumerate(wanted):
        score = system_text(system, Staff(), places_of(system, 1.5)).strip().removesuffix("}")
        books.append(f'\\book {{ \\bookOutputName "system{index}" {score} \\midi {{ }} }} }}')
    opening = "#(define shed-above 11) #(define shed-drums (alist->hash-table '()))"
    source = folder / "systems.ly"
    source.write_text("\n".join(['\\version "2.24.0"', opening, staff_settings(), *books]), encoding="utf-8")
    subprocess.run([engraver(), "--loglevel=ERROR", source.name], cwd=folder, check=True)
    return {
        system: struck(mido.MidiFile(next(folder.glob(f"system{index}.mid*"))))
        for index, system in enumerate(wanted)
    }


def struck(file: mido.MidiFile) -> list[tuple[Fraction, int]]:
    """What a file strikes: when, in whole notes from its start, and which key."""
    found = []
    for track in file.tracks:
        tick = 0
        for message in track:
            tick += message.time
            if is_struck(message):
                found.append((Fraction(tick, 4 * file.ticks_per_beat), message.note))
    return found


def in_slots(one: Exercise, notes: list[tuple[Fraction, int]]) -> Counter[tuple[int, int]]:
    """How often each key is struck in each slot. What is struck between slots is an ornament, and left out.

    LilyPond's MIDI has 384 ticks in a quarter, which fives and sevens do not divide: a tick's error is let pass.
    """
    tick = Fraction(1, 4 * 384)
    found: Counter[tuple[int, int]] = Counter()
    for slot, onset in enumerate(one.pattern.onsets):
        found.update((slot, key) for time, key in notes if abs(time - onset) <= tick)
    return found


def printed_in_slots(one: Exercise) -> Counter[tuple[int, int]]:
    """The same from the exercise itself: two hands on one drum are one head, and one sound."""
    return Counter(
        (slot, key)
        for slot, strokes in enumerate(one.pattern.slots)
        for key in {stroke.sound.midi for stroke in strokes}
    )
