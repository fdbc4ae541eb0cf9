"""General MIDI's keys, held to pretty_midi's names; and which sound of ours each is."""

from __future__ import annotations

import pretty_midi
import pytest

from typeset.pattern.sound import SOUNDS
from typeset.taking.keys import FIRST_KEY, NAMES, doubts_on, key_name, sounds_of


def letters(name: str) -> str:
    return "".join(letter for letter in name.lower() if letter.isalnum())


@pytest.mark.parametrize("key", range(FIRST_KEY, FIRST_KEY + len(NAMES)))
def test_keys_are_called_what_general_midi_calls_them(key: int) -> None:
    assert letters(NAMES[key - FIRST_KEY]) == letters(pretty_midi.note_number_to_drum_name(key))


def test_the_names_reach_as_far_as_general_midi_does() -> None:
    assert FIRST_KEY + len(NAMES) - 1 == 81


def test_every_sound_is_found_again_by_its_key() -> None:
    found = sounds_of({sound.midi for sound in SOUNDS.values()})
    assert {sound.name for sound in found.values()} == set(SOUNDS)


@pytest.mark.parametrize(
    ("key", "name"),
    [(35, "kick"), (41, "floor-tom"), (45, "mid-tom"), (48, "high-tom"), (57, "crash"), (59, "ride")],
)
def test_a_second_drum_of_a_kind_is_played_as_the_first(key: int, name: str) -> None:
    assert sounds_of({key}) == {key: SOUNDS[name]}


@pytest.mark.parametrize("keys", [(50, 48), (50, 48, 45), (47, 45, 43), (48, 47, 41)])
def test_three_toms_or_fewer_stay_different_from_the_highest_down(keys: tuple[int, ...]) -> None:
    names = [sounds_of(set(keys))[key].name for key in keys]
    assert names == ["high-tom", "mid-tom", "floor-tom"][: len(keys)]


def test_an_electric_snare_is_the_snare_where_there_is_no_other_and_either_is_doubtful() -> None:
    assert sounds_of({40})[40].name == "snare"
    assert sounds_of({38, 40})[40].name == "rim-shot"
    assert list(doubts_on({40})) == ["the electric snare (key 40) could also be the rim-shot"]


def test_four_toms_are_doubtful() -> None:
    assert list(doubts_on({50, 48, 45, 41})) == ["4 toms are played here on 3; some could also be others"]


def test_a_key_that_nothing_stands_for_keeps_its_name() -> None:
    assert sounds_of({39}) == {}
    assert key_name(39) == "hand clap (key 39)"
    assert key_name(99) == "key 99"
