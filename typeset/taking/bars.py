"""From a recording to pieces: bars, grids, what is only counted in, what is only played again."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from ..pattern.grid import GRIDS, Grid
from ..pattern.meter import COMMON_TIME, Meter
from ..pattern.stroke import Ornament
from ..pattern.tempo import FASTEST, SLOWEST, Tempo
from .grids import choose_grids, lay
from .heard import Heard, strokes_of
from .keys import doubts_on, key_name, sounds_of
from .meters import meter_of
from .piece import Found, Laid, Measure, Note, NotRead, Piece, Price, Remark
from .recording import Recording

# How far strokes stand from where they were meant, in milliseconds: a machine's, which rounds, or a player's.
_EXACT, _PLAYED = 2.0, 12.0
_FAR = 3
"""So many times that is too far to pass over in silence."""

_NUMBER = re.compile(r"^\d+(\.\d+)*\s+(?=\S)")
"""The number of an exercise before its title, as our own files have it."""

_TACET = 4
"""Silent bars in a row that part one piece from the next."""

_MOST_BARS = 2000
"""Bars of a recording; more are hours of music."""

_LEAD_IN = 120.0
"""Milliseconds within which grace strokes before the first beat begin a file."""


def pieces_in(recording: Recording) -> Found:
    """The pieces of a recording, each with as few bars as it repeats. Raises NotRead for hours of music."""
    keys = {hit.key for hit in recording.hits}
    sounds = sounds_of(keys)
    strokes = strokes_of(recording, sounds)
    remarks = list(recording.remarks)
    unknown = sorted(keys - set(sounds))
    if unknown:
        remarks.append(f"no sound of ours stands for {', '.join(map(key_name, unknown))}; left out")
    stretches = _stretches(_bars(recording, strokes), recording, remarks)
    pieces = [_piece(stretch, recording, remarks) for stretch in stretches]
    doubts = tuple(doubts_on(keys))
    joined = [replace(piece, doubts=doubts + piece.doubts) for piece in _ladders(pieces)]
    return Found(recording.title, tuple(joined), tuple(map(Remark, dict.fromkeys(remarks))))


@dataclass(frozen=True)
class _Bar:
    """A bar of the recording in ticks; no meter where it is none of ours."""

    start: int
    end: int
    meter: Meter | None
    strokes: tuple[Heard, ...]
    doubt: str | None = None


@dataclass(frozen=True)
class _Stretch:
    """Bars that make a piece, what is played before them, and what a marker calls them."""

    bars: tuple[_Bar, ...]
    pickup: _Bar | None
    title: str


def _bars(recording: Recording, strokes: Sequence[Heard]) -> list[_Bar]:
    lead = _lead_in(recording, strokes)
    meters = [(lead, 4, 4), *((tick or lead, top, bottom) for tick, top, bottom in recording.meters)]
    ends = [*(start for start, _, _ in meters[1:]), recording.end]
    bars: list[_Bar] = []
    waiting = list(strokes)[::-1]
    for (start, top, bottom), end in zip(meters, ends, strict=True):
        meter, doubt = (COMMON_TIME, None) if (top, bottom) == (4, 4) else meter_of(str(top), str(bottom))
        length = max(4 * recording.quarter * top // bottom, recording.quarter, 1)
        while start < end:
            if len(bars) >= _MOST_BARS:
                raise NotRead(f"this has more than {_MOST_BARS:,} bars; take a part of it")
            until = start + length if end == recording.end else min(start + length, end)
            played: list[Heard] = []
            while waiting and waiting[-1].tick < until:
                played.append(waiting.pop())
            bars.append(_Bar(start, until, meter, tuple(played), doubt))
            start = until
    return bars


def _lead_in(recording: Recording, strokes: Sequence[Heard]) -> int:
    """Where the first bar begins: after grace strokes that the file begins with."""
    first = strokes[0] if strokes else None
    graced = first and first.ornament in (Ornament.FLAM, Ornament.DRAG)
    if first and graced and recording.hits[0].tick == 0 and recording.between(0, first.tick) <= _LEAD_IN:
        return first.tick
    return 0


def _stretches(bars: Sequence[_Bar], recording: Recording, remarks: list[str]) -> list[_Stretch]:
    """The bars in pieces: from marker to marker, from count-in to count-in, without bars in other meters."""
    titles = {_bar_at(tick, bars): text for tick, text in recording.markers}
    stretches: list[_Stretch] = []
    now: list[_Bar] = []
    title = ""
    pickup: _Bar | None = None

    def close() -> None:
        nonlocal pickup
        while now and not now[0].strokes:
            now.pop(0)
        if now:
            stretches.append(_Stretch(tuple(now), pickup, title))
            pickup = None
        now.clear()

    for number, bar in enumerate(bars):
        before = _is_before(bar, recording)
        if not any(one.strokes for one in now[-_TACET:]):
            close()
        if bar.meter is None or before or number in titles:
            close()
            title, pickup = titles.get(number, title), bar if before and bar.strokes else None
        if bar.meter is None:
            remarks.append("bars in a meter that is not offered are left out")
        elif not before:
            now.append(bar)
    close()
    return stretches


def _bar_at(tick: int, bars: Sequence[_Bar]) -> int:
    """The bar whose beginning is nearest to a tick."""
    return min(range(len(bars)), key=lambda number: abs(bars[number].start - tick))


def _is_before(bar: _Bar, recording: Recording) -> bool:
    """True for a bar that comes before the music.

    It is clicked, begins the file or a new tempo, and at most its second half is played; or it begins the file
    and is cut short.
    """
    if bar.meter is None:
        return False
    whole = bar.meter.length * 4 * recording.quarter
    if bar.start == 0 and bar.end - bar.start < whole:
        return True
    clicked = any(bar.start <= tick < bar.end for tick in recording.clicks)
    changes = bar.start == 0 or any(tick == bar.start for tick, _ in recording.tempos)
    middle = (bar.start + bar.end) / 2 - whole / 64
    return clicked and changes and all(stroke.tick >= middle for stroke in bar.strokes)


def _piece(stretch: _Stretch, recording: Recording, remarks: list[str]) -> Piece:
    measures = [_measure(bar, recording) for bar in stretch.bars]
    start, end = stretch.bars[0].start, stretch.bars[-1].end
    quarter = recording.tempo_at(start)
    if any(start < tick < end and tempo != quarter for tick, tempo in recording.tempos):
        remarks.append("changes of tempo inside a piece are left out")
    spread = _spread(measures, quarter)
    before = _measure(stretch.pickup, recording) if stretch.pickup else None
    grids = choose_grids([before, *measures] if before else measures, _price(spread, quarter))[-len(measures) :]
    once = _once(lay(measures, grids, loops=False))
    if len(once) == len(measures):
        once = _once(lay(measures, grids, loops=False)[: _sounding(measures)])
    loops = len(once) < _sounding(measures)
    doubts = [doubt for bar in stretch.bars if (doubt := bar.doubt)]
    doubts += [*_far_off(measures, grids, spread, quarter), *_swung(once)]
    unit = measures[0].meter.tempo_unit
    return Piece(
        title=stretch.title or _NUMBER.sub("", recording.title),
        bars=tuple(once),
        tempo=_tempo(Fraction(15_000_000, quarter) / unit),
        loops=loops,
        pickup=_pickup(before, grids[0]) if before else None,
        doubts=tuple(dict.fromkeys(doubts)),
    )


def _measure(bar: _Bar, recording: Recording) -> Measure:
    """A bar as a measure; what is cut short is the end of one."""
    assert bar.meter is not None  # bars without one are left out
    lead = max(bar.meter.length - recording.whole(bar.end - bar.start), Fraction(0))
    lead = lead if bar.start == 0 else Fraction(0)
    notes = (
        Note(lead + recording.whole(stroke.tick - bar.start), stroke.sound, stroke.dynamic, stroke.ornament)
        for stroke in bar.strokes
    )
    return Measure(bar.meter, tuple(notes), written=None, lead=lead)


def _pickup(measure: Measure, grid: Grid) -> Laid:
    """What is played before the first bar, from its first stroke on."""
    (laid,) = lay([measure], [grid], loops=False)
    first = next(place for place, notes in enumerate(laid.slots) if notes)
    return replace(laid, slots=laid.slots[first:])


def _sounding(measures: Sequence[Measure]) -> int:
    """How many bars there are up to the last that sounds."""
    return max((number for number, measure in enumerate(measures, start=1) if measure.notes), default=0)


def _price(spread: float, quarter: int) -> Price:
    """What a distance costs, by how far strokes usually stand off; `quarter` in microseconds."""
    scale = 4 * quarter / 1000 / spread
    return lambda off: (float(off) * scale) ** 2


def _spread(measures: Sequence[Measure], quarter: int) -> float:
    """How far strokes stand from their places: as a machine's where they all could, else as a player's."""
    offs = _offs(measures, choose_grids(measures, _price(_EXACT, quarter)), quarter)
    return _EXACT if all(off <= _EXACT for off in offs) else _PLAYED


def _offs(measures: Sequence[Measure], grids: Sequence[Grid], quarter: int) -> list[float]:
    """How far each stroke stands from the nearest slot, in milliseconds."""
    offs: list[float] = []
    for measure, grid in zip(measures, grids, strict=True):
        names = grid.names
        for note in measure.notes:
            slot = Fraction(1, 4 * GRIDS[names[int(note.onset * 4) % len(names)]])
            offs.append(float(abs(note.onset - round(note.onset / slot) * slot)) * 4 * quarter / 1000)
    return offs


def _far_off(measures: Sequence[Measure], grids: Sequence[Grid], spread: float, quarter: int) -> Iterator[str]:
    far = [off for off in _offs(measures, grids, quarter) if off > _FAR * spread]
    if far:
        strokes = "1 stroke stands" if len(far) == 1 else f"{len(far)} strokes stand"
        yield f"{strokes} up to {max(far):.0f} ms off the grid, and could also be meant elsewhere"


def _swung(bars: Iterable[Laid]) -> Iterator[str]:
    """What could be meant as swing: threes whose middle is never played."""
    for name, pair, feel in (("triplets", 3, "8ths"), ("sextuplets", 3, "16ths")):
        played = {
            place % pair
            for bar in bars
            for place, notes in enumerate(bar.slots)
            if bar.grid.names == (name,) and notes and bar.meter.bottom == 4
        }
        if 2 in played and 1 not in played:
            yield f"{name} without their middle could also be grid: {feel} with feel: swing-{feel}"


def _once(bars: Sequence[Laid]) -> list[Laid]:
    """The fewest bars that, played again and again, make all of them."""
    for size in range(1, len(bars)):
        if len(bars) % size == 0 and all(bar == bars[number % size] for number, bar in enumerate(bars)):
            return list(bars[:size])
    return list(bars)


def _tempo(beats: Fraction) -> Tempo | None:
    """A tempo of so many beats a minute; None where nobody could count it."""
    rounded = round(beats)
    return Tempo(rounded, rounded) if SLOWEST <= rounded <= FASTEST else None


def _ladders(pieces: Sequence[Piece]) -> list[Piece]:
    """The pieces, with one for those in a row that only get faster."""
    joined: list[Piece] = []
    for piece in pieces:
        last = joined[-1] if joined else None
        if last and last.tempo and piece.tempo and _climbs(last, piece):
            joined[-1] = replace(last, tempo=Tempo(last.tempo.start, piece.tempo.goal), loops=True)
        else:
            joined.append(piece)
    return joined


def _climbs(first: Piece, second: Piece) -> bool:
    """True where the second is the first again, faster."""
    assert first.tempo and second.tempo
    is_same = (first.title, first.bars, first.pickup) == (second.title, second.bars, second.pickup)
    return is_same and second.tempo.start > first.tempo.goal
