"""What stands in the chapter that is written: each piece as an exercise, or as several and a phrase of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import groupby

from ..pattern.bar import Pattern
from ..pattern.grid import Grid
from ..pattern.order import write_order
from ..pattern.tempo import Tempo
from .limbs import Limbed
from .names import Names
from .piece import Piece
from .telling import Told, tell


@dataclass(frozen=True)
class Entry:
    """An exercise as it is written.

    It is `told` as an order and steps, or a phrase of `parts`: ids, and how often each is played. `doubts` stand
    above it.
    """

    id: str
    title: str
    told: Told | None = None
    parts: tuple[tuple[str, int], ...] = ()
    tempo: Tempo | None = None
    feel: str = "straight"
    play: str | None = None
    times: int | None = None
    pickup: str | None = None
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Run:
    """Bars in a row that are in one meter, with their grids."""

    bars: Pattern
    grids: tuple[Grid, ...]


def entries_of(piece: Piece, limbed: Limbed, names: Names) -> Iterator[Entry]:
    """The exercises that a piece makes: one, or where its meter changes one for each stretch and a phrase."""
    runs = _runs(piece, limbed.pattern)
    title = piece.title or "Untitled"
    if len(runs) == 1:
        told = tell(replace(runs[0].bars, pickup=limbed.pattern.pickup), runs[0].grids, piece.loops)
        yield _entry(piece, limbed, names.id_of(title), title, told)
        return
    ids: dict[_Run, str] = {}
    before = 0
    for run in runs:
        count = len(run.bars.bars)
        if run not in ids:
            named = f"{title}, bar {before + 1}" if count == 1 else f"{title}, bars {before + 1} to {before + count}"
            ids[run] = names.id_of(named)
            yield Entry(ids[run], named, tell(run.bars, run.grids, loops=True), tempo=piece.tempo, feel=piece.feel)
        before += count
    parts = tuple((name, len(list(same))) for name, same in groupby(ids[run] for run in runs))
    yield _entry(piece, limbed, names.id_of(title), title, None, parts)


def _entry(
    piece: Piece,
    limbed: Limbed,
    name: str,
    title: str,
    told: Told | None,
    parts: tuple[tuple[str, int], ...] = (),
) -> Entry:
    ends = told is not None and told.ends
    pickup = limbed.pattern.pickup
    return Entry(
        id=name,
        title=title,
        told=told,
        parts=parts,
        tempo=piece.tempo,
        feel=piece.feel,
        play=None if piece.loops != ends else ("loop" if piece.loops else "once"),
        times=piece.times,
        pickup=write_order(pickup.slots) if pickup else None,
        doubts=limbed.doubts,
    )


def _runs(piece: Piece, pattern: Pattern) -> list[_Run]:
    """The bars in stretches of one meter, those that have strokes: no order makes silence alone."""
    pairs = list(zip(pattern.bars, (bar.grid for bar in piece.bars), strict=True))
    runs: list[_Run] = []
    for _, same in groupby(pairs, key=lambda pair: pair[0].meter):
        bars, grids = zip(*same, strict=True)
        runs.append(_Run(Pattern(tuple(bars)), tuple(grids)))
    if len(runs) == 1:
        return [_Run(pattern, runs[0].grids)]
    return [run for run in runs if any(run.bars.slots)]

