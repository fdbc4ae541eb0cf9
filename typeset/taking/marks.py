"""What stands at a note in MusicXML beside its time and place: limbs, dynamics, ornaments, tuplets."""

from __future__ import annotations

import re
from fractions import Fraction
from xml.etree.ElementTree import Element

from ..pattern.limb import Limb
from ..pattern.stroke import Dynamic, Ornament

_LIMBS = {limb.value: limb for limb in Limb}
_BETWEEN = re.compile(r"[\s+/,]+")

VALUES = {
    "whole": Fraction(1), "half": Fraction(1, 2), "quarter": Fraction(1, 4), "eighth": Fraction(1, 8),
    "16th": Fraction(1, 16), "32nd": Fraction(1, 32), "64th": Fraction(1, 64),
}  # fmt: skip
"""The standard's written values, as parts of a whole note."""

_NUMBER = re.compile(r"\s*(\d{1,7}(?:\.\d{1,6})?)\s*")

_TUPLETS = {5: "quintuplets", 6: "sextuplets", 7: "septuplets"}


def number_in(text: str | None) -> Fraction | None:
    """A number of a usual size; None for anything else, however it is written."""
    found = _NUMBER.fullmatch(text or "")
    return Fraction(found[1]) if found else None


def limbs_of(note: Element) -> tuple[Limb, ...]:
    """The limbs that a note's fingerings say, or where there are none its lyrics; none where these say
    something else."""
    for where in ("notations/technical/fingering", "lyric/text"):
        words = [word for mark in note.iterfind(where) for word in _BETWEEN.split((mark.text or "").strip())]
        limbs = [_LIMBS.get(word.upper()) for word in words if word]
        if limbs and None not in limbs:
            return tuple(dict.fromkeys(limb for limb in limbs if limb))
    return ()


def dynamic_of(note: Element) -> Dynamic:
    """A ghost stroke stands in parentheses, an accent has its sign."""
    head = note.find("notehead")
    if head is not None and head.get("parentheses") == "yes":
        return Dynamic.GHOST
    signs = ("accent", "strong-accent")
    is_accent = any(note.find(f"notations/articulations/{sign}") is not None for sign in signs)
    return Dynamic.ACCENT if is_accent else Dynamic.PLAIN


def ornament_of(note: Element) -> tuple[Ornament | None, str | None]:
    """What slashes on the stem mean, and what they could also mean.

    One halves the value once: two strokes. Three on a drum, or the sign without measure, are a pressed roll
    (common practice, no source).
    """
    tremolo = note.find("notations/ornaments/tremolo")
    if tremolo is None:
        return None, None
    slashes = (tremolo.text or "").strip()
    if tremolo.get("type") == "unmeasured" or slashes == "0":
        return Ornament.BUZZ, None
    if tremolo.get("type", "single") == "single" and slashes == "1":
        return Ornament.DIDDLE, None
    if tremolo.get("type", "single") == "single" and slashes in ("3", "4"):
        return Ornament.BUZZ, "a buzz could also be an open roll; the file has slashes on its stem"
    return None, "a stroke with slashes on its stem could also be several"


def tuplet_of(note: Element) -> str | None:
    """The grid that a note's tuplet says; None outside tuplets and in those that are no grid of ours."""
    actual = number_in(note.findtext("time-modification/actual-notes"))
    if actual == 3:
        value = VALUES.get(note.findtext("type") or "", Fraction(1, 8))
        return "triplets" if value >= Fraction(1, 8) else "sextuplets"
    return _TUPLETS.get(int(actual or 0))
