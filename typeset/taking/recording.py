"""A recording: what a MIDI file says, as plain values that no library is needed for."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

USUAL_QUARTER = 500_000
"""Microseconds that a quarter lasts where a file does not say: MIDI's own default, 120 a minute."""


@dataclass(frozen=True, slots=True, order=True)
class Hit:
    """A key going down: when, in ticks from the beginning; which key; how hard, from 1 to 127."""

    tick: int
    key: int
    velocity: int


@dataclass(frozen=True)
class Recording:
    """The drums of a MIDI file.

    `quarter` is the number of ticks of a quarter. `tempos` are microseconds of a quarter, `meters` top and
    bottom number, `markers` texts, each from a tick on. `clicks` are when a click sounds.
    """

    title: str
    quarter: int
    hits: tuple[Hit, ...]
    clicks: tuple[int, ...]
    tempos: tuple[tuple[int, int], ...]
    meters: tuple[tuple[int, int, int], ...]
    markers: tuple[tuple[int, str], ...]
    end: int
    remarks: tuple[str, ...] = ()

    def whole(self, ticks: int) -> Fraction:
        """So many ticks as a fraction of a whole note."""
        return Fraction(ticks, 4 * self.quarter)

    def tempo_at(self, tick: int) -> int:
        """Microseconds of a quarter at a tick."""
        return max((at, tempo) for at, tempo in [(-1, USUAL_QUARTER), *self.tempos] if at <= tick)[1]

    def between(self, first: int, last: int) -> float:
        """Milliseconds from one tick to a later one."""
        return self._milliseconds(last) - self._milliseconds(first)

    @cached_property
    def _stretches(self) -> tuple[Sequence[int], Sequence[float], Sequence[float]]:
        """For each tempo when it begins, in ticks and in milliseconds, and how long a tick lasts there."""
        starts, times, rates = [0], [0.0], [USUAL_QUARTER / self.quarter / 1000]
        for tick, tempo in self.tempos:
            times.append(times[-1] + (tick - starts[-1]) * rates[-1])
            starts.append(tick)
            rates.append(tempo / self.quarter / 1000)
        return starts, times, rates

    def _milliseconds(self, tick: int) -> float:
        starts, times, rates = self._stretches
        at = max(bisect_right(starts, tick) - 1, 0)
        return times[at] + (tick - starts[at]) * rates[at]
