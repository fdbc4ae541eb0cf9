"""What is written over a staff: headings, tempos, feels."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from xml.etree.ElementTree import Element

from ..pattern.meter import Meter
from ..pattern.tempo import FASTEST, SLOWEST, Tempo
from .marks import VALUES, number_in

_GOAL = re.compile(r"^\s*[–-]\s*(\d{1,3})\s*$")
_NUMBER = re.compile(r"\d{1,4}(?:\.\d{1,6})?")
_LONGEST = 120


@dataclass(frozen=True)
class Words:
    """What is said at a measure; None where nothing is.

    `mark` is a rehearsal mark and `title` the words beside it. `feel` is straight or the notes that swing.
    """

    mark: str | None = None
    title: str | None = None
    tempo: Tempo | None = None
    feel: str | None = None


def words_in(measure: Element, meter: Meter) -> Words:
    """What is said at a measure of a meter."""
    mark = title = tempo = None
    for direction in measure.iterfind("direction"):
        rehearsal = direction.find("direction-type/rehearsal")
        words = [plain(one.text) for one in direction.iterfind("direction-type/words")]
        if rehearsal is not None:
            mark, title = plain(rehearsal.text), next((word for word in words if word), None)
        tempo = tempo or _tempo(direction, words, meter)
    return Words(mark, title, tempo, _feel(measure))


def plain(text: str | None) -> str:
    """Text on one line, without what cannot be printed, and no longer than a heading."""
    letters = "".join(letter if letter.isprintable() else " " for letter in text or "")
    return " ".join(letters.split())[:_LONGEST]


def _tempo(direction: Element, words: list[str], meter: Meter) -> Tempo | None:
    """The tempo of a direction in the meter's unit: as its metronome mark says, else as it is to sound."""
    mark, sound = direction.find("direction-type/metronome"), direction.find("sound")
    start = None
    if mark is not None:
        unit = VALUES.get(mark.findtext("beat-unit") or "")
        written = _NUMBER.search(mark.findtext("per-minute") or "")
        if unit and written:
            dotted = unit * Fraction(3, 2) if mark.find("beat-unit-dot") is not None else unit
            start = Fraction(written[0]) * dotted / meter.tempo_unit
    heard = number_in(sound.get("tempo")) if sound is not None else None
    if start is None and heard is not None:
        start = heard / 4 / meter.tempo_unit
    if start is None or not SLOWEST <= round(start) <= FASTEST:
        return None
    goals = [int(found[1]) for word in words if (found := _GOAL.match(word))]
    goal = next((goal for goal in goals if round(start) < goal <= FASTEST), round(start))
    return Tempo(round(start), goal)


def _feel(measure: Element) -> str | None:
    swing = measure.find("sound/swing")
    if swing is None:
        swing = measure.find("direction/sound/swing")
    if swing is None:
        return None
    if swing.find("straight") is not None:
        return "straight"
    return "swing-16ths" if swing.findtext("swing-type") == "16th" else "swing-8ths"
