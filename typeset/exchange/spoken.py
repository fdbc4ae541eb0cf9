"""What is read aloud in place of an engraving, for those who do not see it."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import accumulate

from ..compose.engraving import Engraving, NoteSpecimen, SoundSpecimen, StrokeSpecimen, System
from ..pattern.bar import Bar
from ..pattern.swell import Swell
from ..wording import wording
from ..wording.lettering import AS_WRITTEN, Lettering
from ..wording.sentences import sound_word
from .text import Told, beat_lines

_NOTES = {
    Fraction(1, 2): "half",
    Fraction(3, 8): "dotted-quarter",
    Fraction(1, 4): "quarter",
    Fraction(1, 8): "eighth",
}


def spoken(
    language: str, engraving: Engraving, withheld: str | None = None, *, lettering: Lettering = AS_WRITTEN
) -> str:
    """A system beat by beat, in a style's `lettering`; a specimen by what it shows.

    What a task has `withheld`, the `sticking` or the `counting`, is not said either; of a system without
    notes only who plays, for that is what stands under it.
    """
    match engraving:
        case System():
            return "\n".join(_bars(engraving, language, _told(engraving, withheld, lettering)))
        case SoundSpecimen(sound):
            return sound_word(sound, language)
        case StrokeSpecimen(kind):
            return wording(language)[f"pages.how-to-read.strokes.{kind}"]
        case NoteSpecimen(length):
            return wording(language)[f"spoken.notes.{_NOTES[length]}"]


def _told(system: System, withheld: str | None, lettering: Lettering) -> Told:
    if system.blank:
        return Told(sounds=False, lettering=lettering)
    return Told(limbs=withheld != "sticking", counts=withheld != "counting", lettering=lettering)


def _bars(system: System, language: str, told: Told) -> Iterator[str]:
    """Each bar on a line of its own, its meter where that is printed, the number of an ending, its swells."""
    words = wording(language)
    if system.pickup:
        yield words.say("spoken.pickup", beats=_said(system.pickup, language, told))
    endings = {volta.first: words.say("spoken.ending", label=volta.label) for volta in system.voltas if volta.label}
    barlines = accumulate((bar.length for bar in system.bars), initial=Fraction(0))
    for index, (bar, barline) in enumerate(zip(system.bars, barlines, strict=False)):
        meter = f"{bar.meter}{words['spoken.colon']}" if index in system.meters_at else ""
        swells = tuple(
            Swell(hairpin.start - barline, hairpin.end - barline, hairpin.left < hairpin.right)
            for hairpin in system.hairpins
        )
        yield f"{endings.get(index, '')}{meter}{_said(bar, language, told, swells)}."


def _said(bar: Bar, language: str, told: Told, swells: tuple[Swell, ...] = ()) -> str:
    return ". ".join(beat_lines(bar, language, told, swells))
