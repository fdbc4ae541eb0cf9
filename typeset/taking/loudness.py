"""Which strokes are accents and which are ghosts, worked out from how hard they were hit.

Velocities of a whole file that fall into two or three clear heaps are read by how loud the heaps are. Where they
are spread as a player spreads them, each sound is measured by its own usual loudness.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from itertools import combinations_with_replacement, pairwise
from statistics import median

from ..pattern.sound import Sound
from ..pattern.stroke import Dynamic

USUAL = {Dynamic.GHOST: 36, Dynamic.PLAIN: 84, Dynamic.ACCENT: 118}
"""About how hard each is hit, as a MIDI velocity of 1 to 127. Common practice, no source."""

_MOST_HEAPS = 3
_APART = 16
"""How far two heaps have to be apart, from the hardest of the one to the softest of the other."""

_GHOST_BELOW, _ACCENT_ABOVE = 0.55, 1.25
"""Where heaps are not clear: how loud a ghost is at most, and an accent at least, beside the usual stroke."""

_LOUDEST = 120
"""Who usually plays nearly as loud as this has no room for a quarter more."""

_WIDEST = 24
"""How far apart the softest and the hardest of a clear heap are, at most."""

Dynamics = Mapping[tuple[Sound, int], Dynamic]


def dynamics_of(velocities: Mapping[Sound, Sequence[int]]) -> Dynamics:
    """The dynamic of every velocity on every sound."""
    heaps = heaps_of(tuple(sorted({velocity for played in velocities.values() for velocity in played})))
    if len(heaps) <= _MOST_HEAPS and all(heap[-1] - heap[0] <= _WIDEST for heap in heaps):
        named = dict(zip(heaps, _named(heaps), strict=True))
        level = {velocity: named[heap] for heap in heaps for velocity in heap}
        return {(sound, one): level[one] for sound, played in velocities.items() for one in played}
    return {
        (sound, velocity): _beside(velocity, median(played))
        for sound, played in velocities.items()
        for velocity in set(played)
    }


def heaps_of(velocities: Sequence[int]) -> tuple[tuple[int, ...], ...]:
    """Different velocities, in order, in heaps with clear gaps between them."""
    heaps: list[list[int]] = []
    for velocity in velocities:
        if not heaps or velocity - heaps[-1][-1] >= _APART:
            heaps.append([])
        heaps[-1].append(velocity)
    return tuple(map(tuple, heaps))


@lru_cache(maxsize=64)
def _named(heaps: tuple[tuple[int, ...], ...]) -> tuple[Dynamic, ...]:
    """What the heaps are, softest first: the different dynamics that come nearest; one heap alone is plain."""
    if len(heaps) < 2:
        return (Dynamic.PLAIN,) * len(heaps)
    middles = [sum(heap) / len(heap) for heap in heaps]
    ways = [way for way in combinations_with_replacement(USUAL, len(heaps)) if _all_differ(way)]
    return min(ways, key=lambda way: sum(abs(USUAL[one] - at) for one, at in zip(way, middles, strict=True)))


def _all_differ(way: Sequence[Dynamic]) -> bool:
    return all(first is not second for first, second in pairwise(way))


def _beside(velocity: int, usual: float) -> Dynamic:
    """A velocity beside the usual one of its sound."""
    if velocity < _GHOST_BELOW * usual:
        return Dynamic.GHOST
    is_accent = velocity > min(_ACCENT_ABOVE * usual, _LOUDEST) and velocity > usual + _APART / 2
    return Dynamic.ACCENT if is_accent else Dynamic.PLAIN
