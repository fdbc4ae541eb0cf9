"""Exercises as JSON, in the shape that the format promises."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction

from tests.notation.made import bar, pickup
from tests.sound.made import exercise
from typeset.exchange.json import exercise_json, list_json
from typeset.pattern.swell import Swell

GROOVE = replace(
    exercise(bar("2/4", "16ths", "kh! . s? . sf . . ."), tempo="60-100"),
    id="stairs-groove", parent="stairs-plain", steps=("Accent the stroke on 1.",), ceiling=121,
)  # fmt: skip


def test_an_exercise_has_the_keys_that_were_promised() -> None:
    record = json.loads(exercise_json(GROOVE))
    bars = record.pop("bars")
    assert record == {
        "id": "stairs-groove", "number": "1.2", "title": "As a groove", "series": None, "from": "stairs-plain",
        "steps": ["Accent the stroke on 1."], "tempo": {"start": 60, "goal": 100}, "play": "loop", "level": 3,
        "ceiling": 121,
    }  # fmt: skip
    assert [(one["meter"], [beat["length"] for beat in one["beats"]]) for one in bars] == [("2/4", ["1/4", "1/4"])]


def test_a_slot_holds_its_strokes_and_is_empty_where_nothing_sounds() -> None:
    first, second = json.loads(exercise_json(GROOVE))["bars"][0]["beats"]
    assert first["slots"] == [
        [
            {"limb": "R", "sound": "hi-hat", "dynamic": "accent", "ornament": None},
            {"limb": "K", "sound": "kick", "dynamic": "plain", "ornament": None},
        ],
        [],
        [{"limb": "R", "sound": "snare", "dynamic": "ghost", "ornament": None}],
        [],
    ]
    assert second["slots"][0][0]["ornament"] == "flam"


def test_a_pickup_is_shaped_like_a_bar_and_is_there_only_where_one_is() -> None:
    opened = replace(GROOVE, pattern=replace(GROOVE.pattern, pickup=pickup("2/4", "16ths", "s s s s s")))
    record = json.loads(exercise_json(opened))
    assert record["pickup"]["meter"] == "2/4"
    assert [beat["length"] for beat in record["pickup"]["beats"]] == ["1/16", "1/4"]
    assert [len(beat["slots"]) for beat in record["pickup"]["beats"]] == [1, 4]
    assert "pickup" not in json.loads(exercise_json(GROOVE))


def test_endings_are_counted_in_bars_where_there_are_any() -> None:
    ended = exercise(*GROOVE.pattern.bars * 4, endings=(1, 2))
    assert json.loads(exercise_json(ended))["endings"] == [1, 2]
    assert "endings" not in json.loads(exercise_json(GROOVE))


def test_swells_go_from_place_to_place_where_there_are_any() -> None:
    swells = (Swell(Fraction(0), Fraction(1, 8)), Swell(Fraction(1, 8), Fraction(5, 16), louder=False))
    swelled = replace(GROOVE, pattern=replace(GROOVE.pattern, swells=swells))
    assert json.loads(exercise_json(swelled))["swells"] == [
        {"from": "1", "to": "1&", "way": "louder"}, {"from": "1&", "to": "2e", "way": "softer"},
    ]  # fmt: skip
    assert "swells" not in json.loads(exercise_json(GROOVE))


def test_a_list_says_what_there_is_without_the_music() -> None:
    assert json.loads(list_json([GROOVE])) == [
        {
            "id": "stairs-groove", "number": "1.2", "title": "As a groove", "series": None, "from": "stairs-plain",
            "level": 3, "ceiling": 121, "bars": 1,
        }
    ]  # fmt: skip
