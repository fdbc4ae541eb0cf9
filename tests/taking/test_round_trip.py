"""Out and back: every exercise of the demo book through MusicXML and through MIDI is the same music again."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from tests.published.demo import DEMO
from tests.taking.made import taken
from typeset.compose.book import Chapter, Exercise
from typeset.exchange.musicxml import Score, compressed, musicxml
from typeset.pattern.bar import Pattern
from typeset.pattern.stroke import Slot
from typeset.sound.midi import midi_file
from typeset.sound.performance import Performance

CHAPTERS = {chapter.number: chapter for chapter in DEMO.chapters}


@pytest.fixture(scope="module")
def through_scores(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Exercise]:
    """Every exercise of the demo book by its title, taken from a compressed score of its chapter."""
    found: dict[str, Exercise] = {}
    for number, chapter in CHAPTERS.items():
        score = compressed(musicxml(Score(chapter.title, chapter.exercises, "Lantern Yard Studio", str(number))))
        folder = tmp_path_factory.mktemp("scores")
        found |= {one.title: one for one in taken(score, folder, "chapter.mxl").exercises}
    return found


def struck(pattern: Pattern) -> list[tuple[Fraction, Slot]]:
    """What sounds when; on which grid it is written is left out, for a file may write eighths for sixteenths."""
    return [(onset, slot) for onset, slot in zip(pattern.onsets, pattern.slots, strict=True) if slot]


def facts(exercise: Exercise) -> dict[str, Any]:
    pattern = exercise.pattern
    return {
        "strokes": struck(pattern),
        "meters": [bar.meter for bar in pattern.bars],
        "pickup": pattern.pickup and pattern.pickup.slots,
        "endings": pattern.endings,
        "swells": pattern.swells,
        "tempo": exercise.tempo,
        "feel": exercise.feel,
        "plays on": exercise.plays_on,
        "times": exercise.times,
    }


@pytest.mark.parametrize("exercise", DEMO.exercises, ids=lambda one: one.id)
def test_through_a_score_it_is_the_same_limbs_and_all(
    exercise: Exercise, through_scores: dict[str, Exercise]
) -> None:
    assert facts(through_scores[exercise.title]) == facts(exercise)


def heard(pattern: Pattern, passes: int = 1) -> list[tuple[Fraction, list[tuple[str, str, str]]]]:
    """What is heard, whoever plays it, so many times over."""
    return [
        (onset + turn * pattern.length, sorted(_heard(slot)))
        for turn in range(passes)
        for onset, slot in struck(pattern)
    ]


def _heard(slot: Slot) -> list[tuple[str, str, str]]:
    return [(one.sound.name, one.dynamic.value, one.ornament.value if one.ornament else "") for one in slot]


@pytest.mark.parametrize("exercise", DEMO.exercises, ids=lambda one: one.id)
def test_through_midi_it_sounds_the_same(exercise: Exercise, tmp_path: Path) -> None:
    (found,) = taken(midi_file(exercise), tmp_path).exercises
    # What repeats inside an exercise is found to be a shorter loop.
    passes = exercise.pattern.length / found.pattern.length
    assert passes.denominator == 1
    assert heard(found.pattern, int(passes)) == heard(exercise.pattern)
    assert found.plays_on == exercise.plays_on
    assert found.tempo is not None
    assert exercise.tempo is not None
    assert found.tempo.start == exercise.tempo.start


@pytest.mark.parametrize("name", ["hinge-groove", "sill-six", "seven-stride"])
def test_a_ladder_of_tempos_is_one_exercise_with_a_start_and_a_goal(name: str, tmp_path: Path) -> None:
    exercise = next(one for one in DEMO.exercises if one.id == name)
    (found,) = taken(midi_file(exercise, Performance(ladder=20, times=2)), tmp_path).exercises
    assert found.tempo == exercise.tempo


def test_without_click_and_count_in_it_is_the_same(tmp_path: Path) -> None:
    exercise = next(one for one in DEMO.exercises if one.id == "hinge-groove")
    (found,) = taken(midi_file(exercise, Performance(click=False, count_in=False)), tmp_path).exercises
    assert heard(found.pattern) == heard(exercise.pattern)


def test_a_whole_book_is_one_chapter(tmp_path: Path) -> None:
    some = [chapter.exercises[:2] for chapter in DEMO.chapters]
    score = Score(DEMO.title, tuple(one for few in some for one in few), DEMO.author)
    (chapter,) = taken(musicxml(score).encode(), tmp_path, "book.musicxml").chapters
    assert isinstance(chapter, Chapter)
    assert [one.title for one in chapter.exercises] == [one.title for few in some for one in few]
