"""Series: makes the members of a family, keeps those that obey, and puts them in order."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from ..manuscript.models import Chapter
from ..manuscript.series import HARDEST, SeriesText
from ..pattern.likeness import key_of
from .ground import Refusal, Work, first_together
from .variants import MOST_MADE, Shop, Variant, Variants

MOST_CANDIDATES = 20_000
"""The most members that are made before they are put in order."""

MOST_MEMBERS = 1_000
"""The most members that one series may print."""


def members(text: SeriesText, chapter: Chapter, shop: Shop) -> tuple[Work, ...]:
    """The members of a series that are printed, in their order. Raises Refusal or Broken."""
    maker = _Maker(text, chapter, shop)
    maker.refuse_too_many()
    kept = maker.kept()
    if text.order is None:
        return tuple(islice(kept, text.limit))
    sign = -1 if text.order == HARDEST else 1
    ordered = sorted(kept, key=lambda work: sign * shop.judge.level(work).sum)
    return tuple(ordered[: text.limit])


def member(text: SeriesText, chapter: Chapter, shop: Shop, number: int) -> Work:
    """The member of that number, from 1, in the order in which they are made. Raises Refusal or Broken."""
    made = _Maker(text, chapter, shop).candidate(number) if number <= MOST_MADE else None
    if made is None:
        raise Refusal(text.mark, f"the series '{text.id}' has no member {number}")
    return made


class _Maker:
    """Makes the members of one series, one after the other."""

    def __init__(self, text: SeriesText, chapter: Chapter, shop: Shop) -> None:
        self.text = text
        self.shop = shop
        self.variants = Variants(text, chapter, shop)

    def refuse_too_many(self) -> None:
        """Refuse, with their number, more members than can be put in order or printed."""
        limit = self.text.limit
        if limit is not None and limit > MOST_MEMBERS:
            what = f"a series prints at most {MOST_MEMBERS:,} exercises, and {limit:,} are asked for"
            raise Refusal(self.text.marks("limit"), what)
        if self.text.order is not None:
            remedy = "let less differ, or take 'order' out and set a limit"
            self._refuse_above(MOST_CANDIDATES, "exercises to put in order", "is the most", remedy)
        elif limit is None:
            remedy = "set a limit, or let less differ"
            self._refuse_above(MOST_MEMBERS, "exercises", "is the most that a series prints", remedy)

    def _refuse_above(self, most: int, what: str, is_most: str, remedy: str) -> None:
        count = self.variants.count()
        if count > most:
            told = f"{count:,}" if self.variants.counted_all else f"at least {count:,}"
            raise Refusal(
                self.text.marks("each"), f"this would make {told} {what}, and {most:,} {is_most}; {remedy}"
            )

    def kept(self) -> Iterator[Work]:
        """The members that are kept, in the order in which they are made."""
        keep = self.text.keep
        seen: set[object] = set()
        for number, work in enumerate(self.candidates()):
            if number >= MOST_MADE:
                raise Refusal(
                    self.text.marks("keep"),
                    f"of the first {MOST_MADE:,} that were made fewer than the limit are kept; keep more, or "
                    "let less differ",
                )
            if keep is None:
                yield work
                continue
            if keep.linear and first_together(work.draft):
                continue
            if keep.at_least:
                self.shop.spend(len(work.draft.pattern.slots))
            if keep.at_least and self.shop.judge.ceiling(work).tempo < keep.at_least:
                continue
            if keep.distinct:
                others = tuple(value for key, value in work.values if key not in _ON_ORDER)
                likeness = (key_of(work.draft.order or (), keep.distinct), others)
                if likeness in seen:
                    continue
                seen.add(likeness)
            yield work

    def candidates(self) -> Iterator[Work]:
        """Every member, worked out."""
        return (self._member(variant, number) for number, variant in enumerate(self.variants.every(), start=1))

    def candidate(self, number: int) -> Work | None:
        """The member of that number, from 1; None where there are fewer."""
        variant = next(islice(self.variants.every(), number - 1, None), None)
        return self._member(variant, number) if variant else None

    def _member(self, variant: Variant, number: int) -> Work:
        return self.variants.build(variant, f"{self.text.id}/{number}")


_ON_ORDER = ("rotate", "sequence", "orders")
