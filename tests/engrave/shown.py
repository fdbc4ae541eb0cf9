"""Engravings of every kind, and what can be read back from their blocks."""

from __future__ import annotations

import io
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pdfplumber

from tests.notation.made import bar, picked_up, pickup, system
from typeset.compose.engraving import (
    METER_ROOM,
    REPEAT_ROOM,
    Ending,
    Hairpin,
    NoteSpecimen,
    SoundSpecimen,
    StrokeSpecimen,
    System,
    Volta,
)
from typeset.engrave.block import Block
from typeset.pattern.sound import SOUNDS

POINTS = 72 / 25.4


def with_meters(base: System, *meters_at: int) -> System:
    """A system with meters before these bars, and the room for those inside."""
    inner = sum(index > 0 for index in meters_at)
    return replace(base, meters_at=meters_at, width=base.width + METER_ROOM * inner)


_GROOVE = bar("4/4", "16ths", "hk . h k s!h . h s? h k hk . s!h s? o k")


def _hairpin(start: str, end: str, left: int, right: int) -> Hairpin:
    return Hairpin(Fraction(start), Fraction(end), Fraction(left), Fraction(right))


SYSTEMS = (
    system(_GROOVE, _GROOVE),
    system(_GROOVE, repeats=False, slot=3.0),
    system(bar("4/4", "16ths", "s? s! s? s t t? i x b w n ck s s s k"), slot=4.2),
    system(bar("4/4", "triplets", "h . h sh . h . h h . . k"), slot=6.0),
    system(bar("4/4", "sextuplets", "s! s s s s s . s s . s k h . h . h . s . . s . ."), slot=3.2),
    system(bar("4/4", "quintuplets septuplets 32nds quarters", "s s . s s"), slot=3.4),
    with_meters(system(bar("7/8 (3+2+2)", "16ths", "h . s k"), bar("4/4", "16ths", "k . s .")), 0, 1),
    with_meters(system(bar("15/8 (3+3+3+2+2+2)", "8ths", "c! h k h s")), 0),
    with_meters(system(bar("12/8", "16ths", "h . k . s . h k"), repeats=False)),
    system(bar("2/2", "8ths", "s . . . . . s k"), bar("2/2", "8ths", ". . . . c w . ."), slot=5.0),
    system(bar("4/4", "16ths", "sf . s . sg . sz! sd . s . sf h k . ."), bar("4/4", "16ths", "sf . . .")),
    system(
        bar("3/4", "16ths", ". . . s"), bar("3/4", "16ths", "."), bar("3/4", "16ths", "s . . . . . . . . . s .")
    ),
    system(bar("4/4", "quarters", "k s h p"), bar("4/4", "quarters", "c . . b"), slot=14.0),
    replace(
        system(bar("4/4", "16ths", "c! . s s"), _GROOVE, repeats=False, slot=4.4),
        voltas=(Volta(0, 1, "1.–3.", True), Volta(1, 1, "4.", False)),
        width=16.0 + 32 * 4.4 + REPEAT_ROOM + 1.6,
    ),
    replace(
        system(_GROOVE, bar("4/4", "triplets", "c! s t")), voltas=(Volta(1, 1, "1.", True),), opens_repeat=False
    ),
    replace(system(_GROOVE, repeats=False), voltas=(Volta(0, 1, "", False),)),
    replace(
        system(bar("4/4", "16ths", "s s s s! c! s s s"), bar("4/4", "triplets", "s . c"), slot=4.4),
        hairpins=(_hairpin("0", "3/4", 0, 1), _hairpin("3/4", "5/3", 1, 0), _hairpin("7/4", "2", 0, 1)),
        voltas=(Volta(1, 1, "1.", True),),
    ),
    picked_up(with_meters(system(_GROOVE)), pickup("4/4", "16ths", "s s! s?")),
    picked_up(system(_GROOVE, _GROOVE, repeats=False), pickup("4/4", "16ths", "sf")),
    picked_up(with_meters(system(bar("6/8", "8ths", "h h k s? h h"))), pickup("6/8", "8ths", ". s")),
    picked_up(system(bar("4/4", "triplets", "h . hk"), slot=5.0), pickup("4/4", "triplets", "s s s s")),
    picked_up(with_meters(system(bar("7/8 (3+2+2)", "8ths", "hk h h s"), slot=6.0)), pickup("7/8", "8ths", "s")),
)

SPECIMENS = (
    *(SoundSpecimen(sound) for sound in SOUNDS.values()),
    *(StrokeSpecimen(kind) for kind in ("plain", "accent", "ghost", "flam", "drag", "buzz", "diddle")),
    *(NoteSpecimen(Fraction(*length)) for length in ((1, 8), (1, 4), (3, 8), (1, 2))),
)

BLANK = replace(system(_GROOVE, _GROOVE), blank=True)

SHOWN = (*SYSTEMS, BLANK, *SPECIMENS)

SPLIT = (
    *(replace(each, ending=Ending.BAR) for each in SYSTEMS),
    system(bar("4/4", "8ths", "hp h hsk hk hp h! hs hk!"), bar("6/8", "8ths", "kf s . h p p")),
)

# LilyPond 2.24's Emmentaler numbers its note heads so (read from its font).
HEADS = {
    "\ue0e8": "whole", "\ue0e9": "half", "\ue0ea": "normal",
    "\ue0f4": "cross", "\ue0f5": "cross", "\ue0f6": "cross", "\ue0f7": "circled cross",
    "\ue203": "diamond", "\ue204": "diamond", "\ue0f9": "triangle", "\ue0fa": "triangle",
}  # fmt: skip


def page_of(block: Block) -> Any:
    """A block's page as pdfplumber reads it."""
    return pdfplumber.open(io.BytesIO(block.pdf)).pages[0]


def heads_of(block: Block) -> list[tuple[str, float, float]]:
    """The note heads of full size: shape, middle from the page's left, middle from its bottom, in points."""
    found = []
    for char in page_of(block).chars:
        if char["text"] in HEADS and not _is_small(char, block):
            found.append((HEADS[char["text"]], (char["x0"] + char["x1"]) / 2, char["matrix"][5]))
    return found


def _is_small(char: Any, block: Block) -> bool:
    return bool(char["size"] < 0.8 * (block.top - block.bottom))
