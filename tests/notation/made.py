"""Bars, systems and engravings from short strings, and bars written down as text."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from typeset.compose.engraving import REPEAT_ROOM, Ending, System
from typeset.notation.symbol import Group, Kind, Symbol
from typeset.notation.voices import ALL_UP, Voice, write_voice
from typeset.pattern.bar import Bar, empty_bar, pickup_bar
from typeset.pattern.grid import Grid
from typeset.pattern.limb import Limb
from typeset.pattern.meter import Meter
from typeset.pattern.sound import SOUNDS
from typeset.pattern.stroke import Dynamic, Ornament, Slot, Stroke, slot_of

SOUND_LETTERS = {
    "s": "snare", "h": "hi-hat", "k": "kick", "c": "crash", "p": "hi-hat-foot", "o": "open-hi-hat",
    "t": "high-tom", "i": "rim-shot", "b": "ride-bell", "w": "cowbell", "n": "china", "x": "cross-stick",
}  # fmt: skip
MARKS = {
    "!": Dynamic.ACCENT, "?": Dynamic.GHOST,
    "f": Ornament.FLAM, "g": Ornament.DRAG, "z": Ornament.BUZZ, "d": Ornament.DIDDLE,
}  # fmt: skip


def bar(meter: str, grid: str, strokes: str) -> Bar:
    """A bar such as `bar("4/4", "16ths", "hk . h . s!h . h .")`.

    A letter is a sound, `!` and `?` accent and ghost it, `f g z d` after it ornament it; what is written
    is repeated until the bar is full.
    """
    empty = empty_bar(Meter.parse(meter), Grid.of(*grid.split()))
    slots = [_slot(written) for written in strokes.split()]
    return empty.with_slots([slots[index % len(slots)] for index in range(len(empty.slots))])


def pickup(meter: str, grid: str, strokes: str) -> Bar:
    """The end of a bar that holds these strokes, written as for a bar."""
    return pickup_bar(Meter.parse(meter), Grid.of(*grid.split()), [_slot(written) for written in strokes.split()])


def picked_up(base: System, before: Bar) -> System:
    """A system with a pickup, and the room for it."""
    room = 4 * base.quarter * float(before.length) + (REPEAT_ROOM if base.opens_repeat else 0)
    return replace(base, pickup=before, width=base.width + room)


def _slot(written: str) -> Slot:
    hands = [Limb.RIGHT, Limb.LEFT]
    strokes: list[Stroke] = []
    for letter in written.replace(".", ""):
        if letter in MARKS and (strokes and letter not in SOUND_LETTERS):
            strokes[-1] = _marked(strokes[-1], MARKS[letter])
            continue
        sound = SOUNDS[SOUND_LETTERS[letter]]
        limb = hands.pop(0) if sound.by_hand else Limb.KICK if sound.name == "kick" else Limb.HAT
        strokes.append(Stroke(limb, sound))
    return slot_of(strokes)


def _marked(stroke: Stroke, mark: Dynamic | Ornament) -> Stroke:
    if isinstance(mark, Dynamic):
        return Stroke(stroke.limb, stroke.sound, mark, stroke.ornament)
    return Stroke(stroke.limb, stroke.sound, stroke.dynamic, mark)


def system(*bars: Bar, slot: float = 3.8, lead: float = 16.0, tail: float = 1.6, repeats: bool = True) -> System:
    """A system whose finest slots are `slot` millimetres wide."""
    finest = min(length for each in bars for length in each.slot_lengths)
    quarter = slot * float(Fraction(1, 4) / finest)
    music = quarter * 4 * float(sum(each.meter.length for each in bars))
    ending = Ending.REPEAT if repeats else Ending.FINAL
    same = tuple(index for index in range(1, len(bars)) if bars[index] == bars[index - 1])
    return System(bars, quarter, lead, lead + music + tail, (0,), repeats, ending, same=same)


def written(meter: str, grid: str, strokes: str, voice: Voice = ALL_UP) -> str:
    """A bar as it is printed, beats and tuplets apart by ` | `.

    `8.` is a dotted eighth, `r4` a quarter rest, `s4` a gap, `-` joins what stands under one beam,
    `3(...)` is a triplet; `R` is a whole-bar rest.
    """
    return text_of(bar(meter, grid, strokes), voice)


def text_of(made: Bar, voice: Voice = ALL_UP) -> str:
    """The same of a bar that is made already."""
    groups = write_voice(made, voice)
    if len(groups) == 1 and groups[0].symbols[0].length == made.meter.length and len(groups[0].symbols) == 1:
        whole = groups[0].symbols[0]
        if whole.kind is not Kind.NOTE:
            return "R" if whole.kind is Kind.REST else "S"
    return " | ".join(_group_text(group) for group in groups)


def _group_text(group: Group) -> str:
    text = ""
    for symbol in group.symbols:
        joined = "-" if symbol.beams and symbol.beams[0] else " "
        text += (joined if text or joined == "-" else "") + _symbol_text(symbol)
    return f"{group.tuplet[0]}({text})" if group.tuplet else text


def _symbol_text(symbol: Symbol) -> str:
    kind = {Kind.NOTE: "", Kind.REST: "r", Kind.GAP: "s"}[symbol.kind]
    dot = "." if symbol.written.numerator == 3 else ""
    base = 1 / symbol.base
    value = str(base.numerator) if base.denominator == 1 else str(symbol.written)
    return kind + value + dot
