"""MusicXML as other programs write it: voices, places, repeats, endings, pickups, and what it cannot say here."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from tests.taking.made import note, played, rest, score, sticking, taken
from typeset.compose.book import Exercise
from typeset.pattern.limb import Limb
from typeset.pattern.stroke import Dynamic, Ornament
from typeset.problem import BookError
from typeset.taking import take

FOUR = note("s", 4) * 4
FORWARD = '<barline location="left"><repeat direction="forward"/></barline>'


def backward(times: str = "") -> str:
    return f'<barline location="right"><repeat direction="backward"{times}/></barline>'


def ending(numbers: str, kind: str, repeat: str = "") -> str:
    side = "left" if kind == "start" else "right"
    return f'<barline location="{side}"><ending number="{numbers}" type="{kind}"/>{repeat}</barline>'


def only(folder: Path, *measures: str, **keys: object) -> Exercise:
    (exercise,) = taken(score(*measures, **keys), folder, "made.musicxml").exercises  # type: ignore[arg-type]
    return exercise


def left_out(folder: Path, *measures: str, **keys: object) -> list[str]:
    file = folder / "made.musicxml"
    file.write_bytes(score(*measures, **keys))  # type: ignore[arg-type]
    return [problem.what for problem in take(file).left_out]


def test_notes_without_instruments_are_read_by_their_places_and_heads(tmp_path: Path) -> None:
    bar = note("k", 4) + note("f", 4) + note("h", 4) + note("r", 4)
    exercise = only(tmp_path, bar, note("s", 4) + note("1", 4) + note("2", 4) + note("3", 4))
    sounds = [stroke.sound.name for stroke in exercise.pattern.strokes]
    assert sounds == ["kick", "hi-hat-foot", "hi-hat", "ride", "snare", "high-tom", "mid-tom", "floor-tom"]


def test_two_voices_are_one_line(tmp_path: Path) -> None:
    back = "<backup><duration>16</duration></backup>"
    exercise = only(tmp_path, note("h", 4) * 4 + back + note("k", 4) + rest(4) + note("k", 4) + rest(4))
    assert played(exercise.pattern) == ["R(hi-hat)+K R(hi-hat) R(hi-hat)+K R(hi-hat)"]


def test_a_chord_sounds_together(tmp_path: Path) -> None:
    exercise = only(tmp_path, note("h", 8) + note("s", chord=True) + note("h", 8))
    assert played(exercise.pattern)[0].startswith("R(hi-hat)+L")


@pytest.mark.parametrize(
    ("name", "sound"),
    [("Open Hi-Hat", "open-hi-hat"), ("Hi Hat (pedal)", "hi-hat"), ("Pedal Hi-hat", "hi-hat-foot"),
     ("Bass Drum", "kick"), ("Floor Tom 1", "floor-tom"), ("Rimshot", "rim-shot"), ("Ride Bell", "ride-bell")],
)  # fmt: skip
def test_an_instrument_is_known_by_its_name(name: str, sound: str, tmp_path: Path) -> None:
    part = (
        f'<score-instrument id="I1"><instrument-name>{name}</instrument-name></score-instrument>'
        '<score-instrument id="I2"><instrument-name>Snare</instrument-name></score-instrument>'
    )
    one = note("s", 4, '<instrument id="I1"/>')
    exercise = only(tmp_path, one * 4, part=part)
    assert {stroke.sound.name for stroke in exercise.pattern.strokes} == {sound}


def test_an_instruments_midi_key_counts_from_one(tmp_path: Path) -> None:
    part = (
        '<score-instrument id="I1"><instrument-name>?</instrument-name></score-instrument>'
        '<score-instrument id="I2"><instrument-name>?</instrument-name></score-instrument>'
        '<midi-instrument id="I1"><midi-unpitched>50</midi-unpitched></midi-instrument>'
        '<midi-instrument id="I2"><midi-unpitched>40</midi-unpitched></midi-instrument>'
    )
    bar = note("s", 8, '<instrument id="I1"/>') + note("s", 8, '<instrument id="I2"/>')
    file = tmp_path / "made.musicxml"
    file.write_bytes(score(bar, part=part))
    found = take(file)
    assert "crash" in found.text
    assert [problem.what for problem in found.left_out] == [
        "no sound of ours stands for hand clap (key 39); left out"
    ]


def test_stickings_are_fingerings_or_lyrics(tmp_path: Path) -> None:
    lyric = "<lyric><text>L</text></lyric>"
    exercise = only(tmp_path, note("s", 4, sticking("L")) * 2 + note("s", 4, lyric) + note("s", 4, sticking("R")))
    assert [stroke.limb for stroke in exercise.pattern.strokes] == [Limb.LEFT] * 3 + [Limb.RIGHT]


def test_words_that_are_sung_are_no_stickings(tmp_path: Path) -> None:
    lyric = "<lyric><text>La</text></lyric>"
    exercise = only(tmp_path, note("s", 4, lyric) * 4)
    assert [stroke.limb.value for stroke in exercise.pattern.strokes] == ["R", "L", "R", "L"]


def test_accents_and_parentheses_are_dynamics(tmp_path: Path) -> None:
    accent = "<notations><articulations><accent/></articulations></notations>"
    ghost = '<notehead parentheses="yes">normal</notehead>'
    exercise = only(tmp_path, note("s", 4, accent) + note("s", 4, ghost) + note("s", 8))
    dynamics = [stroke.dynamic for stroke in exercise.pattern.strokes]
    assert dynamics == [Dynamic.ACCENT, Dynamic.GHOST, Dynamic.PLAIN]


def test_grace_notes_are_flams_and_drags(tmp_path: Path) -> None:
    grace = note("s", grace=True)
    exercise = only(tmp_path, grace + note("s", 4) + grace * 2 + note("s", 4) + note("s", 8))
    ornaments = [stroke.ornament for stroke in exercise.pattern.strokes]
    assert ornaments == [Ornament.FLAM, Ornament.DRAG, None]


def test_more_grace_notes_than_a_drag_has_are_told(tmp_path: Path) -> None:
    assert left_out(tmp_path, note("s", grace=True) * 3 + FOUR) == [
        "3 grace notes are read as a drag, which has two"
    ]


def test_slashes_are_diddles_and_presses(tmp_path: Path) -> None:
    def slashes(number: int, kind: str) -> str:
        return f'<notations><ornaments><tremolo type="{kind}">{number}</tremolo></ornaments></notations>'

    bar = note("s", 4, slashes(1, "single")) + note("s", 4, slashes(0, "unmeasured")) + note("s", 8)
    ornaments = [stroke.ornament for stroke in only(tmp_path, bar).pattern.strokes]
    assert ornaments == [Ornament.DIDDLE, Ornament.BUZZ, None]


def test_a_tied_note_is_struck_once(tmp_path: Path) -> None:
    bar = note("s", 8, '<tie type="start"/>') + note("s", 4, '<tie type="stop"/>') + note("s", 4)
    assert len(list(only(tmp_path, bar).pattern.strokes)) == 2


def test_tuplets_say_their_grid(tmp_path: Path) -> None:
    def tuplet(actual: int, normal: int, value: str) -> str:
        numbers = f"<actual-notes>{actual}</actual-notes><normal-notes>{normal}</normal-notes>"
        return f"<type>{value}</type><time-modification>{numbers}</time-modification>"

    three, six = tuplet(3, 2, "eighth"), tuplet(6, 4, "eighth")
    bar = note("s", 2, three) * 3 + note("s", 6) + note("s", 2, six) * 3 + note("s", 6)
    exercise = only(tmp_path, bar, divisions=6)
    assert [len(beat.slots) for beat in exercise.pattern.bars[0].beats][::2] == [3, 6]


def test_a_repeat_round_everything_is_a_loop(tmp_path: Path) -> None:
    exercise = only(tmp_path, FORWARD + FOUR, note("k", 4) * 4 + backward(' times="4"'))
    assert (len(exercise.pattern.bars), exercise.plays_on, exercise.times) == (2, True, 4)


def test_a_repeat_of_a_part_is_written_out(tmp_path: Path) -> None:
    exercise = only(tmp_path, FOUR, FORWARD + note("k", 4) * 4 + backward(), note("h", 4) * 4)
    sounds = [bar.slots[0][0].sound.name for bar in exercise.pattern.bars]
    assert sounds == ["snare", "kick", "kick", "hi-hat"]
    assert not exercise.plays_on


def test_first_and_second_endings_stay(tmp_path: Path) -> None:
    exercise = taken(
        score(
            FORWARD + FOUR,
            ending("1", "start") + note("k", 4) * 4 + ending("1", "stop", '<repeat direction="backward"/>'),
            ending("2", "start") + note("h", 4) * 4 + ending("2", "discontinue"),
        ),
        tmp_path,
        "made.musicxml",
    ).exercises[-1]
    assert exercise.pattern.endings == (1, 1)
    assert [bar.slots[0][0].sound.name for bar in exercise.pattern.played] == ["snare", "kick", "snare", "hi-hat"]


def test_endings_in_the_middle_are_written_out(tmp_path: Path) -> None:
    exercise = only(
        tmp_path,
        FORWARD + FOUR,
        ending("1", "start") + note("k", 4) * 4 + ending("1", "stop", '<repeat direction="backward"/>'),
        ending("2", "start") + note("h", 4) * 4 + ending("2", "stop"),
        note("1", 4) * 4,
    )
    sounds = [bar.slots[0][0].sound.name for bar in exercise.pattern.bars]
    assert sounds == ["snare", "kick", "snare", "hi-hat", "high-tom"]


def test_bars_that_are_only_repeated_are_filled_in(tmp_path: Path) -> None:
    begin = (
        '<attributes><measure-style><measure-repeat type="start">1</measure-repeat></measure-style></attributes>'
    )
    end = '<attributes><measure-style><measure-repeat type="stop"/></measure-style></attributes>'
    exercise = only(tmp_path, FOUR, begin + rest(16), rest(16), end + note("k", 4) * 4)
    assert [bar.slots[0][0].sound.name for bar in exercise.pattern.bars] == ["snare"] * 3 + ["kick"]


def test_a_short_first_measure_is_a_pickup(tmp_path: Path) -> None:
    exercise = only(tmp_path, note("s", 1) * 2, FOUR)
    assert exercise.pattern.pickup is not None
    assert len(exercise.pattern.pickup.slots) == 2
    assert len(exercise.pattern.bars) == 1


def test_rehearsal_marks_part_a_score(tmp_path: Path) -> None:
    def mark(letter: str, words: str = "") -> str:
        title = f"<direction-type><words>{words}</words></direction-type>" if words else ""
        return f"<direction><direction-type><rehearsal>{letter}</rehearsal></direction-type>{title}</direction>"

    exercises = taken(
        score(mark("A") + FOUR, FOUR, mark("B", "Turning") + note("k", 4) * 4), tmp_path, "made.musicxml"
    ).exercises
    assert [(one.title, len(one.pattern.bars)) for one in exercises] == [("Made A", 2), ("Turning", 1)]


@pytest.mark.parametrize(
    ("mark", "meter", "tempo"),
    [
        ("<metronome><beat-unit>quarter</beat-unit><per-minute>96</per-minute></metronome>", "4/4", 96),
        (
            "<metronome><beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>60</per-minute></metronome>",
            "6/8",
            60,
        ),
        ("<metronome><beat-unit>eighth</beat-unit><per-minute>180</per-minute></metronome>", "6/8", 60),
        ("<metronome><beat-unit>half</beat-unit><per-minute>c. 50</per-minute></metronome>", "4/4", 100),
    ],
)
def test_a_tempo_is_turned_into_the_meters_unit(mark: str, meter: str, tempo: int, tmp_path: Path) -> None:
    said = f"<direction><direction-type>{mark}</direction-type></direction>"
    exercise = only(tmp_path, said + note("s", 2) * (8 if meter == "4/4" else 6), meter=meter)
    assert exercise.tempo is not None
    assert exercise.tempo.start == tempo


def test_a_meter_that_is_not_offered_is_told_with_its_line_and_its_measures_left_out(tmp_path: Path) -> None:
    change = "<attributes><time><beats>7</beats><beat-type>16</beat-type></time></attributes>"
    file = tmp_path / "made.musicxml"
    file.write_bytes(
        score(FOUR, change + note("s", 1) * 7).replace(b"<attributes><time>", b"\n\n<attributes><time>")
    )
    told = take(file).left_out
    assert [problem.what for problem in told] == [
        "7/16 is not offered",
        "a measure in a meter that is not offered is left out",
    ]
    assert told[0].mark.line == 4


def test_what_is_not_followed_is_listed(tmp_path: Path) -> None:
    quiet = "<direction><direction-type><dynamics><p/></dynamics></direction-type></direction>"
    jump = '<direction><direction-type><words>D.C.</words></direction-type><sound dacapo="yes"/></direction>'
    assert left_out(tmp_path, quiet + FOUR + jump) == [
        "dynamics under the staff cannot be said; left out",
        "jumps (da capo, dal segno, coda) are not followed; write them out",
    ]


def wedge(kind: str) -> str:
    return f'<direction><direction-type><wedge type="{kind}"/></direction-type></direction>'


def test_hairpins_are_swells_from_stroke_to_stroke(tmp_path: Path) -> None:
    first = wedge("crescendo") + note("s", 4) * 3 + wedge("stop") + note("s", 4)
    second = wedge("diminuendo") + FOUR
    exercise = only(tmp_path, first, second, wedge("stop") + FOUR)
    swells = [(swell.start, swell.end, swell.louder) for swell in exercise.pattern.swells]
    assert swells == [(0, Fraction(2, 4), True), (1, Fraction(7, 4), False)]


def test_a_hairpin_that_begins_where_one_ends_shares_its_stroke(tmp_path: Path) -> None:
    turn = wedge("stop") + wedge("diminuendo")
    exercise = only(tmp_path, wedge("crescendo") + note("s", 4) * 2 + turn + note("s", 4) * 2 + wedge("stop"))
    swells = [(swell.start, swell.end, swell.louder) for swell in exercise.pattern.swells]
    assert swells == [(0, Fraction(1, 2), True), (Fraction(1, 2), Fraction(3, 4), False)]


def test_a_hairpin_over_one_stroke_is_none(tmp_path: Path) -> None:
    assert not only(tmp_path, wedge("crescendo") + note("s", 4) + wedge("stop") + note("s", 4) * 3).pattern.swells


def test_a_swell_over_a_change_of_meter_stays(tmp_path: Path) -> None:
    three = "<attributes><time><beats>3</beats><beat-type>4</beat-type></time></attributes>"
    exercises = taken(
        score(wedge("crescendo") + FOUR, three + note("s", 4) * 3 + wedge("stop")), tmp_path, "made.musicxml"
    ).exercises
    (swell,) = exercises[-1].pattern.swells
    assert (swell.start, swell.end) == (0, Fraction(6, 4))


def test_parts_that_are_no_drums_are_named(tmp_path: Path) -> None:
    whole = score(FOUR).replace(
        b"</part-list>",
        b'<score-part id="P2"><part-name>Bass</part-name></score-part></part-list>',
    ).replace(
        b"</score-partwise>",
        b'<part id="P2"><measure number="1"><note><pitch><step>C</step><octave>2</octave></pitch>'
        b"<duration>16</duration></note></measure></part></score-partwise>",
    )  # fmt: skip
    file = tmp_path / "made.musicxml"
    file.write_bytes(whole)
    assert [problem.what for problem in take(file).left_out] == ["the part 'Bass' is no drum part; left out"]


def test_a_score_by_measures_is_read_as_one_by_parts(tmp_path: Path) -> None:
    by_measures = (
        score(FOUR)
        .replace(b"score-partwise", b"score-timewise")
        .replace(b'<part id="P1"><measure number="1">', b'<measure number="1"><part id="P1">')
        .replace(b"</measure></part>", b"</part></measure>")
    )
    (exercise,) = taken(by_measures, tmp_path, "made.musicxml").exercises
    assert len(list(exercise.pattern.strokes)) == 4


@pytest.mark.parametrize(
    ("content", "what"),
    [
        (b"<html/>", "no MusicXML score: it begins with <html>"),
        (b"just words", "no sound XML"),
        (score(rest(16)), "no drum part"),
        (b"", "no sound XML"),
    ],
)
def test_what_is_no_score_is_refused(content: bytes, what: str, tmp_path: Path) -> None:
    file = tmp_path / "made.musicxml"
    file.write_bytes(content)
    with pytest.raises(BookError, match=what):
        take(file)


def test_numbers_beyond_all_measure_do_no_harm(tmp_path: Path) -> None:
    text = score(FOUR).replace(b"<divisions>4<", b"<divisions>1e999999999<")
    file = tmp_path / "made.musicxml"
    file.write_bytes(text.replace(b"<duration>4<", b"<duration>1e99999999<", 1))
    assert take(file).exercises == 1
