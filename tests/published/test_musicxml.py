"""Our MusicXML held to the standard's schema and to an independent reader.

Sources: the MusicXML 4.0 schema of the W3C Music Notation Community Group (2021), which the package
`musicxml` carries, by xmlschema; music21, which reads the document back. Beyond the demo book there is
a score of every meter on every grid, of every sound, and of every ornament.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from xml.etree import ElementTree

import pytest
import xmlschema
from music21 import articulations, clef, converter, dynamics, meter, note, percussion, stream, tempo
from music21 import bar as barlines

from tests.notation.made import bar, pickup
from tests.published.demo import DEMO
from tests.published.test_midi import IN_EIGHTHS, IN_QUARTERS, UNITS
from tests.sound.made import exercise
from typeset.compose.book import Exercise
from typeset.exchange.musicxml import Score, musicxml
from typeset.pattern.bar import Bar, empty_bar
from typeset.pattern.grid import Grid
from typeset.pattern.limb import Limb
from typeset.pattern.meter import Meter
from typeset.pattern.sound import SOUNDS, Head, Sound
from typeset.pattern.stroke import Dynamic, Slot, Stroke
from typeset.pattern.swell import Swell

# What the standard calls heads of ours (its type notehead-value).
HEADS = {
    Head.NORMAL: "normal", Head.CROSS: "x", Head.DIAMOND: "diamond", Head.TRIANGLE: "triangle",
    Head.SLASHED: "slashed", Head.CIRCLED_CROSS: "circle-x",
}  # fmt: skip

SPARSE = "s . h k . . h . . . s h s"
ORNAMENTED = "sf . hg s? kh! sd hsz . s!d h k hs?f . t . ."


def one_of_each() -> Bar:
    """Sixteen sixteenths, a sound each."""
    return empty_bar(Meter.parse("4/4"), Grid.of("16ths")).with_slots(
        [(stroke_on(sound),) for sound in SOUNDS.values()]
    )


def stroke_on(sound: Sound) -> Stroke:
    """A stroke by a limb that can play it."""
    return Stroke(next(limb for limb in Limb if sound.can_be_played_by(limb)), sound)


def swelled(one: Exercise) -> Exercise:
    """An exercise that grows from its first stroke to the last of its first bar, then falls."""
    up, down = Swell(Fraction(0), Fraction(15, 16)), Swell(Fraction(1), Fraction(31, 16), louder=False)
    return replace(one, pattern=replace(one.pattern, swells=(up, down)))


BOOK = Score(DEMO.title, DEMO.exercises, DEMO.author)
EVERYTHING = Score(
    "Every meter, grid, sound and ornament",
    (
        *(
            exercise(bar(metre, grid, SPARSE), number=f"1.{number}")
            for number, metre in enumerate(UNITS, start=1)
            for grid in (IN_EIGHTHS if "/8" in metre else IN_QUARTERS)
        ),
        exercise(one_of_each(), number="2.1", feel="swing-8ths", times=4),
        exercise(bar("4/4", "16ths", ORNAMENTED), bar("4/4", "triplets", ORNAMENTED), loops=False, number="2.2"),
        exercise(bar("4/4", "16ths 16ths sextuplets 32nds", ORNAMENTED), tempo=None, number="2.3"),
        exercise(bar("4/4", "16ths", SPARSE), number="2.4", pickup=pickup("4/4", "16ths", "s . s")),
        exercise(bar("6/8", "8ths", SPARSE), loops=False, number="2.5", pickup=pickup("6/8", "8ths", "s s s s")),
        exercise(*(bar("4/4", "16ths", SPARSE) for _ in range(4)), number="2.6", times=4, endings=(1, 2)),
        swelled(exercise(bar("4/4", "16ths", SPARSE), bar("4/4", "16ths", SPARSE), number="2.7")),
    ),
)
SCORES = {"the demo book": BOOK, "everything": EVERYTHING}


@cache
def schema() -> xmlschema.XMLSchema:
    """The standard's schema; what it imports from elsewhere comes from xmlschema's own files."""
    found = find_spec("musicxml")
    assert found
    assert found.submodule_search_locations
    carried = Path(found.submodule_search_locations[0]) / "generate_classes" / "musicxml_4_0.xsd"
    shipped = Path(xmlschema.__file__).parent / "schemas"
    locations = {
        "http://www.w3.org/XML/1998/namespace": str(shipped / "XML" / "xml.xsd"),
        "http://www.w3.org/1999/xlink": str(shipped / "XLINK" / "xlink.xsd"),
    }
    return xmlschema.XMLSchema(str(carried), locations=locations, allow="local")


@cache
def text(name: str) -> str:
    """A score as MusicXML."""
    return musicxml(SCORES[name])


@cache
def read_back(name: str) -> tuple[stream.Measure, ...]:
    """The bars of a score as music21 reads them."""
    score = converter.parseData(text(name), format="musicxml")
    return tuple(score.parts[0].getElementsByClass(stream.Measure))


def bars(name: str) -> Iterator[tuple[Exercise, Bar, stream.Measure]]:
    """Every bar with what music21 made of it."""
    ours = [(one, each) for one in SCORES[name].exercises for each in one.pattern.every_bar]
    for (one, each), theirs in zip(ours, read_back(name), strict=True):
        yield one, each, theirs


@dataclass(frozen=True)
class Read:
    """What music21 read of one moment: its heads are (step, octave, shape, in parentheses)."""

    onset: Fraction
    length: Fraction
    heads: tuple[tuple[str, int, str, bool], ...]
    is_accented: bool
    limbs: tuple[str, ...]


def moments(measure: stream.Measure) -> Iterator[Read]:
    """The moments of a bar at which something is struck, without grace notes."""
    for element in measure.notes:
        if element.duration.isGrace:
            continue
        notes = element.notes if isinstance(element, percussion.PercussionChord) else (element,)
        marks = [
            *element.articulations,
            *(mark for one in notes for mark in one.articulations if one is not element),
        ]
        yield Read(
            Fraction(element.offset) / 4,
            Fraction(element.quarterLength) / 4,
            tuple(sorted(head(one) for one in notes)),
            any(isinstance(mark, articulations.Accent) for mark in marks),
            tuple(sorted(str(mark.fingerNumber) for mark in marks if isinstance(mark, articulations.Fingering))),
        )


def head(one: note.Unpitched) -> tuple[str, int, str, bool]:
    return one.displayStep, one.displayOctave, one.notehead, bool(one.noteheadParenthesis)


def expected_heads(slot: Slot) -> tuple[tuple[str, int, str, bool], ...]:
    """What a slot's heads should be: a line or space each, counted up from the treble clef's B."""
    found = set()
    for stroke in slot:
        octave, step = divmod(4 * 7 + 6 + stroke.sound.place, 7)
        is_ghost = all(one.dynamic is Dynamic.GHOST for one in slot if one.sound == stroke.sound)
        found.add(("CDEFGAB"[step], octave, HEADS[stroke.sound.head], is_ghost))
    return tuple(sorted(found))


@pytest.mark.parametrize("name", SCORES)
def test_the_standards_schema_accepts_it(name: str) -> None:
    assert [str(error.reason) for error in schema().iter_errors(text(name))] == []


@pytest.mark.parametrize("name", SCORES)
def test_music21_finds_each_stroke_where_it_is_with_its_head_and_limb(name: str) -> None:
    for one, ours, theirs in bars(name):
        struck = [(onset - ours.lead, slot) for onset, slot in zip(ours.onsets, ours.slots, strict=True) if slot]
        read = list(moments(theirs))
        assert [moment.onset for moment in read] == pytest.approx([onset for onset, _ in struck]), one.number
        for moment, (_, slot) in zip(read, struck, strict=True):
            assert moment.heads == expected_heads(slot), one.number
            assert moment.limbs == tuple(sorted(stroke.limb.value for stroke in slot)), one.number
            assert moment.is_accented == any(stroke.dynamic is Dynamic.ACCENT for stroke in slot), one.number


@pytest.mark.parametrize("name", SCORES)
def test_music21_finds_that_notes_and_rests_fill_each_bar_of_its_meter(name: str) -> None:
    signature = meter.TimeSignature()
    for one, ours, theirs in bars(name):
        signature = theirs.timeSignature or signature
        assert (signature.numerator, signature.denominator) == (ours.meter.top, ours.meter.bottom), one.number
        assert Fraction(theirs.duration.quarterLength).limit_denominator(1000) == 4 * ours.length, one.number
        lengths = [Fraction(each.quarterLength).limit_denominator(1000) for each in theirs.notesAndRests]
        assert sum(lengths) == 4 * ours.length, one.number


@pytest.mark.parametrize("name", SCORES)
def test_music21_finds_that_no_note_is_held_over_the_next_stroke_or_into_another_beat(name: str) -> None:
    for one, ours, theirs in bars(name):
        beats = [sum(ours.meter.beats[:number], Fraction(0)) for number in range(1, len(ours.meter.beats) + 1)]
        for moment in moments(theirs):
            starts = ours.lead + Fraction(moment.onset).limit_denominator(1000)
            ends = starts + Fraction(moment.length).limit_denominator(1000)
            assert ends <= min(beat for beat in beats if beat > starts), one.number


@pytest.mark.parametrize("name", SCORES)
def test_music21_finds_all_stems_up(name: str) -> None:
    for _, _, theirs in bars(name):
        for element in theirs.notes:
            notes = element.notes if isinstance(element, percussion.PercussionChord) else (element,)
            assert {one.stemDirection for one in notes} == {"up"}


@pytest.mark.parametrize("name", SCORES)
def test_music21_finds_every_beam_begun_and_ended(name: str) -> None:
    for one, _, theirs in bars(name):
        open_beams: set[int] = set()
        for element in theirs.notes:
            for beam in () if element.duration.isGrace else element.beams:
                if beam.type == "start":
                    assert beam.number not in open_beams, one.number
                    open_beams.add(beam.number)
                elif beam.type in ("continue", "stop"):
                    assert beam.number in open_beams, one.number
                    if beam.type == "stop":
                        open_beams.remove(beam.number)
        assert not open_beams, one.number


def test_music21_finds_the_clef_the_repeats_and_the_tempos_of_the_demo_book() -> None:
    assert isinstance(read_back("the demo book")[0].clef, clef.PercussionClef)
    read = {one.number: measures for one, measures in by_exercise("the demo book")}
    for one in DEMO.exercises:
        first, last = read[one.number][0], read[one.number][-1]
        assert isinstance(first.leftBarline, barlines.Repeat) == one.plays_on, one.number
        assert isinstance(last.rightBarline, barlines.Repeat) == one.plays_on, one.number
        mark = first.getElementsByClass(tempo.MetronomeMark).first()
        assert one.tempo
        assert mark.number == one.tempo.start, one.number
        assert Fraction(mark.referent.quarterLength) == 4 * one.tempo_unit, one.number


def test_music21_plays_each_ending_on_its_passes() -> None:
    marks = [bar("2/4", "quarters", f"{letter} .") for letter in "stcw"]
    ended = exercise(*marks, endings=(1, 2), times=3)
    score = converter.parseData(musicxml(Score("Endings", (ended,))), format="musicxml")
    played = score.parts[0].expandRepeats().getElementsByClass(stream.Measure)
    assert [next(moments(measure)).heads[0][:2] for measure in played] == [
        moment.heads[0][:2]
        for letter in "ststscw"
        for moment in moments(score.parts[0].getElementsByClass(stream.Measure)["stcw".index(letter)])
    ]


def test_music21_finds_each_swell_from_note_to_note() -> None:
    one = swelled(exercise(bar("4/4", "16ths", "s"), bar("4/4", "16ths", "s")))
    part = converter.parseData(musicxml(Score("Swells", (one,))), format="musicxml").parts[0]
    found = [
        (type(wedge), *(Fraction(end.getOffsetInHierarchy(part)) / 4 for end in wedge.getSpannedElements()))
        for wedge in part.recurse().getElementsByClass(dynamics.DynamicWedge)
    ]
    up, down = one.pattern.swells
    assert found == [(dynamics.Crescendo, up.start, up.end), (dynamics.Diminuendo, down.start, down.end)]


def by_exercise(name: str) -> Iterator[tuple[Exercise, list[stream.Measure]]]:
    measures = iter(read_back(name))
    for one in SCORES[name].exercises:
        yield one, [next(measures) for _ in one.pattern.every_bar]


def test_music21_finds_one_grace_note_before_a_flam_and_two_before_a_drag() -> None:
    ornamented = next(measures for one, measures in by_exercise("everything") if one.number == "2.2")
    graces = [element for element in ornamented[0].notes if element.duration.isGrace]
    assert len(graces) == 4
    assert [each.duration.slash for each in graces] == [True, False, False, True]
    assert [[beam.type for beam in each.beams] for each in graces] == [[], ["start"] * 2, ["stop"] * 2, []]


@pytest.mark.filterwarnings("ignore::music21.musicxml.xmlObjects.MusicXMLWarning")
@pytest.mark.parametrize("sound", SOUNDS.values(), ids=SOUNDS)
def test_music21_makes_the_instrument_of_its_midi_key_of_a_part_with_one_sound(sound: Sound) -> None:
    alone = one_of_each().with_slots([(stroke_on(sound),)] * 16)
    score = converter.parseData(musicxml(Score("One sound", (exercise(alone),))), format="musicxml")
    assert score.parts[0].getInstrument().percMapPitch == sound.midi


def test_each_note_names_the_instrument_that_has_its_general_midi_key() -> None:
    root = ElementTree.fromstring(text("the demo book"))
    keys = {
        one.get("id"): int(one.findtext("midi-unpitched", "0")) - 1
        for one in root.iter("midi-instrument")
        if one.findtext("midi-channel") == "10"
    }
    named = [[keys[one.get("id")] for one in measure.iter("instrument")] for measure in root.iter("measure")]
    for (_, ours, _), theirs in zip(bars("the demo book"), named, strict=True):
        assert sorted(theirs) == sorted(
            key for slot in ours.slots for key in {stroke.sound.midi for stroke in slot}
        )
