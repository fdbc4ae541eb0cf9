"""A draft: an exercise while its steps are played, with where each of its slots came from."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING, NamedTuple, TypeVar

from .bar import Bar, Pattern, empty_bar
from .counts import CountError, Place, find_in_bar
from .grid import Grid, goes_with
from .limb import Limb
from .meter import Meter
from .order import Order
from .selection import Selection, Spot
from .sound import Sound
from .stroke import SILENCE, Slot, Stroke
from .swelling import Swelling, on_strokes

if TYPE_CHECKING:
    from .layer import Layer

T = TypeVar("T")

MOST_BARS = 64
"""The most bars that one exercise may have."""


class SettingError(ValueError):
    """An order that cannot be set in time as asked. `key` is the part of `fit` that is at fault."""

    def __init__(self, message: str, key: str | None = None) -> None:
        super().__init__(message)
        self.key = key


class Origin(NamedTuple):
    """Where a slot came from: the place in the order, from 0, and in which pass through it, from 0."""

    place: int
    turn: int


@dataclass(frozen=True, slots=True)
class Setting:
    """How an order is set in time.

    `bars` None means as many as one pass needs (or, resolving, as many as it takes); `start` leaves
    silence before that place of bar 1.
    """

    bars: int | None = None
    by: str = "trimming"
    start: Place | None = None


@dataclass(frozen=True)
class Draft:
    """An exercise's music, half made.

    `order` is None for a phrase, which has no one order behind it. `origins` has one entry for each slot
    of the pattern. `voices` are the sounds in force for each limb, `ends` says that it stops, lands or
    rests, `play` what the author said about it, `displaced` by how many slots everything was moved.
    `layers` were laid over the order, and `layered` are their strokes; so were `swellings`. `landing` sounds
    on the first beat after the last bar. `fixed` says that it holds music that did not come from its order.
    """

    order: Order | None
    meter: Meter
    grid: Grid
    setting: Setting
    pattern: Pattern
    origins: tuple[Origin | None, ...]
    voices: tuple[tuple[Limb, Sound], ...] = ()
    ends: bool = False
    play: str | None = None
    displaced: int = 0
    layers: tuple[Layer, ...] = ()
    layered: frozenset[Spot] = frozenset()
    swellings: tuple[Swelling, ...] = ()
    landing: Slot = SILENCE
    fixed: bool = False

    @cached_property
    def finished(self) -> Pattern:
        """The music to its very end: where it lands, a bar more in the last one's meter."""
        pattern = on_strokes(self.pattern)
        if not self.landing:
            return pattern
        meter = self.pattern.bars[-1].meter
        bar = empty_bar(meter, self.grid) if goes_with(self.grid, meter) else self.pattern.bars[-1]
        silent = (SILENCE,) * (len(bar.slots) - 1)
        *endings, last = self.pattern.endings or (0,)
        return replace(
            pattern,
            bars=(*self.pattern.bars, bar.with_slots((self.landing, *silent))),
            endings=(*endings, last + 1) if endings else (),
        )

    @property
    def loops(self) -> bool:
        """True when it is played again and again."""
        return self.play == "loop" or (self.play is None and not self.ends)

    @property
    def numbers(self) -> tuple[int | None, ...]:
        """For each slot its number in the order, from 1, or None."""
        return tuple(origin.place + 1 if origin else None for origin in self.origins)

    def choose(self, selection: Selection, hands_only: bool = False) -> tuple[Spot, ...]:
        """The strokes that a selection chooses here. Raises SelectionError."""
        numbers = self.numbers if selection.strokes else ()
        return selection.in_time(self.pattern, numbers, self.loops, hands_only)

    def with_slots(self, slots: Sequence[Slot]) -> Draft:
        """The same draft with other slots in its bars."""
        return replace(self, pattern=self.pattern.with_slots(slots))

    def with_strokes(self, spots: Iterable[Spot], change: Callable[[Stroke, int], Stroke | None]) -> Draft:
        """Change the strokes at these spots; `change` gets each stroke and its number among them, from 0,
        and gives the new stroke, or None to leave it out."""
        slots = list(self.pattern.slots)
        for number, (index, limb) in enumerate(spots):
            changed = [change(stroke, number) if stroke.limb is limb else stroke for stroke in slots[index]]
            slots[index] = tuple([stroke for stroke in changed if stroke])
        return self.with_slots(slots)


def set_in_time(order: Order, meter: Meter, grid: Grid, setting: Setting, play: str | None = None) -> Draft:
    """Set an order in time.

    Raises GridError where grid and meter do not go together, SettingError where the order does not
    fit as asked.
    """
    bar = empty_bar(meter, grid)
    size = len(bar.slots)
    start = _first_slot(bar, setting)
    count = _count_bars(len(order), size, start, setting)
    if count > MOST_BARS:
        raise SettingError(f"this comes to {count} bars; an exercise has at most {MOST_BARS}", "bars")
    origins = _place(len(order), size, start, count, setting.by)
    slots = [order[origin.place] if origin else SILENCE for origin in origins]
    pattern = Pattern((bar,) * count).with_slots(slots)
    return Draft(order, meter, grid, setting, pattern, origins, ends=setting.by == "resting", play=play)


def displace(draft: Draft, by: int) -> Draft:
    """Move everything `by` slots later, round the end."""
    size = len(draft.origins)
    return replace(
        draft.with_slots(turned(draft.pattern.slots, by)),
        origins=turned(draft.origins, by),
        displaced=draft.displaced + by,
        layered=frozenset(((index + by) % size, limb) for index, limb in draft.layered),
    )


def turned(values: Sequence[T], by: int) -> tuple[T, ...]:
    """The values `by` places later, round the end."""
    by %= len(values)
    return (*values[len(values) - by :], *values[: len(values) - by])


def _first_slot(bar: Bar, setting: Setting) -> int:
    if setting.start is None:
        return 0
    if setting.start.bar not in (None, 1):
        raise SettingError(f"{setting.start} is not in bar 1; 'from' is a place of the first bar", "from")
    try:
        return find_in_bar(bar, setting.start)
    except CountError as error:
        raise SettingError(str(error), "from") from None


def _count_bars(length: int, size: int, start: int, setting: Setting) -> int:
    """How many bars of `size` slots an order of `length` slots gets, beginning at slot `start`."""
    needed = -(-(start + length) // size)
    if setting.by == "resolving":
        if setting.bars is not None:
            raise SettingError("resolving finds the number of bars by itself; leave 'bars' out", "bars")
        counts = range(needed, needed + length + 1)
        for count in counts:
            if (count * size - start) % length == 0:
                return count
        raise SettingError(f"from there, {length} slots never end at a barline; begin elsewhere or trim", "from")
    count = needed if setting.bars is None else setting.bars
    room = count * size - start
    if setting.by == "resting" and room < length:
        raise SettingError(f"one pass is {length} slots, and there is room for {room}; give it more bars", "bars")
    if setting.by == "exactly" and room % length:
        raise SettingError(
            f"{length} slots do not fill {room} exactly: {room // length} passes leave {room % length} over; "
            "change the bars, or fit by trimming, restarting or resting",
            "bars",
        )
    return count


@lru_cache(maxsize=1024)
def _place(length: int, size: int, start: int, count: int, by: str) -> tuple[Origin | None, ...]:
    """Which slot of which pass stands in each slot of `count` bars."""
    origins: list[Origin | None] = [None] * start
    if by == "restarting":
        turn = 0
        for bar in range(count):
            room = size - (start if bar == 0 else 0)
            origins += [Origin(slot % length, turn + slot // length) for slot in range(room)]
            turn += -(-room // length)
        return tuple(origins)
    for slot in range(count * size - start):
        resting = by == "resting" and slot >= length
        origins.append(None if resting else Origin(slot % length, slot // length))
    return tuple(origins)
