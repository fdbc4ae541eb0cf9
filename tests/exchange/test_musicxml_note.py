"""Notes: chords, grace notes, tuplets, beams, heads and marks."""

from __future__ import annotations

from xml.etree.ElementTree import Element

import pytest

from tests.notation.made import bar
from typeset.exchange.musicxml_note import notes_of


def notes(meter: str, grid: str, strokes: str) -> list[Element]:
    return list(notes_of(bar(meter, grid, strokes), divisions=840))


def texts(elements: list[Element], path: str) -> list[str | None]:
    return [element.findtext(path) for element in elements]


def beams(elements: list[Element]) -> list[list[str | None]]:
    return [[beam.text for beam in element.findall("beam")] for element in elements]


def test_the_places_are_those_of_a_treble_clef() -> None:
    kick, snare, hat, foot = notes("4/4", "quarters", "k s h p")
    places = [
        (one.findtext(".//display-step"), one.findtext(".//display-octave")) for one in (kick, snare, hat, foot)
    ]
    assert places == [("F", "4"), ("C", "5"), ("G", "5"), ("D", "4")]


def test_strokes_together_are_a_chord_each_with_its_limb() -> None:
    low, high = notes("2/4", "quarters", "kh .")[:2]
    assert low.find("chord") is None
    assert high.find("chord") is not None
    assert texts([low, high], ".//fingering") == ["K", "R"]


def test_two_hands_on_one_drum_share_a_head() -> None:
    shared, _ = notes("2/4", "quarters", "s!s? .")
    assert [finger.text for finger in shared.iter("fingering")] == ["R", "L"]
    assert shared.find(".//accent") is not None
    assert shared.find("notehead") is None


def test_an_accent_belongs_to_its_own_stroke() -> None:
    kick, hat = notes("2/4", "quarters", "kh! .")[:2]
    assert kick.find(".//accent") is None
    assert hat.find(".//accent") is not None


def test_a_ghost_stroke_is_in_parentheses_and_softer() -> None:
    ghost, plain = notes("2/4", "quarters", "h? h")
    head = ghost.find("notehead")
    assert head is not None
    assert (head.text, head.get("parentheses")) == ("x", "yes")
    assert float(ghost.get("dynamics", "")) < float(plain.get("dynamics", "")) / 2


def test_an_open_hi_hat_has_its_circle() -> None:
    assert [note.find(".//technical/open") is not None for note in notes("2/4", "quarters", "o h")] == [True, False]


def test_a_flam_is_one_slashed_grace_note_by_the_other_hand() -> None:
    grace, main = notes("2/4", "quarters", "sf .")[:2]
    found = grace.find("grace")
    assert found is not None
    assert found.get("slash") == "yes"
    assert grace.find("duration") is None
    assert texts([grace, main], ".//fingering") == ["L", "R"]


def test_a_drag_is_two_beamed_ones() -> None:
    one, two, _ = notes("2/4", "quarters", "sg .")[:3]
    assert beams([one, two]) == [["begin", "begin"], ["end", "end"]]


@pytest.mark.parametrize(("mark", "kind", "strokes"), [("d", "single", "1"), ("z", "unmeasured", "0")])
def test_a_diddle_and_a_buzz_are_signs_on_the_stem(mark: str, kind: str, strokes: str) -> None:
    tremolo = notes("2/4", "16ths", f"s{mark} s s s")[0].find(".//tremolo")
    assert tremolo is not None
    assert (tremolo.get("type"), tremolo.text) == (kind, strokes)


def test_a_triplet_is_three_in_the_time_of_two_under_its_number() -> None:
    first, second, third = notes("2/4", "triplets", "s s s . . .")[:3]
    assert texts([first, second, third], "duration") == ["280"] * 3
    assert texts([first], "time-modification/actual-notes") == ["3"]
    assert texts([first], "time-modification/normal-notes") == ["2"]
    assert [one.find(".//tuplet") is not None for one in (first, second, third)] == [True, False, True]


def test_a_tuplet_has_a_bracket_only_where_no_beam_joins_it() -> None:
    beamed, broken = notes("2/4", "triplets", "s s s . . .")[0], notes("2/4", "triplets", "s . . . s .")
    starts = [note.find(".//tuplet[@type='start']") for note in (beamed, *broken)]
    assert [start.get("bracket") for start in starts if start is not None] == ["no", "yes"]


def test_a_beat_of_sixteenths_has_two_beams_throughout() -> None:
    assert beams(notes("2/4", "16ths", "s"))[:4] == [["begin"] * 2, ["continue"] * 2, ["continue"] * 2, ["end"] * 2]


def test_a_sixteenth_beside_a_dotted_eighth_has_a_hook() -> None:
    assert beams(notes("2/4", "16ths", "s . . s s s . ."))[:4] == [
        ["begin"],
        ["end", "backward hook"],
        ["begin", "forward hook"],
        ["end"],
    ]


def test_a_silent_bar_is_one_rest() -> None:
    (rest,) = notes("3/4", "16ths", ".")
    found = rest.find("rest")
    assert found is not None
    assert found.get("measure") == "yes"
    assert rest.findtext("duration") == str(3 * 840)


def test_a_dotted_value_has_its_dot() -> None:
    first = notes("2/4", "16ths", "s . . s s s s s")[0]
    assert (first.findtext("type"), len(first.findall("dot"))) == ("eighth", 1)
