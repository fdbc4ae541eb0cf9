"""The closing checks: every exercise of every demo book, through everything outside that can be asked about it.

`python -m tests.published.closing [BOOK ...]` runs them all, which takes some minutes, and prints how many
exercises each check held; `test_closing.py` runs them on a slice. The sources are named beside each check
in CHECKS, and in `test_midi.py` and `test_musicxml.py`, whose readers are used here.
"""

from __future__ import annotations

import io
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from xml.etree import ElementTree

import mido
import numpy
import pretty_midi
import soundfile
from music21 import converter, percussion, stream

from tests.published.test_midi import KEY_NAMES, in_slots, lilypond_plays, printed_in_slots, struck
from tests.published.test_musicxml import expected_heads, moments, schema
from tests.taking.made import taken
from tests.taking.test_round_trip import facts
from typeset import pipeline
from typeset.compose.book import Book, Exercise
from typeset.compose.engraving import System
from typeset.exchange.musicxml import Score, compressed, musicxml
from typeset.pattern.stroke import SILENCE, Dynamic, Ornament, Slot
from typeset.pattern.swing import Swing, swing_of, swung
from typeset.sound.audio import sound_font
from typeset.sound.midi import midi_file
from typeset.sound.performance import Performance

BOOKS = Path(__file__).parents[2] / "books"
DEMO_BOOKS = ("quiet-doors", "yard-handbook", "small-rooms")

STRAIGHT = Swing(1, 1)
ONCE = Performance(times=1, click=False, swing=STRAIGHT)
LATEST = 0.005
"""Seconds that an attack may stand beside its place."""


@dataclass(frozen=True)
class Check:
    """What is checked of exercises, against what. `fails` gives the id of each that does not pass, with why.

    A `slow` one takes seconds for each exercise.
    """

    what: str
    against: str
    fails: Callable[[Sequence[Exercise]], Iterator[str]]
    slow: bool = False


def each(passes: Callable[[Exercise], None]) -> Callable[[Sequence[Exercise]], Iterator[str]]:
    """A check of exercises one by one, by what raises AssertionError for one that does not pass."""

    def fails(exercises: Sequence[Exercise]) -> Iterator[str]:
        for one in exercises:
            try:
                passes(one)
            except AssertionError as error:
                yield f"{one.id}: {error}"

    return fails


def strikes_general_midi_drums(one: Exercise) -> None:
    """Every key is struck on channel 10, and its name is that of the sound written."""
    messages = [
        message for track in opened(midi_file(one)).tracks for message in track if message.type == "note_on"
    ]
    assert {message.channel for message in messages} == {9}, "a channel other than 10"
    drums = pretty_midi.PrettyMIDI(io.BytesIO(midi_file(one, Performance(click=False, count_in=False))))
    names = {pretty_midi.note_number_to_drum_name(note.pitch) for note in drums.instruments[0].notes}
    assert names == {KEY_NAMES[stroke.sound.name] for stroke in one.pattern.strokes}, f"it strikes {sorted(names)}"


def lasts_as_long_as_it_says(one: Exercise) -> None:
    """A count-in and two passes at each tempo of a ladder, or to each ending, by the clock."""
    times = max(2, len(one.pattern.endings))
    found = opened(midi_file(one, Performance(times=times, click=False, ladder=10))).length
    start = one.tempo.start if one.tempo else min(80, one.ceiling)
    goal = one.tempo.goal if one.tempo else start
    bars = one.pattern.bars
    played = [bars[number] for numbers in one.pattern.passes(times) for number in numbers]
    units = (bars[0].meter.length + sum(bar.meter.length for bar in played)) / one.tempo_unit
    wanted = sum(float(units) * 60 / tempo for tempo in [*range(start, goal, 10), goal])
    assert abs(found - wanted) < 1e-3, f"{found:.3f} s, not {wanted:.3f}"


def is_struck_when_it_is_written(one: Exercise) -> None:
    """Every slot at its time in seconds, swung ones where they are swung to; between them ornaments alone."""
    heard_notes = pretty_midi.PrettyMIDI(io.BytesIO(midi_file(one, Performance(times=1, click=False))))
    drums = next(track for track in heard_notes.instruments if track.name == "Drums")
    notes = [(note.start, note.pitch) for note in drums.notes]
    wanted = [(second, {stroke.sound.midi for stroke in slot}) for second, slot in seconds_of(one)]
    for second, keys in wanted:
        near = {key for start, key in notes if abs(start - second) < 1e-4}
        assert keys <= near, f"{keys - near} is not struck at {second:.4f} s"
    if not any(stroke.ornament for stroke in one.pattern.strokes) and not one.pattern.pickup:
        assert len(notes) == sum(len(keys) for _, keys in wanted), "more is struck than is written"


def seconds_of(one: Exercise, counted_in: bool = True) -> Iterator[tuple[float, Slot]]:
    """When each slot that sounds is played first, after a count-in of one bar or without, in seconds."""
    tempo = one.tempo.start if one.tempo else min(80, one.ceiling)
    whole = 60 / tempo / float(one.tempo_unit)
    start = one.pattern.bars[0].meter.length if counted_in else Fraction(0)
    seen: set[int] = set()
    for numbers in one.pattern.passes(len(one.pattern.endings) or 1):
        for number in numbers:
            bar = one.pattern.bars[number]
            if number not in seen:
                times = swung(bar, swing_of(one.feel))
                for onset, slot in zip(times, bar.slots, strict=False):
                    if slot:
                        yield float(start + onset) * whole, slot
            seen.add(number)
            start += bar.meter.length


def lilypond_plays_otherwise(exercises: Sequence[Exercise]) -> Iterator[str]:
    """LilyPond's MIDI of the systems that are engraved, and ours: the same keys in the same slots."""
    with tempfile.TemporaryDirectory() as folder:
        theirs = lilypond_plays([system for one in exercises for system in one.systems], Path(folder))
    for one in exercises:
        through = replace(one, pattern=replace(one.pattern, pickup=None, endings=()))
        counted_in = one.pattern.bars[0].meter.length
        ours = [(moment - counted_in, key) for moment, key in struck(opened(midi_file(through, ONCE)))]
        start, engraved = Fraction(0), []
        for system in one.systems:
            lead = lead_of(system, theirs[system])
            engraved += [(start + moment - lead, key) for moment, key in theirs[system] if moment >= lead]
            start += sum(bar.meter.length for bar in system.bars)
        if not in_slots(one, engraved) == in_slots(one, ours) == printed_in_slots(one):
            yield f"{one.id}: LilyPond plays it otherwise"


def lead_of(system: System, played: Sequence[tuple[Fraction, int]]) -> Fraction:
    """What LilyPond plays before a system's first bar: its pickup, and the grace strokes that its file begins with."""
    graces = sum({Ornament.FLAM: 1, Ornament.DRAG: 2}.get(one.ornament, 0) for one in system.every_bar[0].slots[0])
    begins = sorted(played)[graces][0] if graces else Fraction(0)
    return begins + (system.pickup.length if system.pickup else 0)


def is_valid(one: Exercise) -> None:
    """The standard's schema accepts its score."""
    errors = [str(error.reason) for error in schema().iter_errors(score_of(one))]
    assert not errors, errors


def is_read_by_music21(one: Exercise) -> None:
    """Onsets, lengths, heads and places, limbs, accents, stems; and its instruments by their MIDI keys."""
    part = converter.parseData(score_of(one), format="musicxml").parts[0]
    measures = list(part.getElementsByClass(stream.Measure))
    assert len(measures) == len(one.pattern.every_bar), "bars"
    for ours, theirs in zip(one.pattern.every_bar, measures, strict=True):
        written = [(onset - ours.lead, slot) for onset, slot in zip(ours.onsets, ours.slots, strict=True) if slot]
        read = list(moments(theirs))
        assert len(read) == len(written), "strokes"
        ends = [*(onset for onset, _ in written[1:]), ours.length]
        for moment, (onset, slot), end in zip(read, written, ends, strict=True):
            assert abs(moment.onset - onset) < 1e-6, f"onset {moment.onset}"
            assert 0 < moment.length <= end - onset + Fraction(1, 10**6), f"length {moment.length}"
            assert moment.heads == expected_heads(slot), f"heads {moment.heads}"
            assert moment.limbs == tuple(sorted(stroke.limb.value for stroke in slot)), f"limbs {moment.limbs}"
            assert moment.is_accented == any(stroke.dynamic is Dynamic.ACCENT for stroke in slot), "accents"
        lengths = [Fraction(note.quarterLength).limit_denominator(1000) for note in theirs.notesAndRests]
        assert sum(lengths) == 4 * ours.length, f"notes and rests add up to {sum(lengths)}"
        for element in theirs.notes:
            heads = element.notes if isinstance(element, percussion.PercussionChord) else (element,)
            assert {head.stemDirection for head in heads} == {"up"}, "stems"
    assert keys_named(one) == [
        sorted(key for slot in bar.slots for key in {stroke.sound.midi for stroke in slot})
        for bar in one.pattern.every_bar
    ], "instruments"


def keys_named(one: Exercise) -> list[list[int]]:
    """The General MIDI keys of the instruments that each bar's notes name, without its grace notes'."""
    root = ElementTree.fromstring(score_of(one))
    keys = {instrument.get("id"): int(instrument.findtext("midi-unpitched", "0")) - 1
            for instrument in root.iter("midi-instrument")}  # fmt: skip
    return [
        sorted(
            keys[note.find("instrument").get("id")]  # type: ignore[union-attr]
            for note in measure.iter("note")
            if note.find("instrument") is not None and note.find("grace") is None
        )
        for measure in root.iter("measure")
    ]


def comes_back_from_a_score(one: Exercise) -> None:
    """Through a compressed score and `take`: the same strokes by the same limbs, and all that is said of them."""
    with tempfile.TemporaryDirectory() as folder:
        found = the_whole(taken(compressed(score_of(one)), Path(folder), "one.mxl"))
    before, after = facts(one), facts(found)
    assert before == after, f"other {', '.join(key for key in before if before[key] != after[key])}"


def the_whole(book: Book) -> Exercise:
    """What was taken: one exercise, or the phrase of those that it was taken in, one for each meter, which is the last."""
    *parts, whole = book.exercises
    lengths = {part.id: part.pattern.length for part in parts}
    assert not parts or whole.pattern.length >= sum(lengths.values()), f"{len(book.exercises)} exercises"
    return whole


def comes_back_from_midi(one: Exercise) -> None:
    """Through MIDI and `take`, and played again: the same keys at the same times, as loud as each other.

    MIDI tells neither swung sixteenths from sextuplets nor a diddle from two strokes, nor that all is accented.
    """
    content = midi_file(one)
    with tempfile.TemporaryDirectory() as folder:
        found = the_whole(taken(content, Path(folder)))
    assert found.tempo is not None, "no tempo"
    assert found.tempo.start == (one.tempo.start if one.tempo else min(80, one.ceiling)), "tempo"
    # What repeats inside an exercise is found to be a shorter loop, which is played more often.
    once, twice = (seconds(found, Performance(times=times, count_in=False)) for times in (1, 2))
    times = 1 + round((seconds(one, Performance(count_in=False)) - once) / (twice - once))
    wanted, given = played(content), played(midi_file(found, Performance(times=times)))
    assert [key for _, key, _ in wanted] == [key for _, key, _ in given], "keys"
    assert all(abs(left - right) < 1e-3 for (left, *_), (right, *_) in zip(wanted, given, strict=True)), "times"
    if len({loud for *_, loud in wanted}) > 1:
        assert [loud for *_, loud in wanted] == [loud for *_, loud in given], "dynamics"


def seconds(one: Exercise, performance: Performance) -> float:
    return opened(midi_file(one, performance)).length


def played(content: bytes) -> list[tuple[float, int, Dynamic]]:
    """What is struck, in order of time and key: seconds, key, and about how loud."""
    (drums,) = (one for one in pretty_midi.PrettyMIDI(io.BytesIO(content)).instruments if one.name == "Drums")
    strokes = sorted((round(note.start, 3), note.pitch, note.velocity) for note in drums.notes)
    return [(second, key, about(velocity)) for second, key, velocity in strokes]


def about(velocity: int) -> Dynamic:
    if velocity > (84 + 118) / 2:
        return Dynamic.ACCENT
    return Dynamic.PLAIN if velocity > (36 + 84) / 2 else Dynamic.GHOST


def sounds_when_it_is_written(one: Exercise) -> None:
    """Each attack in the rendered samples, by what they gain with its slot, whatever rings at the time.

    Grace strokes, which come before their places, are left out here; LilyPond's MIDI holds them.
    """
    bare = replace(one.pattern.with_slots([ungraced(slot) for slot in one.pattern.slots]), pickup=None)
    one = replace(one, pattern=bare)
    slots = [index for index, slot in enumerate(bare.slots) if slot]
    first = dict(zip(slots, (second for second, _ in seconds_of(one, counted_in=False)), strict=True))
    before = samples(one, 0)
    for index in slots:
        after = samples(one, index + 1)
        late = attack(after, before, first[index]) - first[index]
        assert abs(late) < LATEST, f"slot {index} sounds {late * 1000:.1f} ms late"
        before = after


def ungraced(slot: Slot) -> Slot:
    graced = (Ornament.FLAM, Ornament.DRAG)
    return tuple(replace(one, ornament=None) if one.ornament in graced else one for one in slot)


RATE = 48_000


def samples(one: Exercise, slots: int) -> numpy.ndarray:
    """An exercise rendered with only so many of its slots."""
    import midirenderer

    kept = (*one.pattern.slots[:slots], *(SILENCE for _ in one.pattern.slots[slots:]))
    quiet = replace(one, pattern=one.pattern.with_slots(kept))
    bare = Performance(times=len(one.pattern.endings) or 1, click=False, count_in=False)
    sound, rate = soundfile.read(
        io.BytesIO(midirenderer.render_wave_from(sound_font(), midi_file(quiet, bare, ring=0.1))), dtype="float32"
    )
    assert rate == RATE
    return sound.mean(axis=1)


def attack(after: numpy.ndarray, before: numpy.ndarray, expected: float) -> float:
    """When what was added is first heard, in seconds: a hundredth as loud as it gets in 50 milliseconds."""
    length = min(len(after), len(before))
    start = max(0, round(expected * RATE) - RATE // 100)
    gained = numpy.abs(after[:length] - before[:length])[start : start + RATE * 6 // 100]
    return (start + int(numpy.argmax(gained > gained.max() / 100))) / RATE


def opened(content: bytes) -> mido.MidiFile:
    return mido.MidiFile(file=io.BytesIO(content))


def score_of(one: Exercise) -> str:
    return musicxml(Score(one.title, (one,), "Lantern Yard Studio", one.number))


CHECKS = (
    Check(
        "every key is the drum written", "General MIDI 1 key map, by pretty_midi", each(strikes_general_midi_drums)
    ),
    Check("it lasts as long as it says", "mido", each(lasts_as_long_as_it_says)),
    Check("every stroke has its time", "pretty_midi", each(is_struck_when_it_is_written)),
    Check("the engraved score plays the same", "LilyPond's MIDI", lilypond_plays_otherwise),
    Check("its score is valid", "W3C MusicXML 4.0 schema", each(is_valid)),
    Check("its score is read back", "music21", each(is_read_by_music21)),
    Check("a score taken back is the same", "MusicXML and take", each(comes_back_from_a_score)),
    Check("MIDI taken back sounds the same", "MIDI and take", each(comes_back_from_midi)),
    Check("every attack is within 5 ms", "midirenderer's samples", each(sounds_when_it_is_written), slow=True),
)


def book_called(name: str) -> Book:
    return pipeline.check(BOOKS / name).sound_book()


def main(names: Sequence[str]) -> int:
    """Run every check over whole books; the exit status is the number of checks that something failed."""
    exercises = {name: book_called(name).exercises for name in names or DEMO_BOOKS}
    counts = {name: len(found) for name, found in exercises.items()}
    print(", ".join(f"{name} {count}" for name, count in counts.items()), f"= {sum(counts.values())} exercises")
    failed: Counter[str] = Counter()
    for check in CHECKS:
        began = time.monotonic()
        wrong = [(name, why) for name, found in exercises.items() for why in check.fails(found)]
        failed[check.what] = len(wrong)
        told = (
            f"{sum(counts.values()) - len(wrong):4} passed {len(wrong):3} failed {time.monotonic() - began:6.1f} s"
        )
        print(f"{check.what:36} {check.against:40} {told}", flush=True)
        for name, why in wrong:
            print(f"    {name}/{why}")
    return sum(1 for count in failed.values() if count)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
