"""Steps on the order: where it begins, which way it goes, who plays it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from ..limb import Limb
from ..mirror import mirrored
from ..order import LONGEST, Order
from ..selection import Selection, Spot
from ..sentence import Beginning, Ordinal, Pairs, Sentence, Times, Written
from ..stroke import Ornament, Slot, Stroke, plain_stroke, slot_of
from .step import Example, Heard, OrderStep, Source, StepError, alone, step


def _not_too_long(order: Order) -> Order:
    if len(order) > LONGEST:
        raise StepError(f"the order would grow to {len(order)} slots; {LONGEST} is the most")
    return order


def _with_limbs(order: Order, spots: Iterable[Spot], limb_for: Callable[[Limb], Limb]) -> Order:
    """The order with other limbs at these spots; each plays what it plays before anything is said.

    Dynamics stay, and ornaments where the new limb can play them. Raises StepError where it cannot be played.
    """
    chosen = set(spots)
    slots: list[Slot] = []
    for index, slot in enumerate(order):
        strokes = (
            _played_by(limb_for(stroke.limb), stroke) if (index, stroke.limb) in chosen else stroke
            for stroke in slot
        )
        try:
            slots.append(slot_of(strokes))
        except ValueError as error:
            raise StepError(f"in slot {index + 1} of the order {error}") from None
    return tuple(slots)


def _played_by(limb: Limb, stroke: Stroke) -> Stroke:
    """A stroke as another limb plays it: a foot plays diddles, and no other ornament."""
    keeps = limb.is_hand or stroke.ornament is Ornament.DIDDLE
    return plain_stroke(limb, stroke.dynamic).carrying(stroke.ornament if keeps else None)


@step
@dataclass(frozen=True)
class Rotate(OrderStep):
    """Begin so many strokes later, and play what was passed over at the end."""

    key = "rotate"
    about = "begin so many slots later; what is passed over comes at the end"
    says = {
        "plain": "Begin at the {stroke} stroke.",
        "none": "Begin at the first stroke.",
        "silence": "Begin with the silence before the {stroke} stroke.",
    }
    example = Example("R L R K L", "2", "R K L R L")

    by: int = alone()

    def __post_init__(self) -> None:
        if self.by < 0:
            raise StepError("rotate counts forward: 1 begins at the second stroke, 2 at the third", "by")

    @property
    def form(self) -> str:
        return "plain" if self.by else "none"

    def words(self) -> Mapping[str, Any]:
        return {"stroke": Ordinal(self.by + 1)}

    def sentence_for(self, heard: Heard) -> Sentence:
        """The same with strokes counted, and not silent slots."""
        if not self.by % len(heard.order):
            return Sentence(self.key, "none", self.says["none"])
        begins = beginning(heard.order, self.by)
        form = "silence" if begins.silent else "plain"
        return Sentence(self.key, form, self.says[form], {"stroke": Ordinal(begins.stroke)})

    def change(self, order: Order) -> Order:
        by = self.by % len(order)
        return order[by:] + order[:by]


def beginning(order: Order, by: int) -> Beginning:
    """Where an order, which has a stroke, begins so many slots later."""
    by %= len(order)
    silent = next(count for count, slot in enumerate(order[by:] + order[:by]) if slot)
    strokes = sum(map(bool, order))
    return Beginning(sum(map(bool, order[:by])) % strokes + 1, silent)


@step
@dataclass(frozen=True)
class Reverse(OrderStep):
    """Play the order from its end to its start."""

    key = "reverse"
    about = "play it from the end to the start"
    says = {"plain": "Play the order backwards."}
    example = Example("R L R K L", "yes", "L K R L R")

    yes: bool = alone(default=True)

    def change(self, order: Order) -> Order:
        return order[::-1] if self.yes else order


@step
@dataclass(frozen=True)
class Swap(OrderStep):
    """Let other limbs play the same strokes."""

    key = "swap"
    about = "give each limb's strokes to another limb"
    says = {"plain": "Change limbs: {limbs}.", "hands": "Swap the hands."}
    example = Example("R L R K L", "{R: L, L: R}", "L R L K R")

    limbs: tuple[tuple[Limb, Limb], ...] = alone()

    @property
    def form(self) -> str:
        hands = {(Limb.RIGHT, Limb.LEFT), (Limb.LEFT, Limb.RIGHT)}
        return "hands" if set(self.limbs) == hands else "plain"

    def words(self) -> Mapping[str, Any]:
        return {"limbs": Pairs(self.limbs)}

    def change(self, order: Order) -> Order:
        new = dict(self.limbs)
        spots = [(index, stroke.limb) for index, slot in enumerate(order) for stroke in slot]
        if not any(limb in new for _, limb in spots):
            raise StepError("none of these limbs plays in this order")
        return _with_limbs(order, spots, lambda limb: new.get(limb, limb))


@step
@dataclass(frozen=True)
class Lead(OrderStep):
    """Turn the order so that its first hand stroke is this hand's."""

    key = "lead"
    about = "begin with this hand: where the other one leads, the hands change places"
    says = {"plain": "Lead with {hand}."}
    example = Example("R L R K L", "L", "L R L K R")

    hand: Limb = alone()

    def __post_init__(self) -> None:
        if not self.hand.is_hand:
            raise StepError("a hand leads: R or L", "hand")

    def change(self, order: Order) -> Order:
        first = next((stroke.limb for slot in order for stroke in slot if stroke.limb.is_hand), None)
        if first is None:
            raise StepError("no hand plays in this order")
        return order if first is self.hand else mirrored(order)


@step
@dataclass(frozen=True)
class Replace(OrderStep):
    """Give chosen strokes to one other limb."""

    key = "replace"
    about = "give the chosen strokes to one limb"
    says = {"plain": "Play {chosen} with {with} instead."}
    example = Example("R L R K L", "{limb: L, with: K, every: 2}", "R K R K L")

    chosen: Selection
    with_: Limb

    def change(self, order: Order) -> Order:
        return _with_limbs(order, self.chosen.in_order(order), lambda _: self.with_)


@step
@dataclass(frozen=True)
class Double(OrderStep):
    """Play each chosen stroke twice; the order grows."""

    key = "double"
    about = "play each chosen stroke twice; the order grows"
    says = {"plain": "Double {chosen}: play twice what was played once."}
    example = Example("R L R K L", "{limb: R}", "R R L R R K L")

    chosen: Selection

    def change(self, order: Order) -> Order:
        spots = set(self.chosen.in_order(order))
        slots: list[Slot] = []
        for index, slot in enumerate(order):
            slots.append(slot)
            again = tuple(stroke for stroke in slot if (index, stroke.limb) in spots)
            if again:
                slots.append(again)
        return _not_too_long(tuple(slots))


@step
@dataclass(frozen=True)
class Repeat(OrderStep):
    """Play the order several times before anything else is done with it."""

    key = "repeat"
    about = "play the order so many times in a row"
    says = {"plain": "Play the order {times} in a row."}
    example = Example("R L K", "2", "R L K R L K")

    times: int = alone()

    def __post_init__(self) -> None:
        if self.times < 1:
            raise StepError("an order is played once or more", "times")

    def words(self) -> Mapping[str, Any]:
        return {"times": Times(self.times)}

    def change(self, order: Order) -> Order:
        if len(order) * self.times > LONGEST:
            raise StepError(
                f"the order would grow to {len(order) * self.times} slots; {LONGEST} is the most", "times"
            )
        return order * self.times


@step
@dataclass(frozen=True)
class Join(OrderStep):
    """Put orders one after the other."""

    key = "join"
    about = "put orders one after the other: sequences by name, or written out"
    says = {"plain": "Play one after the other: {orders}."}
    example = Example("R L K", "[R L K, R L, R L K]", "R L K R L R L K")

    orders: tuple[Source, ...] = field(metadata={"alone": True})

    def words(self) -> Mapping[str, Any]:
        return {"orders": Written(self.orders)}

    def change(self, order: Order) -> Order:
        return _not_too_long(tuple(slot for source in self.orders for slot in source.order))
