"""A list of exercises is found again where nothing of the book changed, and only there."""

from __future__ import annotations

import json
import os
import shutil
from pathlib import Path

import pytest

from typeset.building import listed
from typeset.kept import kept_in

CHAPTER = "chapter: One\nexercises:\n  - id: plain\n    title: Plain\n    start: R L R L\n"


def test_a_list_is_found_again_without_reading_the_book_and_made_anew_after_a_change(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SHEDBOOK_STORE", str(tmp_path / "store"))
    chapter = tmp_path / "one.yaml"
    chapter.write_text(CHAPTER)
    first = listed(chapter)
    assert [one["id"] for one in json.loads(first)] == ["plain"]
    with monkeypatch.context() as nothing_read:
        nothing_read.setattr("typeset.pipeline.check", None)
        assert listed(chapter) == first
    chapter.write_text(CHAPTER.replace("Plain", "Plainer"))
    assert json.loads(listed(chapter))[0]["title"] == "Plainer"
    shutil.rmtree(tmp_path / "store")
    assert json.loads(listed(chapter))[0]["title"] == "Plainer"


def test_lists_that_are_kept_make_room_for_others_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    store = tmp_path / "store"
    monkeypatch.setenv("SHEDBOOK_STORE", str(store))
    monkeypatch.setenv("SHEDBOOK_STORE_LIMIT", "0")
    chapter = tmp_path / "one.yaml"
    chapter.write_text(CHAPTER)
    listed(chapter)
    (former,) = kept_in(store)
    os.utime(former.path, (0, 0))
    chapter.write_text(CHAPTER.replace("Plain", "Plainer"))
    listed(chapter)
    assert former.path not in [one.path for one in kept_in(store)] and len(kept_in(store)) == 1
