"""What LilyPond is told: the marks on notes, barlines, meters and repeat signs."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest

from tests.engrave.shown import with_meters
from tests.notation.made import bar, system
from typeset.compose.engraving import Ending, Hairpin, System, Volta
from typeset.engrave.places import places_of
from typeset.engrave.printed import printed
from typeset.engrave.score import system_text
from typeset.style.music import Staff

SPLIT = Staff(stems="split")


def told(shown: System, staff: Staff | None = None) -> str:
    """LilyPond's text of a system, its white space evened out."""
    staff = staff or Staff()
    text = " ".join(system_text(shown, staff, places_of(shown, staff.height / 4)).split())
    return text.replace("< ", "<").replace(" >", ">")


def one(strokes: str, grid: str = "16ths") -> str:
    """The text of one bar of 2/4."""
    return told(system(bar("2/4", grid, strokes)))


def test_endings_have_brackets_that_begin_and_end_at_their_barlines() -> None:
    bars = (bar("2/4", "8ths", "s"),) * 3
    voltas = (Volta(1, 1, "1.2.", True), Volta(2, 1, "3.", False))
    text = told(replace(system(*bars, repeats=False), voltas=voltas))
    assert re.findall(r"repeatCommands = #`(\(.*?\)) (?:\\|<|\})", text) == [
        '(,(shed-volta "1.2."))', '((volta #f) ,(shed-volta "3."))', "((volta #f) )",
    ]  # fmt: skip
    assert re.findall(r"edge-height = #'\((.*?)\)", text) == ["2.0 . 2.0", "2.0 . 0"]
    assert text.count('\\bar ":|."') == 1


def test_two_voices_print_the_brackets_once() -> None:
    shown = replace(system(bar("2/4", "8ths", "sk"), repeats=False), voltas=(Volta(0, 1, "2.", False),))
    assert told(shown, SPLIT).count('shed-volta "2."') == 1


def test_hairpins_stand_in_a_voice_of_their_own_and_not_on_a_blank_staff() -> None:
    hairpin = Hairpin(Fraction(1, 8), Fraction(3, 8), Fraction(0), Fraction(1))
    shown = replace(system(bar("2/4", "8ths", "s")), hairpins=(hairpin,))
    assert re.search(r"s1 \* 1/8 .*shed-hairpin .* 0.0000 1.0000.* s1 \* 1/8 \\<", told(shown))
    assert "shed-hairpin" not in told(replace(shown, blank=True))


def test_strokes_that_sound_together_are_one_chord() -> None:
    assert "<bassdrum closedhihat>8" in one("hk . h .")


def test_a_chord_has_one_accent() -> None:
    assert one("h!k!s! . . . . . . .").count(r"\accent") == 1


def test_only_the_ghost_of_a_chord_is_in_parentheses() -> None:
    text = one("hs? . . . . . . .")
    assert re.search(r"\\tweak stencil #shed-ghost-head acousticsnare closedhihat>", text)


@pytest.mark.parametrize(
    ("strokes", "text"),
    [
        ("sf . . .", r"\slashedGrace { <acousticsnare>16 } <acousticsnare>4"),
        ("sg . . .", r"\grace { <acousticsnare>16 [ <acousticsnare>16 ] } <acousticsnare>4"),
        ("sd s s s", "<acousticsnare>16 :32 ["),
        ("sz . . .", r"\shedBuzz <acousticsnare>4 :8"),
    ],
)
def test_ornaments_are_written_as_players_do(strokes: str, text: str) -> None:
    assert text in one(strokes)


def test_a_grace_note_is_neither_accented_nor_a_ghost() -> None:
    assert one("s?f . . .").count("shed-ghost-head") == 2  # one for each beat, none for its grace note


def test_the_ending_and_the_opening_are_told() -> None:
    shown = system(bar("2/4", "8ths", "s"))
    assert r'\bar ".|:"' in told(shown)
    assert r'\bar ":|."' in told(shown)
    assert r'\bar "|."' in told(replace(shown, opens_repeat=False, ending=Ending.FINAL))
    assert r'\bar ".|:"' not in told(replace(shown, opens_repeat=False))


def test_a_meter_is_printed_only_where_it_is_asked_for() -> None:
    shown = system(bar("3/4", "8ths", "s"))
    assert r"\omit DrumStaff.TimeSignature \time 3/4" in told(replace(shown, meters_at=()))
    assert r"\omit" not in told(shown)


def test_a_stated_grouping_is_printed_and_the_common_one_is_not() -> None:
    assert "(shed-additive '(3 2 2) 8" in told(system(bar("7/8 (3+2+2)", "8ths", "s")))
    assert "shed-additive" not in told(system(bar("7/8", "8ths", "s")))


def test_a_change_of_meter_inside_a_system_is_told_once() -> None:
    shown = with_meters(system(bar("4/4", "8ths", "s"), bar("3/4", "8ths", "s"), bar("3/4", "8ths", "s")), 0, 1)
    assert re.findall(r"\\time (\S+)", told(shown)) == ["4/4", "3/4"]


def test_a_repeated_bar_is_a_sign_where_the_staff_asks_for_it() -> None:
    groove, fill = bar("4/4", "8ths", "hk h hs h"), bar("4/4", "8ths", "s")
    shown = system(groove, groove, fill, fill)
    assert told(shown).count("shedSameBar") == 0
    for stems in ("up", "split"):
        assert told(shown, Staff(stems=stems, repeated_bars=True)).count("shedSameBar") == 2


def test_with_split_stems_hands_and_feet_have_a_voice_each() -> None:
    text = told(system(bar("2/4", "8ths", "hk h")), SPLIT)
    up, down = text.split(r"\new DrumVoice")[1:]
    assert r"\shedUp" in up
    assert "bassdrum" not in up
    assert r"\shedDown" in down
    assert "hihat" not in down


def test_with_split_stems_the_other_voice_waits_for_a_grace_note_at_the_barline() -> None:
    text = told(system(bar("2/4", "8ths", "sfk s")), SPLIT)
    assert r"\grace { s1 * 1/16 }" in text


def test_numbers_of_tuplets_are_not_printed_twice() -> None:
    text = told(system(bar("2/4", "triplets", "hk h hk")), SPLIT)
    assert text.count(r"\shedNoNumber") == 2


def test_a_blank_staff_has_meter_and_barlines_but_neither_notes_nor_rests() -> None:
    shown = replace(system(bar("4/4", "8ths", "hk h s! ."), bar("4/4", "8ths", ".")), blank=True)
    text = told(printed(shown), Staff(repeated_bars=True))
    assert text.count("s1") == 2
    assert r"\time 4/4" in text
    assert not re.search(r"<|\bR1|\br\d|shedSameBar", text.partition("DrumVoice")[2])


def test_a_tuplet_under_one_beam_has_no_bracket_though_a_grace_note_comes_first() -> None:
    assert one("sf s s", "triplets").count(r"\shedNoBracket") == 2
    assert r"\shedNoBracket" not in one(". s s", "triplets")
