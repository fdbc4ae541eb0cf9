"""When each limb strikes, counted in whole ticks so that every length is exact.

Ornaments are played out here: a diddle is two strokes in its slot's time; a flam and a drag ask the other
hand for grace strokes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import lcm
from typing import NamedTuple

from ..pattern.bar import Bar, Pattern
from ..pattern.limb import Limb
from ..pattern.stroke import Dynamic, Ornament, Slot, Stroke
from ..pattern.swing import Swing, swung

LIMBS = (Limb.RIGHT, Limb.LEFT, Limb.KICK, Limb.HAT)
OTHER = (1, 0, 3, 2)
"""For each limb's place in LIMBS, the place of the other hand, the other foot."""

# What is special about a hit, as bits of one number: most hits have none, which is quickly seen.
ACCENT, GHOST, FLAM_GRACE, DRAG_GRACE, BUZZ, SECOND = 1, 2, 4, 8, 16, 32
GRACE = FLAM_GRACE | DRAG_GRACE

_RIGHT, _LEFT, _KICK, _ = LIMBS
_PLAIN, _ACCENTED = Dynamic.PLAIN, Dynamic.ACCENT
_FLAM, _BUZZ, _DIDDLE = Ornament.FLAM, Ornament.BUZZ, Ornament.DIDDLE


class Moment(NamedTuple):
    """A slot that sounds: its tick from the first barline, its length in ticks, its strokes.

    `mask` holds the limbs as bits (R 1, L 2, K 4, H 8); `bar` and `slot` say where it stands, from 0. A
    pickup is bar -1, and its ticks are below 0.
    """

    tick: int
    ticks: int
    strokes: Slot
    mask: int
    bar: int
    slot: int


class Hit(NamedTuple):
    """One limb reaching a surface: a stroke, a grace stroke, or the second of a diddle (SECOND).

    `marks` says what is special about it; `moment` is the place in the timeline's moments.
    """

    tick: int
    sound: str
    marks: int
    moment: int


Hits = tuple[list[Hit], list[Hit], list[Hit], list[Hit]]


@dataclass(frozen=True, slots=True)
class Timeline:
    """A pattern in ticks: `whole` to a whole note, `length` in all.

    `hits` are those of R, L, K, H, each in order of time.
    """

    whole: int
    length: int
    moments: list[Moment]
    hits: Hits


def timeline(pattern: Pattern, with_pickup: bool = False, swing: Swing | None = None) -> Timeline:
    """Set a pattern out in ticks, as it is played until its end, and play out its ornaments."""
    bars = [(number, pattern.bars[number]) for number in pattern.course]
    if with_pickup and pattern.pickup:
        bars.insert(0, (-1, pattern.pickup))
    return _swung(bars, swing) if swing else _even(bars)


_Bars = Sequence[tuple[int, Bar]]
"""Bars as they are played, each with its number from 0; a pickup is -1."""


def _even(bars: _Bars) -> Timeline:
    """Bars whose slots are as long as they are written."""
    whole = _ticks_in_a_whole(bars)
    moments: list[Moment] = []
    tick = _start(bars, whole)
    for number, bar in bars:
        slots, slot = bar.slots, 0
        for top, bottom, count in bar.shape:
            ticks = whole * top // (bottom * count)
            for strokes in slots[slot : slot + count]:
                if strokes:
                    moments.append(Moment(tick, ticks, strokes, _mask(strokes), number, slot))
                tick += ticks
                slot += 1
    return Timeline(whole, tick, moments, _hits(moments))


def _swung(bars: _Bars, swing: Swing) -> Timeline:
    """Bars whose slots come when they are swung to."""
    times = [swung(bar, swing) for _, bar in bars]
    whole = 2 * lcm(8, *{time.denominator for bar in times for time in bar})
    moments: list[Moment] = []
    tick = _start(bars, whole)
    for (number, bar), places in zip(bars, times, strict=True):
        ticks = [tick + int(whole * (place - bar.lead)) for place in places]
        for slot, strokes in enumerate(bar.slots):
            if strokes:
                length = ticks[slot + 1] - ticks[slot]
                moments.append(Moment(ticks[slot], length, strokes, _mask(strokes), number, slot))
        tick = ticks[-1]
    return Timeline(whole, tick, moments, _hits(moments))


def _start(bars: _Bars, whole: int) -> int:
    """The tick at which the first of some bars begins, so that the first that is no pickup begins at 0."""
    number, first = bars[0]
    return -int(whole * first.length) if number < 0 else 0


def _ticks_in_a_whole(bars: _Bars) -> int:
    """So many that every slot and its half, which a diddle takes, and an eighth, for meters, are whole."""
    parts = {bottom * count for _, bar in bars for _, bottom, count in bar.shape}
    return 2 * lcm(8, *parts)


def place_of(limb: Limb) -> int:
    """A limb's place in LIMBS; spelled out because this is asked for every stroke."""
    if limb is _RIGHT:
        return 0
    if limb is _LEFT:
        return 1
    return 2 if limb is _KICK else 3


@lru_cache(maxsize=4096)
def _mask(strokes: Slot) -> int:
    mask = 0
    for stroke in strokes:
        mask |= 1 << place_of(stroke.limb)
    return mask


@lru_cache(maxsize=4096)
def _struck(strokes: Slot) -> tuple[tuple[int, str, int, Stroke | None], ...]:
    """For each stroke of a slot its limb's place in LIMBS, its sound, its marks, and itself if ornamented."""
    marks = {_PLAIN: 0, _ACCENTED: ACCENT}
    return tuple(
        (
            place_of(stroke.limb),
            stroke.sound.name,
            marks.get(stroke.dynamic, GHOST),
            stroke if stroke.ornament else None,
        )
        for stroke in strokes
    )


def _hits(moments: list[Moment]) -> Hits:
    hits: Hits = ([], [], [], [])
    for index, moment in enumerate(moments):
        for place, sound, marks, ornamented in _struck(moment.strokes):
            hits[place].append(Hit(moment.tick, sound, marks, index))
            if ornamented is not None:
                _play_out(ornamented, moment, hits)
    return hits


def _play_out(stroke: Stroke, moment: Moment, hits: Hits) -> None:
    """Add what an ornament adds to the stroke that was just taken in."""
    place = place_of(stroke.limb)
    last = hits[place][-1]
    if stroke.ornament is _DIDDLE:
        # The second stroke comes back from the head: it cannot be accented, and is a ghost if the first was.
        marks = SECOND | (last.marks & GHOST)
        hits[place].append(last._replace(tick=moment.tick + moment.ticks // 2, marks=marks))
    elif stroke.ornament is _BUZZ:
        hits[place][-1] = last._replace(marks=last.marks | BUZZ)
    elif place < 2 and not moment.mask & 1 << OTHER[place]:
        # Where the other hand is busy there is nobody to play the grace: a collision, no question of time.
        marks = FLAM_GRACE if stroke.ornament is _FLAM else DRAG_GRACE
        hits[OTHER[place]].append(last._replace(marks=marks))
