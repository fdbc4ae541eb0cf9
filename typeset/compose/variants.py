"""What makes the members of a series differ, one after the other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, islice
from typing import Any, Protocol

from ..manuscript.exercise import ExerciseText
from ..manuscript.models import Chapter
from ..manuscript.series import SeriesText
from ..pattern.counts import place_of
from ..pattern.draft import Draft
from ..pattern.grid import Grid
from ..pattern.lineage import play_order
from ..pattern.meter import Meter
from ..pattern.order import Order
from ..pattern.orders import count_orders, make_orders
from ..pattern.selection import SelectionError
from ..pattern.steps import Source, Step
from ..pattern.steps.dynamics import Accent
from ..pattern.steps.order import Rotate
from ..pattern.steps.timing import Displace
from ..problem import Mark
from .ground import Ground, MadeLine, Refusal, Work, time_of
from .judging import Judge
from .names import Named

MOST_MADE = 50_000
"""The most members that are made, or counted, while looking for those that are kept."""


@dataclass(frozen=True)
class Variant:
    """What makes one member differ from the others.

    `order` replaces the start, `meter` and `grid` what is set; `first` are steps that come before the
    series' own, `last` those after. `values` are what differs, by the key of `each`.
    """

    values: tuple[tuple[str, Any], ...] = ()
    order: Order | None = None
    meter: Meter | None = None
    grid: Grid | None = None
    first: tuple[MadeLine, ...] = ()
    last: tuple[MadeLine, ...] = ()

    def ground(self, ground: Ground) -> Ground:
        """The series' ground, with this member's order, meter and grid."""
        if not (self.order or self.meter or self.grid):
            return ground
        return replace(
            ground,
            order=self.order or ground.order,
            meter=self.meter or ground.meter,
            grid=self.grid or ground.grid,
        )


ONLY_ONE = Variant()
"""What differs where there is no series."""


class Shop(Protocol):
    """What members are worked out by."""

    judge: Judge

    def spend(self, moves: int) -> None:
        """Count work, and raise Broken where it is too much."""

    def ground(self, text: ExerciseText | SeriesText, chapter: Chapter) -> Ground:
        """What every member starts from."""

    def named(self, name: str, mark: Mark) -> Named:
        """What the name of a sequence means."""

    def build(
        self,
        name: str,
        title: str,
        text: ExerciseText | SeriesText,
        chapter: Chapter,
        ground: Ground,
        variant: Variant = ...,
    ) -> Work:
        """A member, worked out."""


class Variants:
    """What differs in each member of one series. Raises Refusal or Broken where it starts from what it cannot."""

    def __init__(self, text: SeriesText, chapter: Chapter, shop: Shop) -> None:
        self.text = text
        self.each = text.each
        self.chapter = chapter
        self.shop = shop
        self.ground = shop.ground(text, chapter)
        self.counted_all = True
        self._drafted: tuple[Variant, Draft] | None = None
        if self.ground.joined is not None:
            raise Refusal(text.marks("start"), "a series starts from an order, and a phrase has several")

    def every(self) -> Iterator[Variant]:
        """What makes each member."""
        for variant in self._variants(Variant(), self.each.said):
            self.shop.spend(1)
            finished = self._finished(variant)
            if finished is not None:
                yield finished

    def build(self, variant: Variant, name: str) -> Work:
        """The exercise that comes of a variant, under a name."""
        text = self.text
        return self.shop.build(name, text.title, text, self.chapter, variant.ground(self.ground), variant)

    def _variants(self, before: Variant, keys: Sequence[str]) -> Iterator[Variant]:
        """Every combination, the first key varying slowest."""
        if not keys:
            yield before
            return
        for variant in self._options(keys[0], before, keys[1:]):
            yield from self._variants(variant, keys[1:])

    def _options(self, key: str, before: Variant, later: Sequence[str]) -> Iterator[Variant]:
        for value in self._values(key, before, later):
            variant = replace(before, values=(*before.values, (key, value)))
            match key:
                case "rotate":
                    yield replace(variant, first=(*variant.first, self._line(key, Rotate(value))))
                case "sequence":
                    yield self._starting(value, before)
                case "orders":
                    yield replace(variant, order=value)
                case "meter":
                    yield replace(variant, meter=value)
                case "grid":
                    yield replace(variant, grid=value)
                case _:
                    yield variant

    def _starting(self, name: str, before: Variant) -> Variant:
        """A variant that starts from a sequence, set as is usual for it where nobody says otherwise."""
        named = self.shop.named(name, self.each.marks("sequence", self.each.sequence.index(name)))
        said = named.said or ("" if "/" in name else name.replace("-", " "))
        variant = replace(
            before, order=named.order, values=(*before.values, ("sequence", Source(name, named.order, said)))
        )
        if self.ground.parent:
            return variant
        meter, grid = time_of(self.text, self.chapter, named)
        return replace(variant, meter=variant.meter or meter, grid=variant.grid or grid)

    def _values(self, key: str, before: Variant, later: Sequence[str]) -> Iterable[Any]:
        """What one key takes in turn; where that depends on the other keys, on what they take first."""
        each = self.each
        if key == "orders":
            assert each.orders is not None
            rules = each.orders
            return make_orders(rules.length, rules.limbs, rules.longest_run, rules.distinct)
        if key == "rotate" and each.rotate is None:
            return range(len(self._order(self._completed(before, later))))
        if key == "displace" and each.displace is None:
            return range(len(self._draft(self._completed(before, later)).pattern.slots))
        if key == "accents":
            assert each.accents is not None
            slots = self._slots_among(self._draft(self._completed(before, later)))
            return combinations(range(len(slots)), each.accents.choose)
        values: Iterable[Any] = getattr(each, key)
        return values

    def _completed(self, before: Variant, later: Sequence[str]) -> Variant:
        """A variant with the first of everything that makes orders and sets them in time."""
        for key in later:
            if key in ("sequence", "orders", "meter", "grid"):
                before = next(self._options(key, before, ()), before)
        return before

    def _order(self, variant: Variant) -> Order:
        ground = variant.ground(self.ground)
        assert ground.order is not None
        return play_order(ground.order, [line.step for line in ground.lines])[0]

    def _draft(self, variant: Variant) -> Draft:
        """The music of a variant; the last is kept, for where one stroke after the other is accented in it."""
        music = replace(variant, values=())
        if self._drafted is None or self._drafted[0] != music:
            self._drafted = music, self.build(music, self.text.id).draft
        return self._drafted[1]

    def _slots_among(self, draft: Draft) -> list[int]:
        """The slots of the strokes that accents are chosen among."""
        assert self.each.accents is not None
        try:
            return sorted({slot for slot, _ in draft.choose(self.each.accents.among)})
        except SelectionError as error:
            raise Refusal(self.each.marks("accents"), str(error)) from None

    def _finished(self, variant: Variant) -> Variant | None:
        """A variant with the steps that come last; None where it lacks a stroke that was to be accented."""
        values = dict(variant.values)
        lines: list[MadeLine] = []
        if "accents" in values:
            assert self.each.accents is not None
            draft = self._draft(variant)
            slots = self._slots_among(draft)
            if values["accents"] and values["accents"][-1] >= len(slots):
                return None
            places = tuple(place_of(draft.pattern, slots[index]) for index in values["accents"])
            chosen = replace(self.each.accents.among, at=places, every=None, run=None, strokes=())
            lines.append(self._line("accents", Accent(chosen)))
            variant = replace(variant, values=_with(variant.values, "accents", chosen))
        if "voice" in values:
            lines.append(self._line("voice", values["voice"]))
        if values.get("displace"):
            lines.append(self._line("displace", Displace(values["displace"])))
        return replace(variant, last=tuple(lines)) if lines else variant

    def _line(self, key: str, step: Step) -> MadeLine:
        return MadeLine(step, self.each.marks(key))

    def count(self) -> int:
        """How many there are; at least so many where not `counted_all`."""
        count = 1
        before = Variant()
        said = self.each.said
        for place, key in enumerate(said):
            count *= self._count_of(key, before, said[place + 1 :])
            before = next(self._options(key, before, said[place + 1 :]), before)
        return count

    def _count_of(self, key: str, before: Variant, later: Sequence[str]) -> int:
        rules = self.each.orders
        if key == "orders" and rules is not None and not rules.distinct:
            return count_orders(rules.length, len(rules.limbs), rules.longest_run)
        counted = sum(1 for _ in islice(self._values(key, before, later), MOST_MADE))
        self.counted_all = self.counted_all and counted < MOST_MADE
        return counted


def _with(values: tuple[tuple[str, Any], ...], key: str, new: Any) -> tuple[tuple[str, Any], ...]:
    return tuple((name, new if name == key else value) for name, value in values)
