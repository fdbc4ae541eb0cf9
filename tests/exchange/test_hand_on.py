"""Every form by its name."""

from __future__ import annotations

import json

import pytest

from tests.published.demo import DEMO
from typeset.exchange.hand_on import FORMS, hand_on

OPENINGS = {
    "text": b"1.1 ", "json": b'{\n "id"', "midi": b"MThd", "wav": b"RIFF", "opus": b"OggS",
    "musicxml": b"<?xml", "mxl": b"PK",
}  # fmt: skip


@pytest.mark.parametrize("form", FORMS)
def test_each_form_begins_as_such_files_do(form: str) -> None:
    assert hand_on(DEMO, DEMO.exercises[0], form).startswith(OPENINGS[form])


def test_a_chapter_is_a_score_of_its_exercises() -> None:
    chapter = DEMO.chapters[1]
    text = hand_on(DEMO, chapter, "musicxml").decode()
    assert f"<movement-title>{chapter.title}</movement-title>" in text
    assert text.count("<rehearsal") == len(chapter.exercises)


def test_in_the_whole_book_each_chapter_begins_a_page() -> None:
    text = hand_on(DEMO, DEMO, "musicxml").decode()
    assert text.count("<rehearsal") == len(DEMO.exercises)
    asked = sum(one.new_page for one in DEMO.exercises)
    assert text.count('new-page="yes"') == len(DEMO.chapters) - 1 + asked


def test_every_exercise_has_its_text_and_its_json() -> None:
    for one in DEMO.exercises:
        read = hand_on(DEMO, one, "text").decode().splitlines()
        bars = [line for line in read if line.startswith("Bar ") and "what differs" not in line]
        assert len(bars) == len(one.pattern.bars)
        assert len(json.loads(hand_on(DEMO, one, "json"))["bars"]) == len(one.pattern.bars)
