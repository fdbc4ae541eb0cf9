"""Names in files from other programs: whatever they say, what is taken is a chapter that reads without a word."""

from __future__ import annotations

import io
from pathlib import Path
from xml.sax.saxutils import escape

import mido
import pytest

from typeset.manuscript import read
from typeset.problem import BookError
from typeset.taking import take

from .bounds import bounded
from .strings import STRINGS

QUARTER = 480
KICK, SNARE = 36, 38


def midi_of(texts: tuple[str, ...]) -> bytes:
    """Two bars of drums under a marker for each text, in tracks that bear texts as names."""
    file = mido.MidiFile(type=1, ticks_per_beat=QUARTER, charset="utf-8")
    marks = mido.MidiTrack([mido.MetaMessage("track_name", name=texts[0])])
    marks += [
        mido.MetaMessage(kind, text=text, time=0 if kind == "text" or not number else 8 * QUARTER)
        for number, text in enumerate(texts)
        for kind in ("marker", "text")
    ]
    drums = mido.MidiTrack([mido.MetaMessage("track_name", name=texts[-1])])
    for number in range(8 * len(texts)):
        key = SNARE if number % 2 else KICK
        drums.append(
            mido.Message("note_on", channel=9, note=key, velocity=90, time=0 if number == 0 else QUARTER - 10)
        )
        drums.append(mido.Message("note_off", channel=9, note=key, velocity=0, time=10))
    file.tracks += [marks, drums]
    content = io.BytesIO()
    file.save(file=content)
    return content.getvalue()


def score_of(texts: tuple[str, ...]) -> bytes:
    """A measure under a rehearsal mark and words for each text; the title and the part's name say the first."""
    note = "<note><unpitched><display-step>C</display-step><display-octave>5</display-octave></unpitched>"
    note += "<duration>1</duration><instrument id='I1'/><type>quarter</type></note>"
    time = "<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>"
    measures = "".join(
        f"<measure number='{number}'>{time if number == 1 else ''}<direction><direction-type><rehearsal>{number}"
        f"</rehearsal></direction-type><direction-type><words>{escape(text)}</words></direction-type></direction>"
        f"{note * 4}</measure>"
        for number, text in enumerate(texts, start=1)
    )
    drums = "<score-instrument id='I1'><instrument-name>Snare</instrument-name></score-instrument>"
    part = f"<score-part id='P1'><part-name>{escape(texts[0])}</part-name>{drums}</score-part>"
    return (
        f"<?xml version='1.0' encoding='UTF-8'?><score-partwise><movement-title>{escape(texts[0])}</movement-title>"
        f"<part-list>{part}</part-list><part id='P1'>{measures}</part></score-partwise>"
    ).encode()


def writable(text: str) -> bool:
    """Whether a file of UTF-8, and XML 1.0, can hold a text at all."""
    return all(letter in "\t\n\r" or " " <= letter < "\ud800" or letter > "\udfff" for letter in text) and not (
        {"\ufffe", "\uffff", "\x7f", "\x85", "\x9b"} & set(text)
    )


WRITABLE = tuple(text for text in STRINGS if writable(text))


@pytest.mark.parametrize("form", ["mid", "musicxml"])
def test_every_name_becomes_a_title_that_is_read_as_it_was_written(tmp_path: Path, form: str) -> None:
    texts = WRITABLE[::2] if form == "mid" else WRITABLE
    file = tmp_path / f"song.{form}"
    file.write_bytes(midi_of(texts) if form == "mid" else score_of(texts))
    with bounded(120):
        taken = take(file)
    chapter = tmp_path / "chapter.yaml"
    chapter.write_text(taken.text, encoding="utf-8")
    reading = read(chapter)
    assert reading.problems == () and reading.manuscript is not None
    titles = " ".join(item.title for item in reading.manuscript.chapters[0].exercises)
    for text in ('#(ly:gulp-file "/etc/passwd")', "\\include", "<br/>", "%s%s%s%n", "$(touch /tmp/x)"):
        assert text not in texts or text in titles


@pytest.mark.parametrize("name", ["a\nexercises: [x]\n# b", "x: y #", "\x1b[31m", "\udcff", "{%n}", "日本"])
def test_a_file_of_any_name_becomes_a_chapter(tmp_path: Path, name: str) -> None:
    file = tmp_path / f"{name}.mid"
    file.write_bytes(midi_of(("A", "B")))
    chapter = tmp_path / "chapter.yaml"
    chapter.write_bytes(take(file).text.encode("utf-8"))
    reading = read(chapter)
    assert reading.problems == () and reading.manuscript is not None
    assert len(reading.manuscript.chapters[0].exercises) >= 1


@pytest.mark.parametrize(
    "content", [b"", b"MThd", b"PK\x03\x04", b"<a/>", b"\x00" * 10_000, b"<" * 100_000, b"MThd" + b"\xff" * 9_999]
)
def test_what_is_no_music_is_refused(tmp_path: Path, content: bytes) -> None:
    file = tmp_path / "x.mid"
    file.write_bytes(content)
    with bounded(20), pytest.raises(BookError):
        take(file)
