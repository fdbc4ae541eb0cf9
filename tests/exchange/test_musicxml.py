"""Scores: headings, tempos, feels, repeats, instruments, and the compressed file."""

from __future__ import annotations

import io
import zipfile
from dataclasses import replace
from fractions import Fraction
from xml.etree.ElementTree import Element, fromstring

import pytest

from tests.notation.made import bar, pickup
from tests.sound.made import exercise
from typeset.compose.book import Exercise
from typeset.exchange.musicxml import Score, compressed, musicxml
from typeset.pattern.swell import Swell

GROOVE = bar("4/4", "8ths", "hk h hs! h")


def score(*exercises: Exercise, **keys: object) -> Element:
    return fromstring(musicxml(Score("Quiet Doors", exercises, **keys)))


def attributes(root: Element, path: str, name: str) -> list[str | None]:
    return [found.get(name) for found in root.iterfind(path)]


def test_a_score_names_its_title_number_and_author() -> None:
    root = score(exercise(GROOVE), author="Lantern Yard Studio", number="1.2")
    assert root.findtext("movement-title") == "Quiet Doors"
    assert root.findtext("movement-number") == "1.2"
    assert root.findtext("identification/creator") == "Lantern Yard Studio"


def test_each_sound_that_is_played_is_an_instrument_and_no_other() -> None:
    root = score(exercise(GROOVE), exercise(bar("2/4", "quarters", "c"), number="1.3"))
    names = [name.text for name in root.iterfind("part-list/score-part/score-instrument/instrument-name")]
    assert names == ["Kick", "Snare", "Hi hat", "Crash"]


def test_several_exercises_are_headed_and_begin_new_lines() -> None:
    root = score(exercise(GROOVE, title="Plain"), exercise(GROOVE, GROOVE, number="1.3", title="Twice"))
    assert [mark.text for mark in root.iter("rehearsal")] == ["1.2", "1.3"]
    assert attributes(root, ".//measure/print", "new-system") == ["yes"]
    assert attributes(root, ".//measure", "number") == ["1", "2", "3"]


def test_one_exercise_is_not_headed_twice() -> None:
    assert not list(score(exercise(GROOVE)).iter("rehearsal"))


def test_a_chapter_begins_a_new_page() -> None:
    root = score(exercise(GROOVE), exercise(GROOVE, number="2.1"), breaks=frozenset({"1.2", "2.1"}))
    assert attributes(root, ".//measure/print", "new-page") == ["yes"]


@pytest.mark.parametrize(
    ("meter", "grid", "unit", "dots", "quarters"),
    [
        ("4/4", "8ths", "quarter", 0, "60"),
        ("2/2", "8ths", "half", 0, "120"),
        ("6/8", "8ths", "quarter", 1, "90"),
        ("7/8", "8ths", "eighth", 0, "30"),
    ],
)
def test_a_tempo_is_shown_in_its_unit_and_played_in_quarters(
    meter: str, grid: str, unit: str, dots: int, quarters: str
) -> None:
    root = score(exercise(bar(meter, grid, "s"), tempo="60"))
    mark = root.find(".//metronome")
    assert mark is not None
    assert (mark.findtext("beat-unit"), len(mark.findall("beat-unit-dot"))) == (unit, dots)
    assert mark.findtext("per-minute") == "60"
    assert attributes(root, ".//direction/sound", "tempo") == [quarters]


def test_a_goal_follows_the_tempo() -> None:
    assert [words.text for words in score(exercise(GROOVE, tempo="60-100")).iter("words")] == ["–100"]


def test_a_swing_is_said_and_where_it_ends_that_too() -> None:
    root = score(exercise(GROOVE, feel="swing-16ths"), exercise(GROOVE, number="1.3"))
    first, second = root.iter("swing")
    assert [part.text for part in first] == ["2", "1", "16th"]
    assert second.find("straight") is not None


def test_straight_music_says_nothing_of_swing() -> None:
    assert not list(score(exercise(GROOVE)).iter("swing"))


def test_a_loop_stands_between_repeat_signs_that_say_how_often() -> None:
    root = score(exercise(GROOVE, GROOVE, times=4))
    assert attributes(root, ".//measure[@number='1']/barline/repeat", "direction") == ["forward"]
    assert attributes(root, ".//measure[@number='2']/barline/repeat", "times") == ["4"]


def test_a_pickup_is_an_implicit_measure_before_the_first_and_the_repeat_begins_after_it() -> None:
    root = score(
        exercise(GROOVE, pickup=pickup("4/4", "8ths", "s")),
        exercise(GROOVE, number="1.3", pickup=pickup("4/4", "triplets", "s")),
    )
    assert attributes(root, ".//measure", "number") == ["0", "1", "X1", "2"]
    assert attributes(root, ".//measure", "implicit") == ["yes", None, "yes", None]
    first, second, third, _ = root.iter("measure")
    assert first.find("attributes/time") is not None and second.find("attributes") is None
    assert first.find("barline") is None and second.find("barline/repeat") is not None
    assert third.find("print") is not None
    assert [measure.findtext("note/duration") for measure in (first, third)] == ["3", "2"]


def test_endings_are_numbered_by_the_passes_that_take_them() -> None:
    root = score(exercise(GROOVE, GROOVE, GROOVE, GROOVE, endings=(1, 2), times=3))
    endings = [(one.get("number"), one.get("type"), one.text) for one in root.iter("ending")]
    assert endings == [
        ("1,2", "start", "1.2."), ("1,2", "stop", None), ("3", "start", "3."), ("3", "discontinue", None),
    ]  # fmt: skip
    assert attributes(root, ".//repeat", "direction") == ["forward", "backward"]
    assert root.find(".//measure[@number='2']/barline/repeat") is not None
    assert root.find(".//measure[@number='4']/barline/bar-style") is not None


def test_a_swell_is_a_wedge_from_note_to_note_and_is_heard() -> None:
    base = exercise(bar("2/4", "8ths", "s"), bar("2/4", "8ths", "s"))
    swells = (Swell(Fraction(1, 8), Fraction(1, 2)), Swell(Fraction(1, 2), Fraction(7, 8), louder=False))
    root = score(replace(base, pattern=replace(base.pattern, swells=swells)))
    told = [one.get("type") or one.tag for one in root.iter() if one.tag in ("note", "wedge")]
    assert told == ["note", "crescendo", *["note"] * 3, "stop", "diminuendo", *["note"] * 4, "stop"]
    loudness = [float(note.get("dynamics", "")) for note in root.iter("note")]
    assert loudness[1] < loudness[2] < loudness[3] < loudness[4] == loudness[0]
    assert loudness[4] > loudness[5] > loudness[6] > loudness[7]


def test_what_ends_has_a_final_barline() -> None:
    root = score(exercise(GROOVE, loops=False))
    assert not list(root.iter("repeat"))
    assert [style.text for style in root.iter("bar-style")] == ["light-heavy"]


def test_a_meter_stands_where_it_changes() -> None:
    root = score(exercise(GROOVE, GROOVE, bar("7/8 (3+2+2)", "8ths", "s"), GROOVE))
    assert [beats.text for beats in root.iter("beats")] == ["4", "3+2+2", "4"]


def test_a_compressed_score_holds_the_score_where_its_container_says() -> None:
    text = musicxml(Score("Quiet Doors", (exercise(GROOVE),)))
    packed = zipfile.ZipFile(io.BytesIO(compressed(text)))
    assert packed.namelist()[0] == "mimetype"
    container = fromstring(packed.read("META-INF/container.xml"))
    root = container.find("rootfiles/rootfile")
    assert root is not None
    assert packed.read(root.get("full-path", "")).decode() == text
    assert compressed(text) == compressed(text)
