"""What is read aloud in place of an engraving."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from tests.page.made import bars_of, system_of
from typeset.compose.engraving import Hairpin, NoteSpecimen, SoundSpecimen, StrokeSpecimen, Volta
from typeset.exchange.spoken import spoken
from typeset.pattern.sound import SOUNDS
from typeset.wording.lettering import Lettering

SYSTEM = system_of(bars_of("R L . K", grid=("8ths",), bars=2))
"""Two bars of eighths, the meter before the first."""


def test_a_system_is_read_beat_by_beat_its_meter_where_it_is_printed() -> None:
    first, second = spoken("en", SYSTEM).splitlines()
    assert first.startswith("4/4: beat 1: right hand, snare; &: left hand, snare. beat 2: silence; &: kick foot, ")
    assert second.startswith("beat 1: right hand, snare; &: left hand, snare. beat 2: ")


def test_a_system_is_read_in_the_language_of_its_book_and_with_the_syllables_of_its_style() -> None:
    _, second = spoken("fr", SYSTEM, lettering=Lettering(syllables=("i", "et", "a", "ri", "ole"))).splitlines()
    assert second.startswith(
        "temps 1\u00a0: main droite, caisse claire\u00a0; et\u00a0: main gauche, caisse claire. temps 2"
    )


def test_where_the_sticking_is_to_be_written_no_limb_is_told() -> None:
    said = spoken("en", SYSTEM, "sticking")
    assert "hand" not in said and "foot" not in said
    assert said.startswith("4/4: beat 1: snare; &: snare. beat 2: silence; &: bass drum")


def test_where_the_counts_are_to_be_written_none_is_told() -> None:
    said = spoken("en", SYSTEM, "counting")
    assert "beat" not in said and "&" not in said
    assert said.startswith("4/4: right hand, snare; left hand, snare. silence; kick foot, bass drum")


def test_where_the_notes_are_to_be_written_only_the_limbs_are_told() -> None:
    said = spoken("en", replace(SYSTEM, blank=True))
    assert "snare" not in said and "drum" not in said
    assert said.startswith("4/4: beat 1: right hand; &: left hand. beat 2: silence; &: kick foot")


def test_a_pickup_is_read_first() -> None:
    said = spoken("en", replace(SYSTEM, pickup=SYSTEM.bars[0]))
    assert said.splitlines()[0].startswith("Pickup: beat 1: right hand, snare")


def test_endings_and_swells_are_read_where_they_begin_and_end() -> None:
    hairpin = Hairpin(Fraction(0), Fraction(9, 8), Fraction(0), Fraction(1))
    shown = replace(SYSTEM, voltas=(Volta(1, 1, "1.", True),), hairpins=(hairpin,))
    first, second = spoken("en", shown).splitlines()
    assert first.startswith("4/4: beat 1: right hand, snare, louder from here; &: left hand, snare. ")
    assert second.startswith("Ending 1. beat 1: right hand, snare; &: left hand, snare, to here. ")


@pytest.mark.parametrize(
    ("specimen", "said"),
    [
        (SoundSpecimen(SOUNDS["crash"]), "crash"),
        (StrokeSpecimen("plain"), "a plain stroke"),
        (NoteSpecimen(Fraction(3, 8)), "dotted quarter note"),
    ],
)
def test_a_specimen_is_read_as_what_it_shows(specimen: SoundSpecimen, said: str) -> None:
    assert spoken("en", specimen) == said
