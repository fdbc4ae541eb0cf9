"""Exercises as MusicXML 4.0, the W3C Music Notation Community Group's format (2021), plain or compressed."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm
from xml.etree.ElementTree import Element, indent, tostring

from .. import __version__
from ..compose.book import Exercise
from ..pattern.meter import Meter
from ..pattern.sound import SOUNDS, Sound
from ..pattern.swing import SIXTEENTH, swing_of
from .musicxml_barline import left_barlines, right_barlines
from .musicxml_note import TYPES, element, instrument_id, notes_of

_OPENING = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" '
    '"http://www.musicxml.org/dtds/partwise.dtd">\n'
)

_MEDIA_TYPE = "application/vnd.recordare.musicxml"

# What the standard's list of instrument sounds calls ours (sounds.xml of MusicXML 4.0).
_STANDARD_SOUNDS = {
    "kick": "drum.bass-drum",
    "snare": "drum.snare-drum",
    "cross-stick": "drum.snare-drum",
    "rim-shot": "drum.snare-drum",
    "hi-hat": "metal.hi-hat",
    "open-hi-hat": "metal.hi-hat",
    "hi-hat-foot": "metal.hi-hat",
    "ride": "metal.cymbal.ride",
    "ride-bell": "metal.cymbal.ride",
    "crash": "metal.cymbal.crash",
    "splash": "metal.cymbal.splash",
    "china": "metal.cymbal.chinese",
    "high-tom": "drum.tom-tom",
    "mid-tom": "drum.tom-tom",
    "floor-tom": "drum.tom-tom",
    "cowbell": "metal.bells.cowbell",
}


@dataclass(frozen=True, slots=True)
class Score:
    """Exercises that make one score: an exercise, a chapter or a whole book.

    `breaks` are the numbers of the exercises that begin a new page. Each exercise of several is headed
    by its number and title.
    """

    title: str
    exercises: tuple[Exercise, ...]
    author: str | None = None
    number: str | None = None
    breaks: frozenset[str] = frozenset()


def musicxml(score: Score) -> str:
    """A score as the text of a MusicXML file: one part, one voice, an instrument for each sound."""
    root = element("score-partwise", version="4.0")
    if score.number:
        root.append(element("movement-number", score.number))
    root.append(element("movement-title", score.title))
    root.append(_identification(score))
    sounds = _sounds_in(score.exercises)
    root.append(element("part-list", _part_entry(sounds)))
    root.append(element("part", *_measures(score), id="P1"))
    indent(root, " ")
    return f"{_OPENING}{tostring(root, encoding='unicode')}\n"


def compressed(text: str, name: str = "score") -> bytes:
    """A MusicXML file packed as .mxl; the same text gives the same bytes."""
    container = element(
        "container",
        element("rootfiles", element("rootfile", full_path=f"{name}.musicxml", media_type=f"{_MEDIA_TYPE}+xml")),
    )
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w") as packed:
        _pack(packed, "mimetype", _MEDIA_TYPE, zipfile.ZIP_STORED)
        opening = '<?xml version="1.0" encoding="UTF-8"?>\n'
        _pack(packed, "META-INF/container.xml", f"{opening}{tostring(container, encoding='unicode')}\n")
        _pack(packed, f"{name}.musicxml", text)
    return content.getvalue()


def _pack(packed: zipfile.ZipFile, name: str, text: str, how: int = zipfile.ZIP_DEFLATED) -> None:
    # Without a date of its own a file has that of 1980, the earliest there is.
    packed.writestr(zipfile.ZipInfo(name), text.encode(), how)


def _identification(score: Score) -> Element:
    made = element("identification")
    if score.author:
        made.append(element("creator", score.author, type="composer"))
    encoding = element("encoding", element("software", f"Shedbook {__version__}"))
    encoding.append(element("supports", element="beam", type="yes"))
    encoding.append(element("supports", element="print", type="yes", attribute="new-system", value="yes"))
    made.append(encoding)
    return made


def _sounds_in(exercises: Iterable[Exercise]) -> list[Sound]:
    played = {stroke.sound.name for exercise in exercises for stroke in exercise.pattern.strokes}
    return [sound for sound in SOUNDS.values() if sound.name in played]


def _part_entry(sounds: Sequence[Sound]) -> Element:
    """The drums with their instruments. The standard counts MIDI keys from 1."""
    entry = element("score-part", element("part-name", "Drums"), id="P1")
    for sound in sounds:
        named = element("instrument-name", sound.name.replace("-", " ").capitalize())
        standard = element("instrument-sound", _STANDARD_SOUNDS[sound.name])
        entry.append(element("score-instrument", named, standard, id=instrument_id(sound)))
    for sound in sounds:
        channel, key = element("midi-channel", 10), element("midi-unpitched", sound.midi + 1)
        entry.append(element("midi-instrument", channel, key, id=instrument_id(sound)))
    return entry


def _measures(score: Score) -> Iterator[Element]:
    """Every bar of every exercise, numbered through; a pickup has no number that is printed."""
    divisions = _divisions(score.exercises)
    any_swings = any(swing_of(exercise.feel) for exercise in score.exercises)
    before = 0
    for exercise in score.exercises:
        meter: Meter | None = None
        opening, closing = left_barlines(exercise), right_barlines(exercise)
        for number, bar in enumerate(exercise.pattern.every_bar, start=0 if exercise.pattern.pickup else 1):
            measure = _measure(before, number)
            if meter is None:
                measure.extend(_break(score, exercise, before))
            if number in opening:
                measure.append(opening[number])
            if bar.meter != meter:
                measure.append(_attributes(bar.meter, None if before or meter else divisions))
            if meter is None:
                measure.extend(_directions(score, exercise, any_swings))
            swells = exercise.pattern.swells_over(number - 1) if number else ()
            measure.extend(notes_of(bar, divisions, swells))
            if number in closing:
                measure.append(closing[number])
            yield measure
            meter = bar.meter
        before += len(exercise.pattern.bars)


def _measure(before: int, number: int) -> Element:
    """An empty measure: a bar's by its number after so many others, or, for 0, a pickup's.

    The standard calls the first pickup 0, and counts others by an X before a number of their own.
    """
    if number:
        return element("measure", number=str(before + number))
    return element("measure", number=f"X{before}" if before else "0", implicit="yes")


def _divisions(exercises: Iterable[Exercise]) -> int:
    """The fewest parts of a quarter that every slot is a whole number of."""
    lengths = {
        4 * length
        for exercise in exercises
        for bar in exercise.pattern.every_bar
        for length in (*bar.slot_lengths, bar.meter.length)
    }
    return lcm(*(length.denominator for length in lengths))


def _break(score: Score, exercise: Exercise, before: int) -> list[Element]:
    if before == 0:
        return []
    new_page = exercise.new_page or exercise.number in score.breaks
    return [element("print", **({"new_page": "yes"} if new_page else {"new_system": "yes"}))]


def _attributes(meter: Meter, divisions: int | None) -> Element:
    made = element("attributes")
    if divisions:
        made.append(element("divisions", divisions))
    beats = "+".join(map(str, meter.groups)) if meter.stated else str(meter.top)
    made.append(element("time", element("beats", beats), element("beat-type", meter.bottom)))
    if divisions:
        made.append(element("clef", element("sign", "percussion")))
    return made


def _directions(score: Score, exercise: Exercise, any_swings: bool) -> Iterator[Element]:
    """An exercise's heading, tempo and feel."""
    if len(score.exercises) > 1:
        heading = element("direction-type", element("rehearsal", exercise.number, enclosure="none"))
        title = element("direction-type", element("words", exercise.title))
        yield element("direction", heading, title, placement="above")
    if exercise.tempo:
        yield _tempo(exercise)
    if any_swings:
        yield element("sound", _swing(exercise.feel))


def _tempo(exercise: Exercise) -> Element:
    """The tempo in its own unit for the eye, in quarters for the ear; a goal follows as words."""
    assert exercise.tempo is not None  # asked only of exercises that have one
    start, goal, unit = exercise.tempo.start, exercise.tempo.goal, exercise.tempo_unit
    base = unit * 2 / 3 if unit.numerator == 3 else unit
    mark = element("metronome", element("beat-unit", TYPES[base]))
    if unit != base:
        mark.append(element("beat-unit-dot"))
    mark.append(element("per-minute", start))
    direction = element("direction", element("direction-type", mark), placement="above")
    if goal > start:
        direction.append(element("direction-type", element("words", f"–{goal}")))
    direction.append(element("sound", tempo=_decimal(start * unit * 4)))
    return direction


def _decimal(number: Fraction) -> str:
    return f"{float(number):g}"


def _swing(feel: str) -> Element:
    swing = swing_of(feel)
    if swing is None:
        return element("swing", element("straight"))
    note = "16th" if swing.note == SIXTEENTH else "eighth"
    pair = (element("first", swing.first), element("second", swing.second))
    return element("swing", *pair, element("swing-type", note))
