"""An order: strokes one after the other, before they are set in time, and how one is written."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from .limb import Limb
from .sound import first_sound
from .stroke import SILENCE, Dynamic, Slot, Stroke, plain_stroke, slot_of

Order = tuple[Slot, ...]
"""Slots in the order in which they are played; time is not settled yet."""

LONGEST = 1024
"""The most slots that an order may grow to; a printed exercise has far fewer."""

_LIMBS = {limb.value: limb for limb in Limb}
_REPEAT = re.compile(r"\s*[x×]\s*(\d+)")
_PLUS = re.compile(r"\s*\+\s*")
_DEEPEST = 8


class SequenceError(ValueError):
    """A sequence that cannot be read. `offset` is where in the text it went wrong, from 0."""

    def __init__(self, message: str, offset: int) -> None:
        super().__init__(message)
        self.offset = offset


@lru_cache(maxsize=1024)
def read_order(text: str) -> Order:
    """Read a sequence such as `R L R! k .`, `R+K L` or `(R L K)x3`.

    Raises SequenceError that says what is wrong and where in the text.
    """
    order = _Reader(text).read_slots(depth=0)
    if not order:
        raise SequenceError("there is nothing in this sequence; write limbs such as R L R K L", 0)
    return order


class _Reader:
    """Reads one sequence from left to right."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0

    def read_slots(self, depth: int) -> Order:
        slots: list[Slot] = []
        while self.at < len(self.text):
            letter = self.text[self.at]
            if letter.isspace():
                self.at += 1
            elif letter == "(":
                slots += self._read_group(depth)
            elif letter == ")" and depth:
                break
            elif letter == ".":
                self.at += 1
                slots.append(SILENCE)
            else:
                slots.append(self._read_together())
            if len(slots) > LONGEST:
                raise SequenceError(
                    f"this sequence is longer than {LONGEST} slots; write a shorter one and repeat it", 0
                )
        return tuple(slots)

    def _read_group(self, depth: int) -> Order:
        opened = self.at
        if depth >= _DEEPEST:
            raise SequenceError(f"groups stand inside each other more than {_DEEPEST} deep", opened)
        self.at += 1
        slots = self.read_slots(depth + 1)
        if self.at >= len(self.text):
            raise SequenceError("this ( has no )", opened)
        self.at += 1
        times = _REPEAT.match(self.text, self.at)
        if not times:
            return slots
        count = int(times[1][:6])
        if count < 1:
            raise SequenceError("a group is played at least once: write x2, x3, ...", self.at)
        if len(slots) * count > LONGEST:
            raise SequenceError(f"this group comes to more than {LONGEST} slots", opened)
        self.at = times.end()
        return slots * count

    def _read_together(self) -> Slot:
        start = self.at
        strokes = [self._read_stroke()]
        while self._next_is_plus():
            strokes.append(self._read_stroke())
        try:
            return slot_of(strokes)
        except ValueError as error:
            raise SequenceError(str(error), start) from None

    def _next_is_plus(self) -> bool:
        plus = _PLUS.match(self.text, self.at)
        if plus:
            self.at = plus.end()
        return plus is not None

    def _read_stroke(self) -> Stroke:
        letter = self.text[self.at] if self.at < len(self.text) else ""
        limb = _LIMBS.get(letter.upper())
        if limb is None:
            shown = f"'{letter}'" if letter else "the end"
            raise SequenceError(
                f"{shown} is no stroke; R, L, K, H are limbs (small for a ghost stroke), . is a silent slot",
                self.at,
            )
        self.at += 1
        dynamic = Dynamic.GHOST if letter.islower() else Dynamic.PLAIN
        if self.text[self.at : self.at + 1] == "!":
            if dynamic is Dynamic.GHOST:
                raise SequenceError(
                    f"{letter}! is a ghost stroke and an accent at once; write one or the other", self.at
                )
            self.at += 1
            dynamic = Dynamic.ACCENT
        return plain_stroke(limb, dynamic)


def write_slot(slot: Slot) -> str:
    """One slot as an author writes it: `R`, `r`, `R!`, `R+K` or `.`."""
    return "+".join(_write_stroke(stroke) for stroke in slot) or "."


def write_played(slots: Sequence[Slot]) -> str:
    """Slots as `write_order` does, with the sound and ornament of a stroke in brackets where it has one
    that its limb does not play before anything is said."""
    return " ".join("+".join(map(_write_played, slot)) or "." for slot in slots)


def _write_played(stroke: Stroke) -> str:
    said = [] if stroke.sound == first_sound(stroke.limb) else [stroke.sound.name]
    said += [stroke.ornament.value] if stroke.ornament else []
    return f"{_write_stroke(stroke)}({' '.join(said)})" if said else _write_stroke(stroke)


def _write_stroke(stroke: Stroke) -> str:
    letter = stroke.limb.value
    if stroke.dynamic is Dynamic.GHOST:
        return letter.lower()
    return f"{letter}!" if stroke.dynamic is Dynamic.ACCENT else letter


def write_order(order: Sequence[Slot]) -> str:
    """An order as an author writes it, a space between slots. Sounds and ornaments are not said."""
    return " ".join(write_slot(slot) for slot in order)
