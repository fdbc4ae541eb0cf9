"""Files made by hand, as other programs would write them, and what is taken from them."""

from __future__ import annotations

import io
from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

import mido

from typeset import pipeline
from typeset.compose.book import Book
from typeset.pattern.bar import Bar, Pattern, empty_bar
from typeset.pattern.grid import Grid
from typeset.pattern.meter import Meter
from typeset.pattern.order import read_order
from typeset.pattern.sound import SOUNDS
from typeset.taking import take
from typeset.taking.piece import Laid, Note, Piece

QUARTER = 480

_DRUMS = {
    "k": "kick", "s": "snare", "h": "hi-hat", "o": "open-hi-hat", "c": "crash", "r": "ride",
    "1": "high-tom", "2": "mid-tom", "3": "floor-tom", "f": "hi-hat-foot", "x": "cross-stick",
}  # fmt: skip


def midi(
    *tracks: Sequence[tuple[float, int, int]],
    tempo: int = 120,
    meter: tuple[int, int] = (4, 4),
    names: Sequence[str] = ("Drums", "Click"),
    markers: Sequence[tuple[float, str]] = (),
    kind: int = 1,
) -> bytes:
    """A MIDI file of tracks on channel 10, whose hits are (quarter, key, velocity)."""
    file = mido.MidiFile(type=kind, ticks_per_beat=QUARTER)
    conductor = [
        (0, mido.MetaMessage("set_tempo", tempo=round(60_000_000 / tempo))),
        (0, mido.MetaMessage("time_signature", numerator=meter[0], denominator=meter[1])),
        *((round(at * QUARTER), mido.MetaMessage("marker", text=text)) for at, text in markers),
    ]
    file.tracks.append(_track(conductor))
    for name, hits in zip(names, tracks, strict=False):
        file.tracks.append(_track(
            [(0, mido.MetaMessage("track_name", name=name))]
            + [(round(at * QUARTER), mido.Message("note_on", channel=9, note=key, velocity=velocity))
               for at, key, velocity in hits]
        ))  # fmt: skip
    content = io.BytesIO()
    file.save(file=content)
    return content.getvalue()


def _track(timed: Sequence[tuple[int, object]]) -> mido.MidiTrack:
    track, now = mido.MidiTrack(), 0
    for tick, message in sorted(timed, key=lambda pair: pair[0]):
        track.append(message.copy(time=tick - now))  # type: ignore[attr-defined]
        now = tick
    return track


def beat(
    line: str, key: int, velocity: int = 84, step: float = 0.25, start: float = 0
) -> list[tuple[float, int, int]]:
    """Hits on one key: `x` strikes, `X` strikes hard, `o` softly; every sign is a sixteenth unless said."""
    loud = {"x": velocity, "X": 118, "o": 36}
    return [(start + place * step, key, loud[sign]) for place, sign in enumerate(line) if sign in loud]


def score(*measures: str, divisions: int = 4, meter: str = "4/4", title: str = "Made", part: str = "") -> bytes:
    """A MusicXML score of one drum part by the insides of its measures; the first begins with its attributes."""
    top, bottom = meter.split("/")
    attributes = (
        f"<attributes><divisions>{divisions}</divisions>"
        f"<time><beats>{top}</beats><beat-type>{bottom}</beat-type></time></attributes>"
    )
    inside = "".join(
        f'<measure number="{number}">{attributes if number == 1 else ""}{one}</measure>'
        for number, one in enumerate(measures, start=1)
    )
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<score-partwise version="4.0"><movement-title>{title}</movement-title>'
        f'<part-list><score-part id="P1"><part-name>Drums</part-name>{part}</score-part></part-list>'
        f'<part id="P1">{inside}</part></score-partwise>'
    ).encode()


_PLACES = {"k": "F4", "s": "C5", "h": "G5", "1": "E5", "2": "D5", "3": "A4", "f": "D4", "r": "F5"}
_CROSSED = "hfr"


def note(drum: str, duration: int = 1, extra: str = "", chord: bool = False, grace: bool = False) -> str:
    """A note by a drum's letter, at the place where it usually stands."""
    step, octave = _PLACES[drum]
    head = "<notehead>x</notehead>" if drum in _CROSSED else ""
    return (
        f"<note>{'<grace/>' if grace else ''}{'<chord/>' if chord else ''}"
        f"<unpitched><display-step>{step}</display-step><display-octave>{octave}</display-octave></unpitched>"
        f"{'' if grace else f'<duration>{duration}</duration>'}{head}{extra}</note>"
    )


def rest(duration: int) -> str:
    return f"<note><rest/><duration>{duration}</duration></note>"


def sticking(limb: str) -> str:
    return f"<notations><technical><fingering>{limb}</fingering></technical></notations>"


def taken(content: bytes, folder: Path, name: str = "made.mid") -> Book:
    """What the chapter that is taken from a file makes, read back as any other chapter is."""
    file = folder / name
    file.write_bytes(content)
    chapter = folder / "taken.yaml"
    chapter.write_text(take(file).text, encoding="utf-8")
    return pipeline.check(chapter).sound_book()


def played(pattern: Pattern) -> list[str]:
    """A pattern's strokes with their sounds, a line for each bar."""
    from typeset.pattern.order import write_played

    return [write_played(bar.slots) for bar in pattern.bars]


def piece(
    *bars: str, meter: str = "4/4", grid: str = "16ths", loops: bool = True, tempo: int | None = None
) -> Piece:
    """A piece by its drums' letters, a word for each slot: `hk . h hs`."""
    from typeset.pattern.tempo import Tempo

    laid = []
    for bar in bars:
        words = bar.split()
        slots = tuple(
            tuple(Note(Fraction(0), SOUNDS[_DRUMS[letter]]) for letter in word if letter in _DRUMS)
            for word in words
        )
        laid.append(Laid(Meter.parse(meter), Grid.of(grid), slots))
    return Piece("Made", tuple(laid), Tempo(tempo, tempo) if tempo else None, loops=loops)


def bar_of(sequence: str, meter: str = "4/4", grid: str = "16ths") -> Bar:
    """A bar by a sequence of limbs on what they play before anything is said."""
    return empty_bar(Meter.parse(meter), Grid.of(grid)).with_slots(read_order(sequence))
