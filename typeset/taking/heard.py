"""What was meant by the hits of a recording: strokes with grace strokes, presses, accents and ghosts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ..pattern.sound import Sound
from ..pattern.stroke import Dynamic, Ornament
from .loudness import dynamics_of
from .recording import Hit, Recording

GRACE_WITHIN = 50.0
"""Milliseconds from a grace stroke to the next one, at most. Common practice, no source: a flam heard as one
sound has twenty to forty."""

_DIES_AWAY = 0.7
"""How loud the last rebound of a pressed stroke is at most, beside its first."""


@dataclass(frozen=True, slots=True)
class Heard:
    """A stroke: when, in ticks, on what, how loud it is meant, with what ornament."""

    tick: int
    sound: Sound
    dynamic: Dynamic
    ornament: Ornament | None = None


@dataclass(frozen=True, slots=True)
class _Struck:
    """A stroke whose loudness is not settled."""

    hit: Hit
    ornament: Ornament | None = None


def strokes_of(recording: Recording, sounds: Mapping[int, Sound]) -> list[Heard]:
    """The strokes of the keys that stand for sounds, in order of time."""
    by_sound: dict[Sound, list[Hit]] = {}
    for hit in recording.hits:
        if hit.key in sounds:
            by_sound.setdefault(sounds[hit.key], []).append(hit)
    struck = {sound: list(_strokes(hits, sound, recording)) for sound, hits in by_sound.items()}
    velocities = {sound: [stroke.hit.velocity for stroke in strokes] for sound, strokes in struck.items()}
    dynamics = dynamics_of(velocities)
    heard = [
        Heard(stroke.hit.tick, sound, dynamics[sound, stroke.hit.velocity], stroke.ornament)
        for sound, strokes in struck.items()
        for stroke in strokes
    ]
    return sorted(heard, key=lambda stroke: (stroke.tick, stroke.sound.name))


def _strokes(hits: Sequence[Hit], sound: Sound, recording: Recording) -> Iterator[_Struck]:
    """The hits on one sound as strokes: those that follow each other closely are one."""
    for chain in _chains(hits, recording):
        yield from _meant(chain) if sound.by_hand else map(_Struck, chain)


def _chains(hits: Sequence[Hit], recording: Recording) -> Iterator[list[Hit]]:
    """Hits in stretches in which each comes too soon after the last to be a stroke of its own."""
    chain: list[Hit] = []
    for hit in hits:
        if chain and recording.between(chain[-1].tick, hit.tick) > GRACE_WITHIN:
            yield chain
            chain = []
        chain.append(hit)
    if chain:
        yield chain


def _meant(chain: Sequence[Hit]) -> Iterator[_Struck]:
    """What hits that follow closely mean.

    One or two soft ones before a loud one are a flam and a drag, three or more that die away one pressed
    stroke; anything else is as many strokes.
    """
    first, *others = chain
    last = chain[-1]
    dies = all(later.velocity < hit.velocity for hit, later in pairwise(chain))
    if len(chain) > 2 and dies and last.velocity <= _DIES_AWAY * first.velocity:
        yield _Struck(first, Ornament.BUZZ)
    elif len(chain) in (2, 3) and all(hit.velocity < last.velocity for hit in chain[:-1]):
        yield _Struck(last, Ornament.DRAG if len(others) == 2 else Ornament.FLAM)
    else:
        yield from map(_Struck, chain)
