"""What makes a pattern hard, in numbers that rise with it. None knows a tempo, or which hand leads."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache, reduce
from itertools import chain, combinations, pairwise
from math import gcd
from operator import ne, or_

from ..pattern.bar import Pattern
from ..pattern.meter import Meter
from ..pattern.sound import SOUNDS
from ..pattern.stroke import Dynamic, Slot
from .kit import Kit
from .timeline import ACCENT, GHOST, GRACE, SECOND, Timeline, timeline

_ACCENT = Dynamic.ACCENT
_LIMB_BITS = (1, 2, 4, 8)
_DYNAMIC, _PLAYED_OUT = ACCENT | GHOST, GRACE | SECOND
_METAL = {"hi-hat", "open-hi-hat", "ride", "ride-bell", "crash", "splash", "china", "cowbell"}
_VOICES = {
    name: ("metal" if name in _METAL else "skins") if sound.by_hand else name for name, sound in SOUNDS.items()
}
"""What each sound counts as when a beat is left out: skins, metal, kick or pedal."""


@dataclass(frozen=True, slots=True)
class Features:
    """What a level is made of; higher is harder.

    - `density`: strokes a quarter.
    - `limbs`: how many of the four are used.
    - `changes`: how many different changes there are from one set of limbs to the next.
    - `longest_run`: strokes in a row by one limb alone.
    - `off_beat`: strokes a quarter that lean against the beat: accents off it, and the last stroke before a
      beat that drums, cymbals, kick or pedal leave out.
    - `independence`: for every pair of limbs that sound together, how many of the two also sound without
      the other.
    - `distance`: cm that the hands travel in a quarter.
    - `meter`: 0 for two or four plain beats up to 3 for uneven ones, and 1 more for every further meter.
    - `grid`: 0 for twos, 1 for threes, 2 for fives and sevens.
    - `mixing`: how many grids there are, beyond the first, that do not fit into each other.
    - `dynamics`: how often in a quarter a limb changes its dynamic; each quarter of a swell is one change more.
    - `ornaments`: ornaments a quarter.
    """

    density: float
    limbs: int
    changes: int
    longest_run: int
    off_beat: float
    independence: int
    distance: float
    meter: int
    grid: int
    mixing: int
    dynamics: float
    ornaments: float


def features(pattern: Pattern, loops: bool, kit: Kit) -> Features:
    """Measure a pattern; in a loop the end leads back to the start."""
    return features_of(timeline(pattern), pattern, loops, kit)


def features_of(line: Timeline, pattern: Pattern, loops: bool, kit: Kit) -> Features:
    """Measure a pattern whose timeline is at hand."""
    quarters = 4 * line.length / line.whole
    moments = line.moments
    strokes = list(chain.from_iterable([moment.strokes for moment in moments]))
    masks = [moment.mask for moment in moments]
    used = set(masks)
    steps = set(pairwise(masks + masks[:1] if loops else masks))
    grids = _grids(line, pattern)
    return Features(
        density=round(len(strokes) / quarters, 2),
        limbs=reduce(or_, used, 0).bit_count(),
        changes=sum(start != end for start, end in steps),
        longest_run=_longest_run(masks, loops),
        off_beat=round(_off_beat(line, pattern, loops) / quarters, 2),
        independence=_independence(used),
        distance=round(_travel(line, loops, kit) / 10 / quarters, 1),
        meter=_meters(pattern),
        grid=max((_oddness(line.whole, ticks) for ticks in grids), default=0),
        mixing=max(len(grids) - 1, 0),
        dynamics=round((_dynamic_changes(line, loops) + _swelling(pattern)) / quarters, 2),
        ornaments=round(sum(stroke.ornament is not None for stroke in strokes) / quarters, 2),
    )


def _longest_run(masks: list[int], loops: bool) -> int:
    """The most moments in a row that one limb plays alone; never more than there are."""
    longest = run = 0
    before = 0
    for mask in masks + masks if loops else masks:
        if mask in _LIMB_BITS:
            run = run + 1 if mask == before else 1
            longest = max(longest, run)
        before = mask
    return min(longest, len(masks))


def _off_beat(line: Timeline, pattern: Pattern, loops: bool) -> int:
    """How many strokes lean against the beat.

    These are the accents off the beat, and the last stroke of a voice before a beat which that voice then
    leaves out.
    """
    beats = _beats(pattern, line.whole)
    on_beat = set(beats)
    struck = {moment.tick: _voices(moment.strokes) for moment in line.moments if moment.tick in on_beat}
    answered: set[str] = set()
    leaning = 0
    coming = len(beats) - 1
    for moment in reversed(line.moments):
        if beats[coming] > moment.tick:
            while beats[coming] > moment.tick:
                coming -= 1
            ahead = beats[coming + 1]
            answered = set(struck.get(0 if loops and ahead == line.length else ahead, ()))
        if beats[coming] == moment.tick:
            continue
        for voice, is_accented in _voices(moment.strokes).items():
            leaning += is_accented or voice not in answered
            answered.add(voice)
    return leaning


@lru_cache(maxsize=4096)
def _voices(strokes: Slot) -> Mapping[str, bool]:
    """The voices heard in a slot, and which of them with an accent."""
    heard = dict.fromkeys((_VOICES[stroke.sound.name] for stroke in strokes), False)
    return heard | {_VOICES[stroke.sound.name]: True for stroke in strokes if stroke.dynamic is _ACCENT}


def _beats(pattern: Pattern, whole: int) -> list[int]:
    """The tick of every beat of every bar's meter, and of the end."""
    beats = [0]
    for bar in pattern.played:
        meter = bar.meter
        groups = meter.groups if meter.bottom == 8 else (1,) * meter.top
        for group in groups:
            beats.append(beats[-1] + group * whole // meter.bottom)
    return beats


def _independence(masks: set[int]) -> int:
    """For each pair of limbs that ever sound together, how many of the two also sound without the other."""
    if masks.issubset(_LIMB_BITS):
        return 0
    count = 0
    for first, second in combinations(_LIMB_BITS, 2):
        both = first | second
        meetings = {mask & both for mask in masks}
        if both in meetings:
            count += (first in meetings) + (second in meetings)
    return count


def _travel(line: Timeline, loops: bool, kit: Kit) -> int:
    """How many mm both hands travel."""
    travelled = 0
    for hits in line.hits[:2]:
        sounds = [hit.sound for hit in hits]
        if loops and sounds:
            sounds.append(sounds[0])
        travelled += sum(kit.ways[start][end].mm for start, end in pairwise(sounds) if start != end)
    return travelled


def _meters(pattern: Pattern) -> int:
    meters = {bar.meter for bar in pattern.bars}
    return max(map(_unevenness, meters)) + len(meters) - 1


def _unevenness(meter: Meter) -> int:
    """3 for five, seven or unequal beats; else 1 for beats of three eighths and 1 for three or six beats."""
    groups = meter.groups if meter.bottom == 8 else (1,) * meter.top
    if len(set(groups)) > 1 or len(groups) in (5, 7):
        return 3
    return (groups[0] == 3) + (len(groups) % 3 == 0)


def _grids(line: Timeline, pattern: Pattern) -> set[int]:
    """The grids that strokes really use, as slot lengths in ticks, without those that fit a finer one."""
    bars = pattern.played
    grids: set[int] = set()
    ticks = iter([moment.tick for moment in line.moments])
    coming = next(ticks, line.length)
    tick = 0
    for bar in bars:
        pulse = line.whole // bar.meter.bottom
        for top, bottom, _ in bar.shape:
            end = tick + line.whole * top // bottom
            used = 0
            while coming < end:
                used = gcd(used or pulse, coming - tick)
                coming = next(ticks, line.length)
            if used:
                grids.add(used)
            tick = end
    return {grid for grid in grids if not any(grid > other and grid % other == 0 for other in grids)}


def _oddness(whole: int, ticks: int) -> int:
    """2 for a grid of fives or sevens, 1 for threes, 0 for twos."""
    slots = whole // ticks if whole % ticks == 0 else 1
    if slots % 5 == 0 or slots % 7 == 0:
        return 2
    return 1 if slots % 3 == 0 else 0


def _dynamic_changes(line: Timeline, loops: bool) -> int:
    """How often a limb's stroke has another dynamic than its last one."""
    changes = 0
    for hits in line.hits:
        dynamics = [hit.marks & _DYNAMIC for hit in hits if not hit.marks & _PLAYED_OUT]
        if any(dynamics):
            changes += sum(map(ne, dynamics, dynamics[1:] + dynamics[:1] if loops else dynamics[1:]))
    return changes


def _swelling(pattern: Pattern) -> float:
    """How many quarters are played under a swell."""
    if not pattern.swells:
        return 0.0
    under = (
        min(swell.end, pattern.bars[number].length) - max(swell.start, Fraction(0))
        for number in pattern.course
        for swell in pattern.swells_over(number)
    )
    return float(4 * sum(under))
