"""Phrases: the bars of several exercises, one after the other."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from .bar import Pattern
from .draft import MOST_BARS, Draft, SettingError
from .stroke import SILENCE, Slot, slot_of


@dataclass(frozen=True)
class Part:
    """A part of a phrase: a draft, how many of its first bars (None: all of them), and how many times."""

    draft: Draft
    bars: int | None = None
    times: int = 1


def join_parts(parts: Iterable[Part], play: str | None = None) -> Draft:
    """One draft of all parts in order. It ends where its last part does.

    Raises SettingError where a part has fewer bars than are asked for, or all come to too many.
    """
    drafts: list[Draft] = []
    bars = 0
    for part in parts:
        cut = _first_bars(part.draft, part.bars)
        bars += len(cut.pattern.bars) * part.times
        if bars > MOST_BARS:
            raise SettingError(f"a phrase has at most {MOST_BARS} bars")
        for _ in range(part.times):
            drafts.append(_landed_on(cut, drafts[-1].landing) if drafts else cut)
    first, last = drafts[0], drafts[-1]
    return replace(
        first,
        order=None,
        pattern=Pattern(tuple(bar for draft in drafts for bar in draft.pattern.bars)),
        origins=tuple(origin for draft in drafts for origin in draft.origins),
        layers=(),
        layered=frozenset(),
        ends=last.ends,
        play=play,
        displaced=0,
        landing=last.landing,
        fixed=True,
    )


def _landed_on(draft: Draft, landing: Slot) -> Draft:
    """A part whose first beat the part before it lands on; its own limbs there play on if they are free."""
    if not landing:
        return draft
    busy = {stroke.limb for stroke in landing}
    first, *others = draft.pattern.slots
    together = slot_of((*landing, *(stroke for stroke in first if stroke.limb not in busy)))
    return draft.with_slots((together, *others))


def _first_bars(draft: Draft, count: int | None) -> Draft:
    bars = draft.pattern.bars
    if count is None or count == len(bars):
        return draft
    if count > len(bars):
        has = "1 bar" if len(bars) == 1 else f"{len(bars)} bars"
        raise SettingError(f"it has {has}, not {count}")
    pattern = Pattern(bars[:count])
    # Where only its beginning is used, it neither stops, rests nor lands at the end.
    return replace(draft, pattern=pattern, origins=draft.origins[: len(pattern.slots)], ends=False, landing=SILENCE)
