"""Phrases: the bars of several exercises, one after the other, or in turn at the end of another's."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import accumulate

from .bar import Pattern, bars_in_words
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
        cut = _first_bars(unfolded(part.draft), part.bars)
        bars += len(cut.pattern.bars) * part.times
        if bars > MOST_BARS:
            raise SettingError(f"a phrase has at most {MOST_BARS} bars")
        for _ in range(part.times):
            drafts.append(_landed_on(cut, drafts[-1].landing) if drafts else cut)
    first, last = drafts[0], drafts[-1]
    return replace(
        first,
        order=None,
        pattern=_joined([draft.pattern for draft in drafts]),
        origins=tuple(origin for draft in drafts for origin in draft.origins),
        layers=(),
        layered=frozenset(),
        swellings=(),
        ends=last.ends,
        play=play,
        displaced=0,
        landing=last.landing,
        fixed=True,
    )


def _joined(patterns: Sequence[Pattern]) -> Pattern:
    """The bars of several patterns, with their swells."""
    starts = accumulate((pattern.length for pattern in patterns), initial=Fraction(0))
    pairs = zip(starts, patterns, strict=False)
    return Pattern(
        tuple(bar for pattern in patterns for bar in pattern.bars),
        swells=tuple(swell.moved(start) for start, pattern in pairs for swell in pattern.swells),
    )


def with_endings(body: Draft, endings: Iterable[Part]) -> Draft:
    """A draft that is played once to each ending; where it lands, it lands on the first beat of each.

    Raises SettingError as join_parts does, and for an ending that leads back and lands.
    """
    ended = [_landed_on(join_parts([part]), body.landing) for part in endings]
    *before, last = ended
    if any(draft.landing for draft in before):
        raise SettingError("only the last ending can land; the others lead back to the beginning")
    joined = _joined([body.pattern, *(draft.pattern for draft in ended)])
    if len(joined.bars) > MOST_BARS:
        raise SettingError(f"with its endings this has {len(joined.bars)} bars; {MOST_BARS} is the most")
    sizes = tuple(len(draft.pattern.bars) for draft in ended)
    return replace(
        body,
        pattern=replace(joined, pickup=body.pattern.pickup, endings=sizes),
        origins=(*body.origins, *(None for draft in ended for _ in draft.pattern.slots)),
        ends=True,
        landing=last.landing,
        fixed=True,
    )


def unfolded(draft: Draft) -> Draft:
    """The bars as they are played, one after the other: without a pickup, and with no ending to go back from."""
    pattern = draft.pattern
    if not pattern.endings:
        return replace(draft, pattern=replace(pattern, pickup=None)) if pattern.pickup else draft
    starts = list(accumulate((len(bar.slots) for bar in pattern.bars), initial=0))
    slots = [slot for number in pattern.course for slot in range(starts[number], starts[number + 1])]
    played = _joined([_bars_of(pattern, stretch) for stretch in _stretches(pattern)])
    return replace(draft, pattern=played, origins=tuple(draft.origins[slot] for slot in slots))


def _stretches(pattern: Pattern) -> Iterator[range]:
    """The bars that follow each other in print, by number, in the order in which they are played."""
    start = pattern.body
    for size in pattern.endings:
        yield range(pattern.body)
        yield range(start, start + size)
        start += size


def _bars_of(pattern: Pattern, numbers: range) -> Pattern:
    """Some bars of a pattern by their numbers from 0, with the swells that begin in them, up to their end."""
    bars = pattern.bars[numbers.start : numbers.stop]
    first, end = pattern.barlines[numbers.start], pattern.barlines[numbers.stop]
    last = first + Pattern(bars).onsets[-1]
    swells = (replace(swell, end=min(swell.end, last)) for swell in pattern.swells if first <= swell.start < end)
    return Pattern(bars, swells=tuple(swell.moved(-first) for swell in swells if swell.start < swell.end))


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
        raise SettingError(f"it has {bars_in_words(len(bars))}, not {count}")
    pattern = _bars_of(draft.pattern, range(count))
    # Where only its beginning is used, it neither stops, rests nor lands at the end.
    return replace(draft, pattern=pattern, origins=draft.origins[: len(pattern.slots)], ends=False, landing=SILENCE)
