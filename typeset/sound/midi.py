"""An exercise as a MIDI file: General MIDI drums on channel 10, a click beside them, tempos and meters."""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Any

import mido

from ..compose.book import Exercise
from ..pattern.bar import Bar
from ..pattern.meter import Meter
from ..pattern.swell import Swell
from ..pattern.swing import Swing, swing_of
from .click import clicks_of
from .performance import AS_WRITTEN, Performance, tempos_of, times_of
from .strokes import TICKS, Hit, hits_of, ticks

DRUM_CHANNEL = 9
"""Channel 10, which General MIDI keeps for percussion; files count from 0."""

_CLOCKS = 96
"""MIDI clocks in a whole note."""


def midi_file(exercise: Exercise, performance: Performance = AS_WRITTEN, ring: float = 0.0) -> bytes:
    """One exercise, played as asked, as a standard MIDI file of format 1.

    Its tracks are the tempos and meters, the drums, and the click where there is one. It ends with its
    last bar, or `ring` seconds after that.
    """
    timeline = _Timeline(exercise.tempo_unit, swing_of(exercise.feel, performance.swing))
    times = times_of(exercise, performance)
    for tempo in tempos_of(exercise, performance):
        timeline.change_tempo(tempo)
        if performance.count_in:
            timeline.count_in(exercise.pattern.bars[0].meter)
        pattern = exercise.pattern
        if pattern.pickup:
            timeline.pick_up(pattern.pickup, after_count_in=performance.count_in)
        for numbers in pattern.passes(times):
            for number in numbers:
                timeline.play(pattern.bars[number], pattern.swells_over(number), performance.click)
    return _written(timeline, f"{exercise.number} {exercise.title}", ring)


@dataclass
class _Timeline:
    """What has been played so far, in ticks; it is only ever added to."""

    unit: Fraction
    swing: Swing | None
    now: int = 0
    tick: float = 0.0
    meter: Meter | None = None
    conductor: list[tuple[int, Any]] = field(default_factory=list)
    drums: list[Hit] = field(default_factory=list)
    clicks: list[Hit] = field(default_factory=list)

    def change_tempo(self, tempo: int) -> None:
        """From here on so many of the tempo unit a minute."""
        quarter = 60 / tempo * float(Fraction(1, 4) / self.unit)
        self.tick = quarter * 4 / TICKS
        self._tell(mido.MetaMessage("set_tempo", tempo=round(quarter * 1_000_000)))

    def count_in(self, meter: Meter) -> None:
        """A bar of clicks alone."""
        self._enter(meter)
        self.clicks += clicks_of(meter, self.now)
        self.now += ticks(meter.length)

    def pick_up(self, pickup: Bar, *, after_count_in: bool) -> None:
        """What is played before bar 1: into the end of a count-in, or by itself."""
        if not after_count_in:
            self.now += ticks(pickup.length)
        self._strike(pickup, self.now - ticks(pickup.meter.length))

    def play(self, bar: Bar, swells: tuple[Swell, ...], click: bool) -> None:
        """A bar under swells that are counted from its barline."""
        self._enter(bar.meter)
        self._strike(bar, self.now, swells)
        if click:
            self.clicks += clicks_of(bar.meter, self.now)
        self.now += ticks(bar.meter.length)

    def _strike(self, bar: Bar, barline: int, swells: tuple[Swell, ...] = ()) -> None:
        """Add what is struck in a bar whose barline is at a tick."""
        hits = hits_of(bar, self.swing, self.tick, swells)
        self.drums += (replace(hit, tick=barline + hit.tick) for hit in hits)

    def _enter(self, meter: Meter) -> None:
        if meter != self.meter:
            self.meter = meter
            clocks = int(_CLOCKS * meter.tempo_unit)
            self._tell(
                mido.MetaMessage(
                    "time_signature",
                    numerator=meter.top,
                    denominator=meter.bottom,
                    clocks_per_click=clocks,
                )
            )

    def _tell(self, message: Any) -> None:
        self.conductor.append((self.now, message))


def _written(timeline: _Timeline, title: str, ring: float) -> bytes:
    # Without a count-in, grace strokes before the first beat would come before the file: all waits for them.
    wait = max(0, -min((hit.tick for hit in timeline.drums), default=0))
    end = timeline.now + wait + round(ring / timeline.tick)
    drums, clicks = (_played(hits, wait) for hits in (timeline.drums, timeline.clicks))
    file = mido.MidiFile(type=1, ticks_per_beat=TICKS // 4, charset="utf-8")
    conductor = ((tick + wait if tick else 0, message) for tick, message in timeline.conductor)
    file.tracks.append(_track(title, conductor, end))
    file.tracks.append(_track("Drums", drums, end))
    if timeline.clicks:
        file.tracks.append(_track("Click", clicks, end))
    content = io.BytesIO()
    file.save(file=content)
    return content.getvalue()


def _played(hits: Iterable[Hit], wait: int) -> Iterator[tuple[int, Any]]:
    """The messages of a track in order of time; a key is let go before it is struck again."""
    messages: list[tuple[int, int, Any]] = []
    until: dict[int, int] = {}
    for hit in reversed(_once_each(hits)):
        start = hit.tick + wait
        end = min(start + hit.length, until.get(hit.key, start + hit.length))
        until[hit.key] = start
        messages.append((start, 1, _message("note_on", hit.key, hit.velocity)))
        messages.append((end, 0, _message("note_off", hit.key, 0)))
    for tick, _, message in sorted(messages, key=lambda timed: timed[:2]):
        yield tick, message


def _once_each(hits: Iterable[Hit]) -> list[Hit]:
    """The hits in order; of two on one key at one time, only the harder one, as on one drum head."""
    hardest: dict[tuple[int, int], Hit] = {}
    for hit in hits:
        other = hardest.get((hit.tick, hit.key))
        if other is None or hit.velocity > other.velocity:
            hardest[hit.tick, hit.key] = hit
    return sorted(hardest.values())


def _message(kind: str, key: int, velocity: int) -> Any:
    return mido.Message(kind, channel=DRUM_CHANNEL, note=key, velocity=velocity)


def _track(name: str, messages: Iterable[tuple[int, Any]], end: int) -> Any:
    """A track whose messages are at ticks from its start; files count from one message to the next."""
    track = mido.MidiTrack([mido.MetaMessage("track_name", name=name)])
    now = 0
    for tick, message in messages:
        track.append(message.copy(time=tick - now))
        now = tick
    track.append(mido.MetaMessage("end_of_track", time=end - now))
    return track
