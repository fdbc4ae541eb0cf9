"""Which limb plays what: the feet by their sounds, the hands as the file says, else by the shortest way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from ..judge.kit import Kit
from ..judge.player import Player
from ..judge.timeline import timeline
from ..pattern.bar import Bar, Pattern, empty_bar, pickup_bar
from ..pattern.counts import counts_of
from ..pattern.stroke import Slot
from .doubts import could_also_be, listed
from .hands import NOTHING, Hands
from .path import Moments, shortest
from .piece import Laid, Piece
from .playable import Choices, choices_of

USUAL_TEMPO = 80
"""Beats a minute where a file does not say how fast it is."""

_LOOP_AT_MOST = 700
"""Moments of a loop; a longer one is worked out as if it were played once."""


@dataclass(frozen=True)
class Limbed:
    """A piece with its limbs: the music, what could also be, and what had to be left out."""

    pattern: Pattern
    doubts: tuple[str, ...]
    left_out: tuple[str, ...]


def with_limbs(piece: Piece, player: Player, kit: Kit) -> Limbed:
    """Work out who plays every stroke of a piece."""
    laid = piece.bars if piece.pickup is None else (piece.pickup, *piece.bars)
    choices = [choices_of(notes) for bar in laid for notes in bar.slots]
    bars, doubts = _chosen(piece, laid, choices, player, kit)
    left_out = tuple(_left_out(choices, list(_names(bars))))
    pickup, bars = (None, bars) if piece.pickup is None else (bars[0], bars[1:])
    pattern = Pattern(tuple(bars), pickup, piece.endings, piece.swells)
    return Limbed(pattern, (*piece.doubts, *doubts), left_out)


def _left_out(choices: Sequence[Choices], names: Sequence[str]) -> Iterator[str]:
    """What nobody is free to play, and where."""
    places: dict[str, list[str]] = {}
    for one, name in zip(choices, names, strict=True):
        for what in one.left_out:
            places.setdefault(what, []).append(name)
    return (f"{what} ({listed(found)})" for what, found in places.items())


def _chosen(
    piece: Piece, laid: Sequence[Laid], choices: Sequence[Choices], player: Player, kit: Kit
) -> tuple[list[Bar], tuple[str, ...]]:
    """The bars as they are played, and what is doubtful about it."""
    slots = [one.slots[0] for one in choices]
    bars = list(_bars(laid, slots, piece.pickup is not None))
    if all(len(one.slots) == 1 for one in choices):
        return bars, ()
    others = list(_bars(laid, [one.slots[-1] for one in choices], piece.pickup is not None))
    lines = [timeline(Pattern(tuple(one))) for one in (bars, others)]
    tempo = piece.tempo.goal if piece.tempo else USUAL_TEMPO
    beats = frozenset(int(beat * lines[0].whole) for beat in _beats(bars))
    hands = Hands(lines, tempo, piece.bars[0].meter.tempo_unit, player, kit, beats)
    sounding = [number for number, slot in enumerate(slots) if slot]
    moments = Moments([range(len(choices[number].slots)) for number in sounding], hands.step, hands.wrapped)
    loops = piece.loops and piece.pickup is None and len(sounding) <= _LOOP_AT_MOST
    way = shortest(moments, NOTHING, loops)
    played = list(slots)
    for number, choice in zip(sounding, way.choices, strict=True):
        played[number] = choices[number].slots[choice]
    names = list(_names(bars))
    offered = [(names[number], choices[number].slots) for number in sounding]
    doubts = could_also_be(moments, way, loops, offered)
    return list(_bars(laid, played, piece.pickup is not None)), tuple(doubts)


def _bars(laid: Sequence[Laid], slots: Sequence[Slot], has_pickup: bool) -> Iterator[Bar]:
    """The bars with these strokes in their slots; the first may be a pickup."""
    start = 0
    for number, bar in enumerate(laid):
        own = slots[start : start + len(bar.slots)]
        start += len(bar.slots)
        is_pickup = has_pickup and number == 0
        yield pickup_bar(bar.meter, bar.grid, own) if is_pickup else empty_bar(bar.meter, bar.grid).with_slots(own)


def _beats(bars: Sequence[Bar]) -> Iterator[Fraction]:
    """When the beats come, as fractions of a whole note from the beginning."""
    start = Fraction(0)
    for bar in bars:
        beat = -bar.lead
        for length in bar.meter.beats:
            if beat >= 0:
                yield start + beat
            beat += length
        start += bar.meter.length - bar.lead


def _names(bars: Sequence[Bar]) -> Iterator[str]:
    """What each slot is called: its count, with its bar where there are several."""
    first = 0 if bars[0].lead else 1
    for number, bar in enumerate(bars, start=first):
        for count in counts_of(bar):
            yield f"{number}|{count}" if len(bars) > 1 else str(count)
