"""Recordings, listened to by measurement."""

from __future__ import annotations

import io
from collections.abc import Iterator
from importlib import util
from pathlib import Path

import numpy
import pytest
import soundfile

from tests.notation.made import bar
from tests.sound.made import exercise
from typeset.problem import OutsideError
from typeset.sound.audio import FORMS, PEAK, Tags, mark_in, mark_of, render
from typeset.sound.performance import Performance

TAGS = Tags("1.2 As a groove", "Quiet Doors", 2, "Lantern Yard Studio")
GROOVE = exercise(bar("4/4", "8ths", "hk h hs! h k hk hs!f h"), tempo="120", times=1)
LOUDEST = exercise(bar("2/4", "16ths", "c!s!k!p! t!s!k!p! s!s!k! c!t!k!"), tempo="200", times=2)


def samples(recording: bytes) -> tuple[numpy.ndarray, int]:
    return soundfile.read(io.BytesIO(recording), always_2d=True)


def attacks(recording: bytes, expected: list[float]) -> Iterator[float]:
    """How much later than expected each attack rises above what rings before it, in seconds."""
    sound, rate = samples(recording)
    change = numpy.abs(numpy.diff(sound.mean(axis=1), prepend=0))
    for second in expected:
        at = round(second * rate)
        ringing = change[max(0, at - rate // 40) : max(1, at - rate // 500)].max()
        near = change[max(0, at - rate // 100) : at + rate // 50]
        rises = int(numpy.argmax(near > ringing + (near.max() - ringing) * 0.15))
        yield (max(0, at - rate // 100) + rises) / rate - second


@pytest.mark.parametrize("form", FORMS)
def test_every_attack_stands_within_five_milliseconds_of_the_score(form: str) -> None:
    recording = render(GROOVE, form, TAGS, Performance(click=False))
    clicks = [beat * 0.5 for beat in range(4)]
    strokes = [2 + eighth * 0.25 for eighth in range(8) if eighth != 6]
    assert all(abs(late) < 0.005 for late in attacks(recording, clicks + strokes))


@pytest.mark.parametrize("form", FORMS)
def test_a_recording_lasts_as_long_as_its_bars_and_a_ring(form: str) -> None:
    sound, rate = samples(render(GROOVE, form, TAGS))
    assert len(sound) / rate == pytest.approx(2 + 2 + 1.5, abs=0.01)
    assert abs(sound[-100:]).max() < 0.001


@pytest.mark.parametrize("form", FORMS)
def test_all_drums_at_once_stay_below_full_scale(form: str) -> None:
    sound, _ = samples(render(LOUDEST, form, TAGS))
    assert PEAK * 0.8 < abs(sound).max() < 1


def test_two_exercises_are_as_loud_as_each_other() -> None:
    once = abs(samples(render(GROOVE, "wav", TAGS))[0]).max()
    longer = exercise(*GROOVE.pattern.bars, bar("4/4", "quarters", "."), tempo="120", times=1)
    assert abs(samples(render(longer, "wav", TAGS))[0]).max() == pytest.approx(once, rel=0.01)


@pytest.mark.parametrize("form", FORMS)
def test_a_recording_is_tagged_with_title_album_track_and_artist(form: str) -> None:
    with soundfile.SoundFile(io.BytesIO(render(GROOVE, form, TAGS))) as read:
        tags = read.copy_metadata()
    assert (tags["title"], tags["album"], tags["artist"]) == (
        "1.2 As a groove",
        "Quiet Doors",
        "Lantern Yard Studio",
    )
    assert int(tags["tracknumber"]) == 2


def test_a_recording_says_what_it_is_made_from(tmp_path: Path) -> None:
    file = tmp_path / "1.2.opus"
    file.write_bytes(render(GROOVE, "opus", TAGS))
    assert mark_in(file) == mark_of(GROOVE, "opus", TAGS)
    assert mark_in(file) != mark_of(GROOVE, "opus", TAGS, Performance(click=False))
    assert mark_in(file) != mark_of(GROOVE, "opus", Tags("1.3 As a groove", "Quiet Doors", 3))


def test_what_is_no_recording_says_nothing(tmp_path: Path) -> None:
    (tmp_path / "1.1.opus").write_text("not music")
    assert mark_in(tmp_path / "1.1.opus") is None
    assert mark_in(tmp_path / "1.2.opus") is None


def test_without_the_extra_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    find = util.find_spec
    monkeypatch.setattr(util, "find_spec", lambda name: None if name == "midirenderer" else find(name))
    with pytest.raises(OutsideError, match=r"no midirenderer.*pip install 'shedbook\[sound\]'"):
        render(GROOVE, "opus", TAGS)
