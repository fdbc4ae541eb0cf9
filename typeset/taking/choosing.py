"""Saying which strokes are meant, as shortly as a teacher would: the selection behind a set of strokes."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import product

from ..pattern.counts import Count, Place, counts_of
from ..pattern.draft import Draft
from ..pattern.limb import Limb
from ..pattern.selection import Selection, Spot
from ..pattern.sound import Sound
from ..pattern.stroke import Dynamic, Stroke
from .writing import selection_text

_HANDS = (Limb.RIGHT, Limb.LEFT)


@dataclass(frozen=True)
class _Seen:
    """A stroke of a draft with all that a selection can choose it by."""

    spot: Spot
    stroke: Stroke
    bar: int
    count: Count
    number: int | None


class Chooser:
    """Finds selections in a draft as it stands."""

    def __init__(self, draft: Draft) -> None:
        self.bars = len(draft.pattern.bars)
        self.seen = list(_seen(draft))
        self.repeats = draft.order is not None and len(draft.order) < len(draft.pattern.slots)

    def selections(
        self, wanted: Collection[Spot], may: Collection[Spot] = (), hands: bool = False
    ) -> list[Selection]:
        """The shortest selection that chooses these strokes, or one for each limb.

        It may choose those in `may` too. With `hands` it passes over the feet unless it names one, as the
        steps do that are for hands.
        """
        if not wanted:
            return []
        found = self._shortest(set(wanted), set(may), hands)
        if found:
            return [found]
        limbs = [limb for limb in Limb if any(spot[1] is limb for spot in wanted)]
        by_limb = [{spot for spot in wanted if spot[1] is limb} for limb in limbs]
        return [one for own in by_limb if (one := self._shortest(own, set(may), hands))]

    def _shortest(self, wanted: set[Spot], may: set[Spot], hands: bool) -> Selection | None:
        filters = self._filters(hands)
        candidates = (one for filtered in filters for one in self._narrowed(filtered, wanted, may, hands))
        return min(candidates, key=lambda one: len(selection_text(one)), default=None)

    def _filters(self, hands: bool) -> Iterator[Selection]:
        """Everything, then what can be said by limb, by sound and by dynamic."""
        limbs = [limb for limb in Limb if any(one.stroke.limb is limb for one in self.seen)]
        sounds = list(dict.fromkeys(one.stroke.sound for one in self.seen))
        dynamics = list(dict.fromkeys(one.stroke.dynamic for one in self.seen))
        by_limb: list[tuple[Limb, ...]] = [(), *((limb,) for limb in limbs)]
        if not hands and set(_HANDS) <= set(limbs) and len(limbs) > 2:
            by_limb.append(_HANDS)
        by_sound: list[tuple[Sound, ...]] = [(), *((sound,) for sound in sounds)]
        by_dynamic: list[tuple[Dynamic, ...]] = [(), *((dynamic,) for dynamic in dynamics if len(dynamics) > 1)]
        for limb, sound, dynamic in product(by_limb, by_sound, by_dynamic):
            yield Selection(limb=limb, sound=sound, dynamic=dynamic)

    def _narrowed(self, filtered: Selection, wanted: set[Spot], may: set[Spot], hands: bool) -> Iterator[Selection]:
        """A filter alone and with places, bars or numbers in the order, where that chooses what is wanted."""
        seen = [one for one in self.seen if _passes(one, filtered, hands)]
        meant = [one for one in seen if one.spot in wanted]
        if len(meant) < len(wanted):
            return
        allowed = wanted | may
        if all(one.spot in allowed for one in seen):
            yield filtered if filtered.says_something else replace(filtered, all=True)
            return
        bars = tuple(sorted({one.bar for one in meant}))
        if len(bars) < self.bars:
            inside = [one for one in seen if one.bar in bars]
            if all(one.spot in allowed for one in inside):
                yield replace(filtered, in_bars=bars)
            else:
                yield from self._at(replace(filtered, in_bars=bars), inside, meant, allowed)
        yield from self._at(filtered, seen, meant, allowed)
        numbers = {one.number for one in meant}
        if (
            self.repeats
            and None not in numbers
            and all(one.spot in allowed for one in seen if one.number in numbers)
        ):
            yield replace(filtered, strokes=tuple(sorted(number for number in numbers if number)))

    def _at(
        self, filtered: Selection, seen: Sequence[_Seen], meant: Sequence[_Seen], allowed: set[Spot]
    ) -> Iterator[Selection]:
        """By counts: such as hold in every bar where they can, else in their bars."""
        places: dict[str, None] = {}
        for one in meant:
            name = str(one.count)
            if name in places:
                continue
            everywhere = [other for other in seen if _place(one.count).matches(other.count)]
            there = [other for other in everywhere if other.bar == one.bar]
            is_in_one = len(there) == len(everywhere) and self.bars > 1
            if all(other.spot in allowed for other in everywhere) and (filtered.in_bars or not is_in_one):
                places[name] = None
            elif not filtered.in_bars and all(other.spot in allowed for other in there):
                places[f"{one.bar}|{name}"] = None
            else:
                return
        yield replace(filtered, at=tuple(map(Place.parse, _in_order(places))))


@lru_cache(maxsize=512)
def _place(count: Count) -> Place:
    """The place that a count means when it is written without a bar; on another grid it may mean another slot."""
    return Place.parse(str(count))


def _in_order(places: Iterable[str]) -> list[str]:
    """Counts that hold in every bar first, each kind in the order of time."""
    return sorted(places, key=lambda place: "|" in place)


def _passes(one: _Seen, filtered: Selection, hands: bool) -> bool:
    """True where a filter chooses a stroke."""
    stroke = one.stroke
    return (
        (not filtered.limb or stroke.limb in filtered.limb)
        and (not filtered.sound or stroke.sound in filtered.sound)
        and (not filtered.dynamic or stroke.dynamic in filtered.dynamic)
        and (not hands or filtered.names_a_foot or stroke.limb.is_hand)
    )


def _seen(draft: Draft) -> Iterator[_Seen]:
    numbers = draft.numbers
    index = 0
    for bar, shown in enumerate(draft.pattern.bars, start=1):
        for count, slot in zip(counts_of(shown), shown.slots, strict=True):
            for stroke in slot:
                yield _Seen((index, stroke.limb), stroke, bar, count, numbers[index])
            index += 1
