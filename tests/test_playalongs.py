"""Play-alongs of a whole book, and the forms of `show` that are heard or handed on."""

from __future__ import annotations

from pathlib import Path

import pytest
import soundfile

from tests.test_cli import shedbook
from typeset import pipeline
from typeset.built import Run
from typeset.playalongs import Recorded, record
from typeset.sound.performance import AS_WRITTEN, Performance

CHAPTER = """\
chapter: First steps
sequences: {stairs: R L R K L}
set: {tempo: 120-200}
exercises:
  - {id: plain, title: Plain, start: stairs, times: 1}
  - {id: twice, title: Twice as many, start: stairs, grid: 8ths, times: 1}
"""

RUN = Run(jobs=1)


@pytest.fixture
def chapter(tmp_path: Path) -> Path:
    file = tmp_path / "first-steps.yaml"
    file.write_text(CHAPTER)
    return file


def record_all(chapter: Path, performance: Performance = AS_WRITTEN, run: Run = RUN) -> Recorded:
    return record(pipeline.check(chapter).sound_book(), chapter.parent / "out", "opus", performance, run)


def test_each_exercise_is_recorded_in_a_file_named_by_its_number(chapter: Path) -> None:
    assert record_all(chapter) == Recorded(chapter.parent / "out", made=2, kept=0)
    assert sorted(file.name for file in (chapter.parent / "out").iterdir()) == ["1.1.opus", "1.2.opus"]
    with soundfile.SoundFile(chapter.parent / "out" / "1.2.opus") as second:
        assert (second.title, second.album, second.tracknumber) == ("1.2 Twice as many", "First steps", "2")


def test_what_stands_is_not_recorded_again(chapter: Path) -> None:
    record_all(chapter)
    before = (chapter.parent / "out" / "1.1.opus").stat().st_mtime_ns
    assert record_all(chapter).made == 0
    assert (chapter.parent / "out" / "1.1.opus").stat().st_mtime_ns == before


def test_only_what_changed_is_recorded_again(chapter: Path) -> None:
    record_all(chapter)
    chapter.write_text(CHAPTER.replace("grid: 8ths", "grid: triplets"))
    assert record_all(chapter) == Recorded(chapter.parent / "out", made=1, kept=1)


def test_another_way_of_playing_is_another_recording(chapter: Path) -> None:
    record_all(chapter)
    assert record_all(chapter, Performance(click=False)).made == 2


def test_asked_to_start_afresh_it_records_everything(chapter: Path) -> None:
    record_all(chapter)
    assert record_all(chapter, run=Run(jobs=1, fresh=True)).made == 2


def test_it_tells_how_far_it_is(chapter: Path) -> None:
    told: list[tuple[int, int]] = []
    record_all(chapter, run=Run(jobs=2, progress=lambda done, total: told.append((done, total))))
    assert told == [(1, 2), (2, 2)]


def test_recordings_of_exercises_that_are_gone_are_named_and_left_alone(chapter: Path) -> None:
    record_all(chapter)
    beside = chapter.parent / "out" / "my own take.opus"
    beside.write_bytes(b"")
    chapter.write_text(
        CHAPTER.replace("  - {id: twice, title: Twice as many, start: stairs, grid: 8ths, times: 1}\n", "")
    )
    assert record_all(chapter).strays == ("1.2.opus",)
    assert (chapter.parent / "out" / "1.2.opus").exists()


def test_a_damaged_recording_is_made_again(chapter: Path) -> None:
    record_all(chapter)
    (chapter.parent / "out" / "1.1.opus").write_bytes(b"OggS and nothing more")
    assert record_all(chapter).made == 1


def test_the_command_says_what_it_recorded_and_where(chapter: Path, tmp_path: Path) -> None:
    done = shedbook("sound", chapter, "--times", "1", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    folder = Path("build") / "first-steps-sound"
    assert done.stdout == f"{folder}: 2 recordings made, 0 as they were\n"
    assert (tmp_path / folder / "1.1.opus").exists()


@pytest.mark.parametrize(("form", "opening"), [("midi", b"MThd"), ("musicxml", b"<?xml"), ("mxl", b"PK")])
def test_the_command_shows_an_exercise_in_the_form_asked_for(
    form: str, opening: bytes, chapter: Path, tmp_path: Path
) -> None:
    out = tmp_path / "shown"
    done = shedbook("show", chapter, "plain", "--as", form, "--out", out)
    assert done.returncode == 0, done.stderr
    assert out.read_bytes().startswith(opening)


def test_a_score_named_mxl_is_compressed(chapter: Path, tmp_path: Path) -> None:
    shedbook("show", chapter, "--as", "musicxml", "--out", tmp_path / "book.mxl")
    assert (tmp_path / "book.mxl").read_bytes().startswith(b"PK")


def test_a_swing_that_cannot_be_read_is_the_commands_wrong_use(chapter: Path) -> None:
    done = shedbook("show", chapter, "plain", "--as", "midi", "--out", "x.mid", "--swing", "hard")
    assert done.returncode == 2
    assert done.stderr == "shedbook: 'hard' is no swing; write it as 2:1, 3:2, or 16ths 3:2\n"


def test_only_a_score_holds_more_than_one_exercise(chapter: Path) -> None:
    done = shedbook("show", chapter, "--as", "text")
    assert done.returncode == 2
    assert "say which, by its id or its number" in done.stderr
