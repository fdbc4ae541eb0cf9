"""Exercises made by hand, and MIDI files read back with mido."""

from __future__ import annotations

import io
from collections.abc import Iterator

import mido

from typeset.compose.book import Exercise
from typeset.pattern.bar import Bar, Pattern
from typeset.pattern.tempo import Tempo


def exercise(
    *bars: Bar,
    tempo: str | None = "60-100",
    loops: bool = True,
    times: int | None = None,
    feel: str = "straight",
    number: str = "1.2",
    title: str = "As a groove",
    pickup: Bar | None = None,
    endings: tuple[int, ...] = (),
) -> Exercise:
    """An exercise of these bars; a loop unless said otherwise, or it has endings."""
    return Exercise(
        id="made", number=number, title=title, instruction=(), steps=(), pattern=Pattern(bars, pickup, endings),
        tempo=Tempo.parse(tempo) if tempo else None, plays_on=loops and not endings, times=times, feel=feel,
        systems=(), level=3, ceiling=140,
    )  # fmt: skip


def read(content: bytes) -> mido.MidiFile:
    """A MIDI file from its bytes."""
    return mido.MidiFile(file=io.BytesIO(content), charset="utf-8")


def struck(content: bytes, track: str = "Drums") -> list[tuple[int, int, int]]:
    """What a track strikes: (tick, key, velocity)."""
    return [
        (tick, message.note, message.velocity) for tick, message in messages(content, track) if is_struck(message)
    ]


def is_struck(message: mido.Message) -> bool:
    """True for a key going down."""
    return message.type == "note_on" and message.velocity > 0


def messages(content: bytes, track: str) -> Iterator[tuple[int, mido.Message]]:
    """A track's messages with their ticks from its start; nothing where there is no such track."""
    for one in read(content).tracks:
        tick = 0
        for message in one if one.name == track else ():
            tick += message.time
            yield tick, message
