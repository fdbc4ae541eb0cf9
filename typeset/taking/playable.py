"""The ways in which the notes of one moment can be shared out to two hands and two feet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from ..pattern.limb import Limb
from ..pattern.sound import HAT_FOOT
from ..pattern.stroke import Dynamic, Ornament, Slot, Stroke, slot_of
from .piece import Note

_HANDS = (Limb.RIGHT, Limb.LEFT)
_TWO_HANDED = (Ornament.FLAM, Ornament.DRAG)


@dataclass(frozen=True)
class Choices:
    """The slots that a moment can be played as, one or two, and what nobody is free to play."""

    slots: tuple[Slot, ...]
    left_out: tuple[str, ...] = ()


def choices_of(notes: Sequence[Note]) -> Choices:
    """The ways to play notes that sound together, those that the file says a limb for by that limb.

    Where there are two, the first begins with the right hand, and the second has the hands exchanged.
    """
    taken: dict[Limb, Stroke] = {}
    left_out: list[str] = []
    waiting: list[Note] = []
    for note in notes:
        limbs = _said(note)
        if not limbs:
            waiting.append(note)
        for limb in limbs:
            stroke = Stroke(limb, note.sound, note.dynamic, note.ornament)
            if taken.setdefault(limb, stroke) != stroke:
                left_out.append(_busy(note.sound.name))
    free = [limb for limb in _HANDS if limb not in taken]
    waiting.sort(key=_importance)
    left_out += [_busy(note.sound.name) for note in waiting[len(free) :]]
    shared = [slot_of((*taken.values(), *hands)) for hands in _shared(waiting[: len(free)], free)]
    if any(_sheds(slot) for slot in shared):
        left_out.append("a flam or a drag takes both hands, which both play there already; its grace is left out")
    return Choices(tuple(map(_carried, shared)), tuple(left_out))


def _said(note: Note) -> tuple[Limb, ...]:
    """The limbs that play a note whatever comes before and after it."""
    said = tuple(limb for limb in note.limbs if note.sound.can_be_played_by(limb))
    if said or note.sound.by_hand:
        return said
    return (Limb.HAT,) if note.sound == HAT_FOOT else (Limb.KICK,)


def _importance(note: Note) -> tuple[bool, bool, str]:
    """What is played plainly, and on a drum, would be missed most."""
    return note.dynamic is Dynamic.GHOST, note.sound.place > 3, note.sound.name


def _busy(name: str) -> str:
    return f"no limb is free for all that sounds at once; the {name.replace('-', ' ')} is left out"


def _shared(notes: Sequence[Note], free: Sequence[Limb]) -> Iterator[tuple[Stroke, ...]]:
    """The ways to share notes out to the free hands, all that are free when there are two notes."""
    if len(notes) < 2:
        yield from ((_stroke(limb, note),) for note in notes for limb in free)
        if not notes:
            yield ()
        return
    first, second = notes
    right, left = free
    yield _stroke(right, first), _stroke(left, second)
    yield _stroke(right, second), _stroke(left, first)


def _stroke(limb: Limb, note: Note) -> Stroke:
    return Stroke(limb, note.sound, note.dynamic, note.ornament)


def _carried(slot: Slot) -> Slot:
    """The slot without the ornaments that nobody can play there."""
    shed = _sheds(slot)
    return tuple(replace(stroke, ornament=None) if stroke in shed else stroke for stroke in slot)


def _sheds(slot: Iterable[Stroke]) -> tuple[Stroke, ...]:
    """The strokes whose ornament cannot be played: a foot plays diddles alone, and a flam takes both hands."""
    together = tuple(slot)
    hands = sum(stroke.limb.is_hand for stroke in together)
    return tuple(
        stroke
        for stroke in together
        if (stroke.ornament in _TWO_HANDED and (hands > 1 or not stroke.limb.is_hand))
        or (stroke.ornament is Ornament.BUZZ and not stroke.limb.is_hand)
    )
