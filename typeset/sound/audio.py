"""An exercise as audio: its MIDI rendered with a General MIDI sound font, as WAV or as Ogg Opus.

The sound font is the one that the package pretty_midi ships. Opus is written by soundfile and not by
midirenderer, whose Opus files (measured, 0.1.3) lose their first 80 milliseconds.
"""

from __future__ import annotations

import hashlib
import io
from dataclasses import astuple, dataclass
from functools import cache
from importlib import metadata, util
from pathlib import Path
from typing import Any

from ..compose.book import Book, Exercise
from ..problem import OutsideError
from .midi import midi_file
from .ogg import with_serial
from .performance import AS_WRITTEN, Performance

FORMS = {"wav": ("WAV", "PCM_16"), "opus": ("OGG", "OPUS")}
"""The container and the coding of each form, as soundfile names them."""

PEAK = 0.79
"""The loudest sample, as a part of full scale: 2 dB below it, so that Opus cannot overshoot it."""

_GAIN = 2.0
"""How much louder than the sound font gives it, so that all recordings of a book are equally loud."""

_COMPRESSION = 0.85
"""How hard Opus works, from 0 to 1: here to about 86,000 bits a second (measured)."""

_RING = 1.5
"""Seconds for the last cymbal to ring, faded out towards their end."""

_PACKAGES = ("midirenderer", "pretty_midi", "soundfile")
_MARK = "shedbook "


@dataclass(frozen=True, slots=True)
class Tags:
    """What a player shows of a recording; `track` counts from 1."""

    title: str
    album: str
    track: int
    artist: str | None = None


def tags_of(book: Book, exercise: Exercise) -> Tags:
    """What a recording of one of a book's exercises is tagged with."""
    track = book.exercises.index(exercise) + 1
    return Tags(f"{exercise.number} {exercise.title}", book.title, track, book.author)


def render(exercise: Exercise, form: str, tags: Tags, performance: Performance = AS_WRITTEN) -> bytes:
    """One exercise, played as asked, as a recording of 48,000 samples a second in stereo.

    Raises OutsideError without the extra `sound`.
    """
    _need_packages()
    import midirenderer
    import soundfile

    midi = midi_file(exercise, performance, ring=_RING)
    rendered = midirenderer.render_wave_from(sound_font(), midi)
    samples, rate = soundfile.read(io.BytesIO(rendered), dtype="float32", always_2d=True)
    _level(samples, rate)
    content = io.BytesIO()
    container, coding = FORMS[form]
    compression = _COMPRESSION if form == "opus" else None
    with soundfile.SoundFile(
        content, "w", rate, samples.shape[1], coding, format=container, compression_level=compression
    ) as file:
        file.title, file.album, file.tracknumber = tags.title, tags.album, str(tags.track)
        if tags.artist:
            file.artist = tags.artist
        file.comment = mark_of(exercise, form, tags, performance)
        file.write(samples)
    return with_serial(content.getvalue()) if form == "opus" else content.getvalue()


def mark_of(exercise: Exercise, form: str, tags: Tags, performance: Performance = AS_WRITTEN) -> str:
    """What a recording's comment says: a hash of all that it is made from. Raises as render."""
    _need_packages()
    made_from = hashlib.sha256(midi_file(exercise, performance, ring=_RING))
    versions = tuple(metadata.version(package) for package in _PACKAGES)
    made_from.update(repr((form, astuple(tags), versions)).encode())
    made_from.update(Path(__file__).read_bytes())
    return _MARK + made_from.hexdigest()[:32]


def mark_in(file: Path) -> str | None:
    """What the comment of a recording says; None where there is no such file, or it is no recording."""
    _need_packages()
    import soundfile

    if not file.is_file():
        return None
    try:
        with soundfile.SoundFile(file) as kept:
            return str(kept.comment)
    except soundfile.LibsndfileError:
        return None


def _level(samples: Any, rate: int) -> None:
    """Bring samples to a book's common level, none above PEAK, and fade out the last third of the ring.

    They are changed where they are: a long ladder's samples take hundreds of megabytes.
    """
    import numpy

    loudest = max(float(samples.max()), -float(samples.min()))
    samples *= min(_GAIN, PEAK / loudest) if loudest else _GAIN
    fade = min(len(samples), round(rate * _RING / 3))
    samples[len(samples) - fade :] *= numpy.linspace(1, 0, fade, dtype=samples.dtype)[:, None]


@cache
def sound_font() -> bytes:
    """The sound font that pretty_midi ships."""
    return _font_file().read_bytes()


def _font_file() -> Path:
    found = util.find_spec("pretty_midi")
    places = found.submodule_search_locations if found else None
    fonts = [file for place in places or () for file in Path(place).glob("*.sf2")]
    if not fonts:
        raise OutsideError("the package pretty_midi came without its sound font; install it again")
    return fonts[0]


def _need_packages() -> None:
    missing = [package for package in _PACKAGES if util.find_spec(package) is None]
    if missing:
        raise OutsideError(
            f"audio needs more than MIDI does (there is no {', '.join(missing)}); "
            "install it with: pip install 'shedbook[sound]'"
        )
