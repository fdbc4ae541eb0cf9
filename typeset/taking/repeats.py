"""How written measures are played: again and again, with endings, or as they stand once repeats are written out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from ..pattern.bar import Pattern
from .piece import Remark
from .staff import Written

_MOST_PLAYED = 4096
"""More measures than that are not written out, however the repeats are nested."""

_MOST_TIMES = 99
"""How often an exercise can be said to be played."""


@dataclass(frozen=True)
class Played:
    """Measures in the order in which an exercise has them; `endings` are as in a pattern."""

    measures: tuple[Written, ...]
    loops: bool = False
    times: int | None = None
    endings: tuple[int, ...] = ()


def played(section: Sequence[Written], remarks: list[Remark]) -> Played:
    """The measures of a section, whose repeats are kept where an exercise can have them, else written out."""
    return _loop(section) or _ended(section) or Played(_written_out(section, remarks))


def _loop(section: Sequence[Written]) -> Played | None:
    """A section that stands between two repeat signs as a whole."""
    times = section[-1].ends_repeat
    begins = any(one.begins_repeat for one in section[1:])
    ends = any(one.ends_repeat is not None for one in section[:-1])
    if times is None or begins or ends or any(one.only_on for one in section):
        return None
    return Played(tuple(section), loops=True, times=times if 0 < times <= _MOST_TIMES else None)


def _ended(section: Sequence[Written]) -> Played | None:
    """A section of a body that is repeated as a whole, and its endings."""
    groups = [(passes, list(same)) for passes, same in groupby(section, key=lambda one: one.only_on)]
    (first, body), *ended = groups
    if first or len(ended) < 2 or any(one.begins_repeat for one in section[1:]):
        return None
    # Every ending but the last leads back, from its last measure; nothing else does.
    leading = [one.ends_repeat is not None for _, same in groups for one in same]
    wanted = [False] * len(body)
    for number, (_, same) in enumerate(ended, start=1):
        wanted += [False] * (len(same) - 1) + [number < len(ended)]
    sizes = tuple(len(same) for _, same in ended)
    times = max((turn for passes, _ in ended for turn in passes), default=0)
    sounds = all(any(one.measure.notes for one in same) for _, same in groups)
    if leading != wanted or not sounds or not len(sizes) <= times <= _MOST_TIMES:
        return None
    if Pattern((), endings=sizes).turns(times) != tuple(passes for passes, _ in ended):
        return None
    return Played(tuple(section), times=times if times > len(sizes) else None, endings=sizes)


def _written_out(section: Sequence[Written], remarks: list[Remark]) -> tuple[Written, ...]:
    """The measures in the order in which they are played."""
    found: list[Written] = []
    start, turn, at, is_over = 0, 1, 0, False
    while at < len(section) and len(found) <= _MOST_PLAYED:
        one = section[at]
        if (one.begins_repeat and at != start) or (is_over and not one.only_on):
            start, turn, is_over = at, 1, False
        is_played = not one.only_on or turn in one.only_on
        if is_played:
            found.append(one)
        wanted = 0 if one.ends_repeat is None else max(one.ends_repeat or 2, _passes(section, start))
        goes_back = turn < wanted and is_played
        is_over = is_over or (0 < wanted <= turn)
        at, turn = (start, turn + 1) if goes_back else (at + 1, turn)
    if at < len(section):
        remarks.append(Remark(f"with its repeats this is longer than {_MOST_PLAYED} bars; the rest is left out"))
    return tuple(found)


def _passes(section: Sequence[Written], start: int) -> int:
    """How many passes the endings after a repeat's beginning count."""
    return max((turn for one in section[start:] for turn in one.only_on if turn <= _MOST_TIMES), default=0)
