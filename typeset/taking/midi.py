"""Reading a standard MIDI file into a recording. The only file here that knows mido."""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import mido

from .keys import key_name
from .piece import NotRead
from .recording import Hit, Recording
from .words import plain

DRUM_CHANNEL = 9
"""Channel 10, which General MIDI keeps for percussion; files count from 0."""

MOST_BYTES = 4 * 1024 * 1024

MOST_MESSAGES = 400_000
"""More than a drummer plays in ten hours."""

_LONGEST_RUN = 1024
"""Bytes above 127 in a row, as a long title in a language of many letters may have them."""

_MOST_QUARTERS = 40_000
"""A file that lasts longer says so to waste our time."""

# Keys that only ever count: General MIDI 2's sticks, square click, metronome click and bell.
_COUNTING_KEYS = (31, 32, 33, 34)
_CLICK_NAMES = ("click", "metronome", "count-in", "count in")


def read_midi(content: bytes, name: str) -> Recording:
    """The drums of a standard MIDI file; `name` is its title where it has none of its own.

    Raises NotRead for what is no such file, for one without drums on channel 10, and for one that is too large.
    """
    if len(content) > MOST_BYTES:
        raise NotRead(f"a MIDI file of more than {MOST_BYTES // 1024:,} kB is not read; take a part of it")
    tracks = [_Track.of(track) for track in _parsed(content)]
    if sum(len(track.hits) for track in tracks) > MOST_MESSAGES:
        raise NotRead(f"this has more than {MOST_MESSAGES:,} notes; take a part of it")
    drums, clicks = _drums_and_clicks(tracks)
    if not drums:
        raise NotRead(f"there are no drums on channel 10 in this file{_elsewhere(tracks)}")
    quarter = _quarter(content)
    end = max(max(track.end for track in tracks), max(hit.tick for hit in drums) + 1)
    if end > _MOST_QUARTERS * quarter:
        raise NotRead(f"this lasts longer than {_MOST_QUARTERS:,} quarters; take a part of it")
    return Recording(
        title=next((track.name for track in tracks if track.name and not track.hits), name),
        quarter=quarter,
        hits=tuple(sorted(drums)),
        clicks=tuple(sorted({hit.tick for hit in clicks})),
        tempos=_last_each(entry for track in tracks for entry in track.tempos),
        meters=_last_each(entry for track in tracks for entry in track.meters),
        markers=_last_each(entry for track in tracks for entry in track.markers),
        end=end,
        remarks=tuple(_others(tracks)),
    )


@dataclass
class _Track:
    """A track's messages by kind, at their ticks."""

    name: str = ""
    end: int = 0
    hits: list[Hit] = field(default_factory=list)
    channels: set[int] = field(default_factory=set)
    tempos: list[tuple[int, int]] = field(default_factory=list)
    meters: list[tuple[int, int, int]] = field(default_factory=list)
    markers: list[tuple[int, str]] = field(default_factory=list)

    @classmethod
    def of(cls, messages: Sequence[Any]) -> _Track:
        """A track sorted into kinds."""
        track = cls()
        for message in messages:
            track.end += message.time
            track.take(message)
        return track

    def take(self, message: Any) -> None:
        """Note one message at the tick that has been reached."""
        match message.type:
            case "note_on" if message.velocity:
                self.channels.add(message.channel)
                if message.channel == DRUM_CHANNEL:
                    self.hits.append(Hit(self.end, message.note, message.velocity))
            case "set_tempo" if message.tempo:
                self.tempos.append((self.end, message.tempo))
            case "time_signature":
                self.meters.append((self.end, message.numerator, message.denominator))
            case "marker":
                self.markers.append((self.end, plain(message.text)))
            case "track_name":
                self.name = self.name or plain(message.name)

    @property
    def is_click(self) -> bool:
        """True for a track that only counts, by its name."""
        return self.name.strip().lower() in _CLICK_NAMES


class _Bytes(io.BytesIO):
    """A file's bytes as mido asks for them. A number in a MIDI file has four bytes at most; one that goes on
    and on would keep mido busy for hours, so a long row of bytes that promise another is refused."""

    run = 0

    def read(self, size: int | None = -1) -> bytes:
        """So many bytes. Raises OSError."""
        found = super().read(size)
        self.run = self.run + 1 if size == 1 and found >= b"\x80" else 0
        if self.run > _LONGEST_RUN:
            raise OSError("a number in it never ends")
        return found


def _parsed(content: bytes) -> Sequence[Sequence[Any]]:
    """The file's tracks; names that are not in UTF-8 are read as Latin-1. Raises NotRead."""
    try:
        try:
            file = mido.MidiFile(file=_Bytes(content), charset="utf-8", clip=True)
        except UnicodeDecodeError:
            file = mido.MidiFile(file=_Bytes(content), charset="latin-1", clip=True)
    except (EOFError, OSError, ValueError, LookupError, TypeError, mido.KeySignatureError) as error:
        raise NotRead(f"this is no sound MIDI file: {str(error) or 'it ends too early'}") from None
    if file.type == 2:
        raise NotRead("this MIDI file holds tracks that do not belong together (format 2); save it as format 1")
    if sum(map(len, file.tracks)) > MOST_MESSAGES:
        raise NotRead(f"this has more than {MOST_MESSAGES:,} messages; take a part of it")
    tracks: Sequence[Sequence[Any]] = file.tracks
    return tracks


def _quarter(content: bytes) -> int:
    """Ticks of a quarter, from the header: bytes 12 and 13. Raises NotRead."""
    division = int.from_bytes(content[12:14], "big")
    if division & 0x8000 or not division:
        raise NotRead("this MIDI file counts film frames and not beats; save it with ticks of a quarter")
    return division


def _drums_and_clicks(tracks: Sequence[_Track]) -> tuple[list[Hit], list[Hit]]:
    """What is played on channel 10, and what only counts; a click alone is taken for drums."""
    drums = [hit for track in tracks if not track.is_click for hit in track.hits]
    clicks = [hit for track in tracks if track.is_click for hit in track.hits]
    clicks += [hit for hit in drums if hit.key in _COUNTING_KEYS]
    drums = [hit for hit in drums if hit.key not in _COUNTING_KEYS]
    return (drums, clicks) if drums else (clicks, [])


def _elsewhere(tracks: Sequence[_Track]) -> str:
    channels = sorted({channel + 1 for track in tracks for channel in track.channels})
    return f"; its notes are on {', '.join(map(str, channels))}" if channels else "; it has no notes at all"


def _others(tracks: Sequence[_Track]) -> Iterator[str]:
    """What else is in the file."""
    channels = sorted({channel + 1 for track in tracks for channel in track.channels} - {DRUM_CHANNEL + 1})
    if channels:
        yield f"only channel 10 is read; there are notes on {', '.join(map(str, channels))} too"
    keys = sorted({hit.key for track in tracks for hit in track.hits if hit.key in _COUNTING_KEYS})
    if keys:
        yield f"taken for counting in, and left out: {', '.join(map(key_name, keys))}"


def _last_each(entries: Iterator[Any]) -> tuple[Any, ...]:
    """Entries in order of time, of several at one tick the last."""
    at: Mapping[int, Any] = {entry[0]: entry for entry in sorted(entries, key=lambda entry: entry[0])}
    return tuple(at.values())
