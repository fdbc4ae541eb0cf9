"""What stands in the chapter that is written: each piece as an exercise, or as several that make it up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from ..pattern.bar import Bar, Pattern
from ..pattern.grid import Grid
from ..pattern.order import write_order
from ..pattern.steps.step import Step
from ..pattern.tempo import Tempo
from .limbs import Limbed
from .names import Names
from .piece import Piece
from .swells import swell_steps, swells_within
from .telling import Told, tell

Parts = tuple[tuple[str, int], ...]
"""Exercises by their ids, and how often each is played."""


@dataclass(frozen=True)
class Entry:
    """An exercise as it is written: `told` as an order and steps, or a phrase of `parts`.

    `steps` come after a phrase; `endings` are other exercises; `doubts` stand above it.
    """

    id: str
    title: str
    told: Told | None = None
    parts: Parts = ()
    steps: tuple[Step, ...] = ()
    tempo: Tempo | None = None
    feel: str = "straight"
    play: str | None = None
    times: int | None = None
    pickup: str | None = None
    endings: Parts = ()
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Run:
    """Bars in a row that are in one meter, with their grids."""

    bars: tuple[Bar, ...]
    grids: tuple[Grid, ...]


class Entries:
    """Makes the exercises of one piece; those that others are made of come first."""

    def __init__(self, piece: Piece, limbed: Limbed, names: Names) -> None:
        self.piece = piece
        self.pattern = limbed.pattern
        self.doubts = limbed.doubts
        self.names = names
        self.made: list[Entry] = []
        self.left_out: list[str] = []

    def all(self) -> list[Entry]:
        """The piece's exercises: one, or before it those for its endings and for stretches in other meters."""
        piece, pattern = self.piece, self.pattern
        title, body = piece.title or "Untitled", len(pattern.bars) - sum(pattern.endings)
        endings = tuple((name, 1) for name in self._endings(title, body))
        whole = self._exercise(title, 0, body, loops=piece.loops or bool(endings))
        ends = bool(endings) or (whole.told is not None and whole.told.ends)
        play = None if piece.loops != ends else ("loop" if piece.loops else "once")
        pickup = write_order(pattern.pickup.slots) if pattern.pickup else None
        self.made.append(
            replace(whole, play=play, times=piece.times, pickup=pickup, endings=endings, doubts=self.doubts)
        )
        return self.made

    def _endings(self, title: str, start: int) -> Iterator[str]:
        """The ids of the exercises for the endings, in order."""
        for number, size in enumerate(self.pattern.endings, start=1):
            entry = self._exercise(f"{title}, ending {number}", start, start + size, loops=True)
            self.made.append(entry)
            start += size
            yield entry.id

    def _exercise(self, title: str, start: int, end: int, loops: bool) -> Entry:
        """Some of the bars as an exercise; where their meter changes, a phrase of one for each stretch."""
        runs = self._runs(start, end)
        swells = swells_within(self.pattern.swells, self.piece.bars, start, end)
        if len(runs) > 1:
            parts = self._parts(title, runs)
            bars = self.pattern.bars[start:end]
            if sum(len(run.bars) for run in runs) < len(bars):
                self.left_out.append("silent bars in a meter of their own are left out")
                swells = ()
            return self._entry(title, None, parts, tuple(swell_steps(Pattern(bars, swells=swells))))
        pickup = self.pattern.pickup if start == 0 else None
        return self._entry(title, tell(Pattern(runs[0].bars, pickup, swells=swells), runs[0].grids, loops))

    def _entry(self, title: str, told: Told | None, parts: Parts = (), steps: tuple[Step, ...] = ()) -> Entry:
        return Entry(self.names.id_of(title), title, told, parts, steps, self.piece.tempo, self.piece.feel)

    def _runs(self, start: int, end: int) -> list[_Run]:
        """Bars in stretches of one meter, those that have strokes: no order makes silence alone."""
        pairs = zip(self.pattern.bars[start:end], (bar.grid for bar in self.piece.bars[start:end]), strict=True)
        runs: list[_Run] = []
        for _, same in groupby(pairs, key=lambda pair: pair[0].meter):
            bars, grids = zip(*same, strict=True)
            runs.append(_Run(bars, grids))
        return [run for run in runs if any(slot for bar in run.bars for slot in bar.slots)]

    def _parts(self, title: str, runs: Sequence[_Run]) -> Parts:
        """A phrase of stretches, each of which becomes an exercise; what comes again is that exercise again."""
        ids: dict[_Run, str] = {}
        played: list[str] = []
        before = 0
        for run in runs:
            unit = _unit(run)
            count = len(unit.bars)
            if unit not in ids:
                bars = f"bar {before + 1}" if count == 1 else f"bars {before + 1} to {before + count}"
                entry = self._entry(f"{title}, {bars}", tell(Pattern(unit.bars), unit.grids, loops=True))
                self.made.append(entry)
                ids[unit] = entry.id
            played += [ids[unit]] * (len(run.bars) // count)
            before += len(run.bars)
        return tuple((name, len(list(same))) for name, same in groupby(played))


def _unit(run: _Run) -> _Run:
    """The fewest bars that, played again and again, make a stretch."""
    pairs = list(zip(run.bars, run.grids, strict=True))
    size = next(
        size
        for size in range(1, len(pairs) + 1)
        if len(pairs) % size == 0 and all(pair == pairs[place % size] for place, pair in enumerate(pairs))
    )
    return _Run(run.bars[:size], run.grids[:size])
