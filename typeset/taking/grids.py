"""Which grid a piece stands on, worked out from where its notes are: an even one, or a mixed one.

Each quarter (in x/8 each bar) is a cell that some grids fit better than others. As few grids as will do are
taken for all bars of a meter, the plain before the rare; then each gets the same list of them if it can.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from itertools import combinations

from ..pattern.bar import empty_bar
from ..pattern.grid import GRIDS, IN_EIGHTHS, QUARTER, Grid
from ..pattern.meter import Meter
from .piece import Laid, Measure, Note, Price

# What it takes to believe in a grid; a note that would stand some twenty milliseconds off weighs about as much
# as a usual grid. Common practice, no source: a book of drum music has far more sixteenths than septuplets.
_RARE = {
    "quarters": 0.0, "8ths": 1.0, "16ths": 2.0, "triplets": 3.0, "sextuplets": 5.0, "32nds": 6.0,
    "quintuplets": 8.0, "septuplets": 9.0,
}  # fmt: skip
_MIXED = 3.0
"""What each further grid in one piece takes."""

_OTHERWISE = 10.0
"""What it takes not to believe the tuplet, or the lack of one, that a file writes."""

_MERGED = 60.0
"""What it takes to let two strokes on one sound fall together."""

_MOST_MIXED = 3

Costs = Mapping[str, float]


def choose_grids(measures: Sequence[Measure], price: Price) -> list[Grid]:
    """A grid for each measure of a piece."""
    chosen: dict[int, Grid] = {}
    for meter in dict.fromkeys(one.meter for one in measures):
        members = [number for number, one in enumerate(measures) if one.meter == meter]
        cells = [_costs(measures[number], price) for number in members]
        chosen |= dict(zip(members, _grids(cells), strict=True))
    return [chosen[number] for number in range(len(measures))]


def lay(measures: Sequence[Measure], grids: Sequence[Grid], loops: bool) -> list[Laid]:
    """The notes of a piece, each in the slot that is nearest to it.

    What is nearest to the end stands on the first beat of a loop, else in the last slot. Of notes on one sound
    in one slot the loudest stays.
    """
    frames = [empty_bar(measure.meter, grid) for measure, grid in zip(measures, grids, strict=True)]
    slots: list[list[Note]] = [[] for frame in frames for _ in frame.slots]
    before = 0
    for measure, frame in zip(measures, frames, strict=True):
        onsets = (*frame.onsets, frame.meter.length)
        for note in measure.notes:
            after = min(max(bisect_left(onsets, note.onset), 1), len(onsets) - 1)
            is_nearer = note.onset - onsets[after - 1] <= onsets[after] - note.onset
            nearest = before + (after - 1 if is_nearer else after)
            if nearest == len(slots):
                nearest = 0 if loops else nearest - 1
            slots[nearest].append(note)
        before += len(frame.slots)
    taken = iter(slots)
    return [
        Laid(measure.meter, grid, tuple(_settled(next(taken), onset) for onset in frame.onsets))
        for measure, grid, frame in zip(measures, grids, frames, strict=True)
    ]


def _settled(notes: Sequence[Note], onset: Fraction) -> tuple[Note, ...]:
    """The notes of a slot that begins at `onset`: one for each sound, unless two hands are said to play it."""
    kept: list[Note] = []
    for note in sorted(notes, key=lambda note: (-_LOUDNESS.index(note.dynamic.value), note.onset)):
        same = [other for other in kept if other.sound == note.sound]
        if not same or (note.limbs and all(other.limbs and other.limbs != note.limbs for other in same)):
            kept.append(note)
    kept.sort(key=lambda note: (note.sound.by_hand, note.sound.place, note.sound.name))
    return tuple(replace(note, onset=onset) for note in kept)


_LOUDNESS = ("ghost", "plain", "accent")


def _costs(measure: Measure, price: Price) -> list[Costs]:
    """For each cell of a measure what each grid costs there."""
    return [
        {name: _cost(measure, number, notes, name, price) for name in _names(measure.meter)}
        for number, notes in enumerate(_cells(measure))
    ]


def _names(meter: Meter) -> Sequence[str]:
    return IN_EIGHTHS if meter.bottom == 8 else tuple(GRIDS)


def _cells(measure: Measure) -> Iterator[list[tuple[Fraction, Note]]]:
    """The notes of each cell, with their distance from its beginning."""
    length = measure.meter.length if measure.meter.bottom == 8 else QUARTER
    for number in range(int(measure.meter.length / length)):
        start = number * length
        yield [(note.onset - start, note) for note in measure.notes if 0 <= note.onset - start < length]


def _cost(measure: Measure, number: int, notes: Sequence[tuple[Fraction, Note]], name: str, price: Price) -> float:
    nearest = [_nearest(offset, GRIDS[name]) for offset, _ in notes]
    cost = sum(price(off) for _, off in nearest)
    cost += _MERGED * _merged([place for place, _ in nearest], [note for _, note in notes])
    written = measure.written
    if written is not None and measure.meter.bottom != 8 and any(offset for offset, _ in notes):
        is_tuplet = GRIDS[name] not in (1, 2, 4, 8)
        said = written.get(number)
        cost += _OTHERWISE * (name != said if said else is_tuplet)
    return cost


@lru_cache(maxsize=4096)
def _nearest(offset: Fraction, slots: int) -> tuple[int, Fraction]:
    """The slot nearest to a moment, where there are so many to a quarter, and how far off it is."""
    slot = QUARTER / slots
    place = round(offset / slot)
    return place, abs(offset - place * slot)


def _merged(places: Sequence[int], notes: Sequence[Note]) -> int:
    """How many notes on one sound would fall into a slot that has one already, at another time."""
    taken = Counter((place, note.sound.name) for place, note in zip(places, notes, strict=True))
    apart = {(note.onset, note.sound.name) for note in notes}
    return min(sum(count - 1 for count in taken.values()), len(apart) - len(taken)) if notes else 0


def _grids(bars: Sequence[Sequence[Costs]]) -> list[Grid]:
    """A grid for each bar, out of what the grids cost in its cells."""
    cells = [cell for bar in bars for cell in bar]
    if not cells:
        return []
    alike = Counter(tuple(cell.items()) for cell in cells)
    weighed = [(dict(cell), count) for cell, count in alike.items()]
    best = min(_choices(tuple(cells[0])), key=lambda names: _total(names, weighed))
    needed = Counter(name for cell in cells if (name := _needed(best, cell)))
    usual = max(best, key=lambda name: (needed[name], -_RARE[name]))
    common = [_cheapest(best, [bar[place] for bar in bars if place < len(bar)], usual) for place in _places(bars)]
    return [_grid(_own(best, bar, common)) for bar in bars]


def _places(bars: Sequence[Sequence[Costs]]) -> range:
    return range(max(map(len, bars)))


def _choices(names: Sequence[str]) -> Iterator[tuple[str, ...]]:
    for size in range(1, _MOST_MIXED + 1):
        yield from combinations(sorted(names, key=lambda name: _RARE[name]), size)


def _total(names: Sequence[str], cells: Sequence[tuple[Costs, int]]) -> float:
    """What these grids cost in all: to be believed, and in cells of which there are so many."""
    believed = sum(_RARE[name] for name in names) + _MIXED * (len(names) - 1)
    return believed + sum(count * min(cell[name] for name in names) for cell, count in cells)


def _needed(names: Sequence[str], cell: Costs) -> str | None:
    """The grid that a cell clearly asks for; None where several will do."""
    first, *others = sorted(names, key=lambda name: cell[name])
    return first if not others or cell[others[0]] > cell[first] else None


def _cheapest(names: Sequence[str], cells: Sequence[Costs], usual: str) -> str:
    return min(names, key=lambda name: (round(sum(cell[name] for cell in cells), 6), name != usual))


def _own(names: Sequence[str], bar: Sequence[Costs], common: Sequence[str]) -> list[str]:
    """A bar's grids: those of all bars at the same places, but where another is clearly better."""
    chosen: list[str] = []
    for cell, name in zip(bar, common, strict=False):
        best = _cheapest(names, [cell], name)
        chosen.append(best if cell[best] + 1 < cell[name] else name)
    return chosen


def _grid(names: Sequence[str]) -> Grid:
    """The grid of these names, as short as it can be written."""
    for size in range(1, len(names) + 1):
        if len(names) % size == 0 and all(name == names[place % size] for place, name in enumerate(names)):
            return Grid.of(*names[:size])
    raise AssertionError("a list repeats itself at its full length")
