"""Swells as they are said, from a place to a place, and as they lie over music that is set in time."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from .bar import Pattern
from .counts import CountError, Place, find_in_bar
from .swell import Swell

if TYPE_CHECKING:
    from .draft import Draft


class SwellError(ValueError):
    """A swell that cannot be laid. `key` is the end of it that is at fault."""

    def __init__(self, message: str, key: str) -> None:
        super().__init__(message)
        self.key = key
        self.index = None


@dataclass(frozen=True)
class Swelling:
    """From a place to a place, louder or softer; None is the first stroke, or the last.

    Two places without a bar mean a swell in every bar.
    """

    start: Place | None
    end: Place | None
    louder: bool


def lay_swell(draft: Draft, swelling: Swelling) -> Draft:
    """Add a swell, or one in every bar.

    Raises SwellError for a place that is not there, an end that does not come after the start, and a swell
    over another.
    """
    swells = list(draft.pattern.swells)
    for swell in _swells(draft.pattern, swelling):
        if any(swell.start < other.end and other.start < swell.end for other in swells):
            raise SwellError("there is a swell already; one begins where the other ends, or later", "from")
        swells.append(swell)
    pattern = replace(draft.pattern, swells=tuple(sorted(swells, key=lambda swell: swell.start)))
    return replace(draft, pattern=pattern, swellings=(*draft.swellings, swelling))


def _swells(pattern: Pattern, said: Swelling) -> Iterator[Swell]:
    if said.start and said.end and said.start.bar is None and said.end.bar is None:
        for number in range(1, len(pattern.bars) + 1):
            yield _swell(pattern, replace(said, start=_in_bar(said.start, number), end=_in_bar(said.end, number)))
        return
    for place, key in ((said.start, "from"), (said.end, "to")):
        if place and place.bar is None and len(pattern.bars) > 1:
            raise SwellError(f"say in which bar {place} is, as in 1|{place}", key)
    yield _swell(pattern, said)


def _in_bar(place: Place, number: int) -> Place:
    return replace(place, bar=number)


def _swell(pattern: Pattern, said: Swelling) -> Swell:
    sounding = [index for index, slot in enumerate(pattern.slots) if slot]
    if not sounding:
        raise SwellError("there is no stroke to swell", "from")
    first = _slot(pattern, said.start, "from") if said.start else sounding[0]
    last = _slot(pattern, said.end, "to") if said.end else sounding[-1]
    if last <= first:
        raise SwellError("a swell ends after it begins", "to")
    return Swell(pattern.onsets[first], pattern.onsets[last], said.louder)


def _slot(pattern: Pattern, place: Place, key: str) -> int:
    bar = place.bar or 1
    if bar > len(pattern.bars):
        raise SwellError(f"there is no bar {bar} for {place}; there are {len(pattern.bars)}", key)
    try:
        inside = find_in_bar(pattern.bars[bar - 1], place)
    except CountError as error:
        raise SwellError(str(error), key) from None
    return sum(len(before.slots) for before in pattern.bars[: bar - 1]) + inside


def on_strokes(pattern: Pattern) -> Pattern:
    """The pattern with each swell from a stroke to a stroke; one that has no two left is gone."""
    if not pattern.swells:
        return pattern
    moments = [onset for onset, slot in zip(pattern.onsets, pattern.slots, strict=True) if slot]
    swells: list[Swell] = []
    for swell in pattern.swells:
        inside = [moment for moment in moments if swell.start <= moment <= swell.end]
        if len(inside) > 1:
            swells.append(replace(swell, start=inside[0], end=inside[-1]))
    return replace(pattern, swells=tuple(swells))


def backwards(pattern: Pattern) -> tuple[Swell, ...]:
    """The swells of a pattern whose slots are played from the end to the start."""
    opposite = dict(zip(pattern.onsets, reversed(pattern.onsets), strict=True))
    return tuple(
        Swell(opposite[swell.end], opposite[swell.start], not swell.louder) for swell in reversed(pattern.swells)
    )
