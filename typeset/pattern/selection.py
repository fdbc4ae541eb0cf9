"""Selections: which strokes a step takes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields
from typing import Literal

from .bar import Pattern
from .counts import CountError, Place, find
from .limb import Limb
from .sound import Sound
from .stroke import Dynamic, Slot

Spot = tuple[int, Limb]
"""One stroke: the number of its slot, from 0, and its limb."""


class SelectionError(ValueError):
    """A selection that cannot be worked out: `key` says which of its keys, `index` which value in it."""

    def __init__(self, message: str, key: str | None = None, index: int | None = None) -> None:
        super().__init__(message)
        self.key = key
        self.index = index


class NothingChosen(SelectionError):
    """A selection that chose nothing."""


@dataclass(frozen=True)
class Selection:
    """Which strokes are meant: all keys that are given have to hold.

    `at` places, `limb`, `sound`, `dynamic` one or several, `in_bars` bars from 1, `run` strokes in a run
    of exactly that many by one limb, `strokes` numbers in the order from 1, `every` the 1st, then each
    n-th of those that the other keys chose; `all` every stroke. `where_missing` is `skip` to pass over
    counts that the grid does not have.
    """

    at: tuple[Place, ...] = ()
    limb: tuple[Limb, ...] = ()
    sound: tuple[Sound, ...] = ()
    dynamic: tuple[Dynamic, ...] = ()
    in_bars: tuple[int, ...] = ()
    every: int | None = None
    run: int | None = None
    strokes: tuple[int, ...] = ()
    all: bool = False
    where_missing: Literal["error", "skip"] = "error"

    @property
    def says_something(self) -> bool:
        """False for a selection with no key at all."""
        return any(getattr(self, field.name) for field in fields(self) if field.name != "where_missing")

    @property
    def names_a_foot(self) -> bool:
        """True when `limb` names a foot."""
        return any(not limb.is_hand for limb in self.limb)

    def in_order(self, slots: Sequence[Slot]) -> tuple[Spot, ...]:
        """The strokes chosen before time is settled. Raises SelectionError on a key that needs time."""
        for key, given in (("at", self.at), ("in-bars", self.in_bars), ("sound", self.sound)):
            if given:
                raise SelectionError(
                    f"'{key}' needs time, and this step comes before it; say limb, every, run or strokes", key
                )
        numbers = range(len(slots))
        return self._choose(slots, numbers, tuple(index + 1 for index in numbers), goes_round=True)

    def in_time(
        self, pattern: Pattern, numbers: Sequence[int | None], loops: bool, hands_only: bool = False
    ) -> tuple[Spot, ...]:
        """The strokes chosen in a pattern.

        `numbers` gives for each slot its number in the order, from 1, or None, where the selection asks for
        `strokes`. Raises SelectionError or NothingChosen.
        """
        slots = pattern.slots
        wanted: Iterable[int] = range(len(slots))
        if self.in_bars:
            wanted = sorted(set(wanted) & self._slots_in_bars(pattern))
        if self.at:
            wanted = sorted(set(wanted) & self._slots_at(pattern))
        return self._choose(slots, wanted, numbers, loops, hands_only)

    def _slots_in_bars(self, pattern: Pattern) -> set[int]:
        chosen: set[int] = set()
        for index, bar in enumerate(self.in_bars):
            if bar > len(pattern.bars):
                raise SelectionError(f"there is no bar {bar}; there are {len(pattern.bars)}", "in-bars", index)
            start = sum(len(before.slots) for before in pattern.bars[: bar - 1])
            chosen |= set(range(start, start + len(pattern.bars[bar - 1].slots)))
        return chosen

    def _slots_at(self, pattern: Pattern) -> set[int]:
        chosen: set[int] = set()
        for index, place in enumerate(self.at):
            try:
                chosen |= set(find(pattern, place))
            except CountError as error:
                if self.where_missing != "skip":
                    raise SelectionError(str(error), "at", index) from None
        return chosen

    def _choose(
        self,
        slots: Sequence[Slot],
        wanted: Iterable[int],
        numbers: Sequence[int | None],
        goes_round: bool,
        hands_only: bool = False,
    ) -> tuple[Spot, ...]:
        wanted = list(wanted)
        in_runs = runs_of(slots, self.run, goes_round) if self.run else None
        chosen: list[Spot] = []
        for index in wanted:
            if self.strokes and numbers[index] not in self.strokes:
                continue
            for stroke in slots[index]:
                spot = (index, stroke.limb)
                fits = (
                    (not self.limb or stroke.limb in self.limb)
                    and (not self.sound or stroke.sound in self.sound)
                    and (not self.dynamic or stroke.dynamic in self.dynamic)
                    and (in_runs is None or spot in in_runs)
                    and (not hands_only or stroke.limb.is_hand)
                )
                if fits:
                    chosen.append(spot)
        if self.every:
            chosen = chosen[:: self.every]
        if not chosen:
            raise NothingChosen(_why_nothing(slots, wanted, hands_only))
        return tuple(chosen)


def _why_nothing(slots: Sequence[Slot], wanted: Iterable[int], hands_only: bool) -> str:
    """What there is where a choice finds nothing."""
    looked_at = [stroke for index in wanted for stroke in slots[index]]
    if hands_only and looked_at and not any(stroke.limb.is_hand for stroke in looked_at):
        return "only feet play here, and this step passes over them; name the foot to mean it, as in limb: K"
    strokes = [stroke for slot in slots for stroke in slot]
    limbs = ", ".join(limb.value for limb in Limb if any(stroke.limb is limb for stroke in strokes))
    sounds = ", ".join(dict.fromkeys(stroke.sound.name for stroke in strokes))
    return f"no stroke here is the one that this step looks for; there are {limbs}, on {sounds}"


def runs_of(slots: Sequence[Slot], length: int, goes_round: bool) -> set[Spot]:
    """The strokes in runs of exactly `length` by one limb.

    A run is strokes of one limb, one after the other, that no slot without that limb comes between; silence
    does not end it. Where it goes round, the end joins the start.
    """
    sounding = [index for index, slot in enumerate(slots) if slot]
    found: set[Spot] = set()
    for limb in Limb:
        plays = [any(stroke.limb is limb for stroke in slots[index]) for index in sounding]
        for run in _stretches(plays, goes_round):
            if len(run) == length:
                found |= {(sounding[place], limb) for place in run}
    return found


def longest_run(slots: Sequence[Slot], goes_round: bool) -> int:
    """The length of the longest run of one limb."""
    sounding = [slot for slot in slots if slot]
    longest = 0
    for limb in Limb:
        plays = [any(stroke.limb is limb for stroke in slot) for slot in sounding]
        longest = max([longest, *(len(run) for run in _stretches(plays, goes_round))])
    return longest


def _stretches(plays: Sequence[bool], goes_round: bool) -> list[list[int]]:
    """Stretches of True, as lists of places; the last joins the first where it goes round."""
    stretches: list[list[int]] = []
    for place, here in enumerate(plays):
        if here and stretches and stretches[-1][-1] == place - 1:
            stretches[-1].append(place)
        elif here:
            stretches.append([place])
    if goes_round and len(stretches) > 1 and stretches[0][0] == 0 and stretches[-1][-1] == len(plays) - 1:
        last = stretches.pop()
        stretches[0] = last + stretches[0]
    return stretches
