"""The page on the format names every key that the models read."""

from pathlib import Path

import pytest

from typeset.manuscript.exercise import ExerciseText, Settings
from typeset.manuscript.models import BookText, ChapterHead
from typeset.manuscript.series import Each, SeriesText
from typeset.manuscript.tasks import TaskText
from typeset.pattern.sound import SOUNDS

PAGE = (Path(__file__).parents[1] / "docs" / "format.md").read_text(encoding="utf-8")


@pytest.mark.parametrize("model", [BookText, ChapterHead, Settings, ExerciseText, SeriesText, Each, TaskText])
def test_every_key_is_named(model: type[BookText]) -> None:
    keys = model.keys()
    missing = [key for key in keys if f"`{key}" not in PAGE and f"{key}:" not in PAGE]
    assert not missing


def test_every_sound_is_named() -> None:
    assert all(sound in PAGE for sound in SOUNDS)
