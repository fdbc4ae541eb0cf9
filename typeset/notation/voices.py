"""The voices of a staff: which strokes each takes, and how each bar of it is written down. Pure."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from ..pattern.bar import Bar
from ..pattern.stroke import Ornament, Slot
from ..style.music import Staff
from .rhythm import write_bar
from .symbol import Group, Line

# How long each grace note of an ornament is written: a single one, or two under a beam.
GRACES = {Ornament.FLAM: (Fraction(1, 16),), Ornament.DRAG: (Fraction(1, 16), Fraction(1, 16))}


@dataclass(frozen=True, slots=True)
class Voice:
    """A voice: the staff.ily command that sets it, and whether hands and feet play in it."""

    command: str
    hands: bool
    feet: bool

    def strokes(self, slot: Slot) -> Slot:
        """The strokes of a slot that this voice plays."""
        return tuple(stroke for stroke in slot if (self.hands if stroke.sound.by_hand else self.feet))

    def line(self, bar: Bar) -> Line:
        """Where it strikes in a bar; a diddle is over with its slot, so it is not held."""
        strokes = {index: self.strokes(slot) for index, slot in enumerate(bar.slots)}
        struck = frozenset(index for index, slot in strokes.items() if slot)
        return Line(struck, frozenset(index for index in struck if _is_brief(strokes[index])))

    def waits(self, bar: Bar) -> tuple[Fraction, ...]:
        """The grace notes of the other voice before a bar that this one has to wait for."""
        own, all_graces = graces_of(self.strokes(bar.slots[0])), graces_of(bar.slots[0])
        return () if own else all_graces


ALL_UP = Voice(r"\shedUp", hands=True, feet=True)
HANDS = Voice(r"\shedUp", hands=True, feet=False)
FEET = Voice(r"\shedDown", hands=False, feet=True)


def voices_of(staff: Staff) -> tuple[Voice, ...]:
    """One voice with all stems up; or hands above and feet below, the hands first."""
    return (HANDS, FEET) if staff.stems == "split" else (ALL_UP,)


def write_voice(bar: Bar, voice: Voice) -> tuple[Group, ...]:
    """A bar as one voice writes it.

    Where hands and feet both have a tuplet, the hands' number speaks for both.
    """
    if voice is ALL_UP:
        return write_bar(bar, voice.line(bar))
    hands = write_bar(bar, HANDS.line(bar), FEET.line(bar), leads=True)
    if voice is HANDS:
        return hands
    numbered = {group.symbols[0].onset for group in hands if group.tuplet}
    feet = write_bar(bar, FEET.line(bar), HANDS.line(bar), leads=False)
    return tuple(replace(group, is_numbered=group.symbols[0].onset not in numbered) for group in feet)


def graces_of(strokes: Slot) -> tuple[Fraction, ...]:
    """How long the grace notes before some strokes are written; the longest row of them counts."""
    return max((GRACES.get(stroke.ornament, ()) for stroke in strokes if stroke.ornament), key=len, default=())


def _is_brief(strokes: Slot) -> bool:
    return any(stroke.ornament is Ornament.DIDDLE for stroke in strokes)
