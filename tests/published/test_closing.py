"""The closing checks on a slice of the demo books; `closing.py` runs them on every exercise."""

from __future__ import annotations

import pytest

from tests.published.closing import CHECKS, DEMO_BOOKS, Check, book_called

EVERY, FEWER = 29, 6
SLICE = [one for name in DEMO_BOOKS for one in book_called(name).exercises][::EVERY]


@pytest.mark.filterwarnings("ignore::music21.musicxml.xmlObjects.MusicXMLWarning")
@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.what)
def test_every_exercise_of_a_slice_passes(check: Check) -> None:
    assert list(check.fails(SLICE[::FEWER] if check.slow else SLICE)) == []
