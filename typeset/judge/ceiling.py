"""The ceiling: the fastest tempo at which every transition still has its time.

A transition is two successive strokes of one limb. Its length in notes is fixed and so is the time it needs;
each has one fastest tempo, and the ceiling is the slowest of those. Nothing is searched for.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from ..pattern.bar import Pattern
from ..pattern.counts import Place
from ..pattern.limb import Limb
from ..pattern.sound import SOUNDS, Sound
from ..pattern.stroke import Ornament
from ..pattern.swing import Swing
from ..pattern.tempo import FASTEST
from .kit import Kit
from .places import place_at
from .player import LimbTimes, Player
from .timeline import (
    ACCENT,
    BUZZ,
    DRAG_GRACE,
    FLAM_GRACE,
    GHOST,
    GRACE,
    LIMBS,
    OTHER,
    SECOND,
    Hit,
    Timeline,
    timeline,
)

MICROSECONDS_A_MINUTE = 60_000_000


class Kind(Enum):
    """Which of a player's figures a transition takes its time from; the values are the figures' names."""

    ALTERNATING = "alternating"
    REBOUND = "rebound"
    REPEATED = "repeated"
    GHOST = "ghost"
    GRACE = "grace"
    DRAG = "drag"
    BUZZ = "buzz"


@dataclass(frozen=True, slots=True)
class Transition:
    """Two successive strokes of one limb: what, where, how long in notes, how long it takes.

    `length` is a fraction of a whole note; `needs` is microseconds, of which `moving` go into the way between
    the surfaces. `wraps` is true when it leads from a loop's end to its start, `within` when both strokes
    are one diddle; `grace_start` and `grace_end` name the ornament that a grace stroke belongs to.
    """

    limb: Limb
    start_sound: Sound
    end_sound: Sound
    start: Place
    end: Place
    kind: Kind
    length: Fraction
    needs: int
    moving: int
    wraps: bool = False
    within: bool = False
    grace_start: Ornament | None = None
    grace_end: Ornament | None = None


@dataclass(frozen=True, slots=True)
class Ceiling:
    """The fastest whole tempo, in the tempo unit of the first bar, and the transition that sets it.

    `cause` is None where no transition does: then the tempo is the fastest that is offered at all.
    """

    tempo: int
    cause: Transition | None


def ceiling(pattern: Pattern, loops: bool, player: Player, kit: Kit, swing: Swing | None = None) -> Ceiling:
    """The fastest whole tempo at which a player has time for every transition, and which one sets it.

    The tempo counts the first bar's tempo unit. In a loop the end leads back to the start; a pickup is played
    once. Where several set it, the one that starts first is named. With a swing the time is that between swung
    strokes.
    """
    return ceiling_of(timeline(pattern, swing=swing), pattern, loops, player, kit, swing)


def ceiling_of(
    line: Timeline, pattern: Pattern, loops: bool, player: Player, kit: Kit, swing: Swing | None = None
) -> Ceiling:
    """The ceiling of a pattern whose timeline, as it swings, is at hand."""
    found = _of_line(line, pattern, loops, player, kit)
    if pattern.pickup is None:
        return found
    opened = timeline(pattern, with_pickup=True, swing=swing)
    return min(found, _of_line(opened, pattern, False, player, kit), key=lambda ceiling: ceiling.tempo)


def _of_line(line: Timeline, pattern: Pattern, loops: bool, player: Player, kit: Kit) -> Ceiling:
    tightest = _tightest(line, loops, player, kit)
    if tightest is None:
        return Ceiling(FASTEST, None)
    unit = pattern.bars[0].meter.tempo_unit
    units = tightest.ticks * unit.denominator
    tempo = MICROSECONDS_A_MINUTE * units // (tightest.needs * line.whole * unit.numerator)
    return Ceiling(FASTEST, None) if tempo > FASTEST else Ceiling(tempo, _transition(tightest, line, pattern))


_SPECIAL = GHOST | GRACE | BUZZ
"""The marks that bring a figure of their own in; an accent does so before a ghost stroke alone."""


class _Step(NamedTuple):
    """A transition while it is being compared: from hit to hit, in ticks and microseconds."""

    limb: int
    start: Hit
    end: Hit
    ticks: int
    kind: Kind
    needs: int
    moving: int


def _tightest(line: Timeline, loops: bool, player: Player, kit: Kit) -> _Step | None:
    """The step with the least time for what it needs; of equal ones the earlier, then that of R, L, K, H."""
    tightest: _Step | None = None
    for limb, times in enumerate((player.hand, player.hand, player.kick, player.hat)):
        for start, end, ticks, crossed, rested in _ways(line, limb, loops):
            kind, needs, moving = time_needed(start, end, crossed, rested, times, player, kit)
            if tightest is not None:
                slower = needs * tightest.ticks - tightest.needs * ticks
                if slower < 0 or (slower == 0 and start.tick >= tightest.start.tick):
                    continue
            tightest = _Step(limb, start, end, ticks, kind, needs, moving)
    return tightest


def _ways(line: Timeline, limb: int, loops: bool) -> Iterator[tuple[Hit, Hit, int, bool, bool]]:
    """Every way of a limb from a hit to its next: both, the ticks between them, and whether it is crossed and
    rested, as `time_needed` says."""
    hits = line.hits[limb]
    others = [hit.tick for hit in line.hits[OTHER[limb]]]
    # What comes before the first stroke: in a loop the way round the end, else nothing, as after a rest.
    before, free = 0, True
    if loops and hits:
        hits = [*hits, hits[0]._replace(tick=hits[0].tick + line.length)]
        others += [tick + line.length for tick in others]
        before, free = hits[-1].tick - hits[-2].tick, _strikes_between(others, hits[-2].tick, hits[-1].tick)
    for start, end in pairwise(hits):
        ticks = end.tick - start.tick
        # One limb twice at once has no time at all; that is a collision, not a tempo.
        if ticks == 0:
            continue
        crossed = _strikes_between(others, start.tick, end.tick)
        yield start, end, ticks, crossed, free or before >= 2 * ticks
        before, free = ticks, crossed


def _strikes_between(others: list[int], start: int, end: int) -> bool:
    """True when the other hand, the other foot, strikes after one tick and before another."""
    after = bisect_right(others, start)
    return after < len(others) and others[after] < end


def time_needed(
    start: Hit, end: Hit, crossed: bool, rested: bool, times: LimbTimes, player: Player, kit: Kit
) -> tuple[Kind, int, int]:
    """The figure that a limb's way from one hit to its next takes, the microseconds it needs in all, and those
    it moves for.

    `crossed` says that the other hand, the other foot, strikes in between; `rested` that the limb had come
    after the other's stroke, or after at least twice the time.
    """
    moving = 0
    if start.sound != end.sound:
        bits = kit.ways[start.sound][end.sound].bits
        moving = player.reach + round(player.bit * bits) if bits else 0
    if crossed:
        kind, least = Kind.ALTERNATING, times.alternating
    elif rested and not moving:
        kind, least = Kind.REBOUND, times.rebound
    else:
        kind, least = Kind.REPEATED, times.repeated
    if (start.marks | end.marks) & _SPECIAL:
        for special, figure in _special(start.marks, end.marks, times, player):
            if figure > least:
                kind, least = special, figure
    return kind, least + moving, moving


def _special(start: int, end: int, times: LimbTimes, player: Player) -> Iterator[tuple[Kind, int]]:
    """The figures that dynamics and ornaments bring in."""
    if start & ACCENT and end & GHOST:
        yield Kind.GHOST, times.ghost
    if (start | end) & GRACE:
        yield Kind.GRACE, player.grace
    if end & DRAG_GRACE:
        yield Kind.DRAG, player.drag
    if start & BUZZ:
        yield Kind.BUZZ, player.buzz


def _transition(step: _Step, line: Timeline, pattern: Pattern) -> Transition:
    """A transition in the trade's own terms."""
    start, end = line.moments[step.start.moment], line.moments[step.end.moment]
    return Transition(
        limb=LIMBS[step.limb],
        start_sound=SOUNDS[step.start.sound],
        end_sound=SOUNDS[step.end.sound],
        start=place_at(pattern, start.bar, start.slot),
        end=place_at(pattern, end.bar, end.slot),
        kind=step.kind,
        length=Fraction(step.ticks, line.whole),
        needs=step.needs,
        moving=step.moving,
        wraps=step.end.tick >= line.length,
        within=bool(step.end.marks & SECOND),
        grace_start=_grace(step.start.marks),
        grace_end=_grace(step.end.marks),
    )


def _grace(marks: int) -> Ornament | None:
    if marks & GRACE:
        return Ornament.FLAM if marks & FLAM_GRACE else Ornament.DRAG
    return None
