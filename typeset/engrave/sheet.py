"""Sheets: each engraving as what LilyPond is given, and the block that comes of it."""

from __future__ import annotations

from fractions import Fraction

from ..compose.engraving import Engraving, NoteSpecimen, SoundSpecimen, StrokeSpecimen, System
from ..pattern.bar import Bar, Beat
from ..pattern.limb import Limb
from ..pattern.meter import Meter
from ..pattern.sound import SNARE, Sound
from ..pattern.stroke import Dynamic, Ornament, Stroke
from ..style.music import Staff
from .block import Block, Finish
from .lilypond import POINTS, Proof, Sheet
from .places import places_of

# A specimen's staff in staff spaces: the middle of its note from the left, and its length.
_SPECIMEN_LEAD, _SPECIMEN_WIDTH = 6.5, 9.5

_ONE_QUARTER = Meter(1, 4, (1,))


def sheet_of(engraving: Engraving, staff: Staff) -> Sheet:
    """What LilyPond sets one engraving from."""
    if isinstance(engraving, NoteSpecimen):
        return Sheet(_note_text(engraving.length), 10.0)
    from .score import system_text

    system = staged(engraving, staff)
    places = places_of(system, staff.height / 4)
    return Sheet(system_text(system, staff, places, closed=isinstance(engraving, System)), system.width)


def block_of(engraving: Engraving, staff: Staff, proof: Proof, finish: Finish) -> Block:
    """The block of an engraving that LilyPond has set, its PDF finished."""
    paper, ink = proof.paper, proof.ink
    pdf = finish(proof.pdf, proof.page, (paper.width, paper.height))
    if isinstance(engraving, NoteSpecimen):
        return Block(pdf, paper.width, paper.height, ink[0], ink[0], ink[1], ink[1], ink, ())
    system = staged(engraving, staff)
    half = staff.height * POINTS / 2
    return Block(
        pdf=pdf,
        width=paper.width,
        height=paper.height,
        left=paper.left,
        right=paper.left + system.width * POINTS,
        bottom=paper.middle - half,
        top=paper.middle + half,
        ink=ink,
        slots=tuple(paper.left + x * POINTS for _, x in places_of(system, staff.height / 4).moments),
    )


def staged(engraving: System | SoundSpecimen | StrokeSpecimen, staff: Staff) -> System:
    """A system as it is; a specimen as a system of one quarter note, without meter or barline."""
    if isinstance(engraving, System):
        return engraving
    stroke = _stroke_of(engraving)
    bar = Bar(_ONE_QUARTER, (Beat(Fraction(1, 4), ((stroke,),)),))
    space = staff.height / 4
    return System((bar,), space, _SPECIMEN_LEAD * space, _SPECIMEN_WIDTH * space)


def _stroke_of(specimen: SoundSpecimen | StrokeSpecimen) -> Stroke:
    if isinstance(specimen, SoundSpecimen):
        return _stroke_on(specimen.sound)
    if specimen.kind in {ornament.value for ornament in Ornament}:
        return Stroke(Limb.RIGHT, SNARE, ornament=Ornament(specimen.kind))
    return Stroke(Limb.RIGHT, SNARE, Dynamic(specimen.kind))


def _stroke_on(sound: Sound) -> Stroke:
    return Stroke(Limb.RIGHT if sound.by_hand else Limb.KICK, sound)


def _note_text(length: Fraction) -> str:
    """A single note value, by number: a quarter is 4, a dotted quarter 4."""
    dotted = length.numerator == 3
    base = length * 2 / 3 if dotted else length
    return f"\\markup \\note {{{base.denominator}{'.' if dotted else ''}}} #UP"
