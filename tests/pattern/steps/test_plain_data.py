from __future__ import annotations

import json
from pathlib import Path

import pytest

from typeset.manuscript import read
from typeset.manuscript.exercise import ExerciseText
from typeset.pattern.steps import STEPS, Step
from typeset.pattern.steps.plain_data import as_data

BOOKS = Path(__file__).parents[3] / "books"


def steps_in(file: Path) -> list[Step]:
    """The steps that a chapter's or a book's exercises take."""
    manuscript = read(file).manuscript
    assert manuscript is not None
    exercises = (item for chapter in manuscript.chapters for item in chapter.items)
    return [line.step for item in exercises if isinstance(item, ExerciseText) for line in item.steps]


def read_back(steps: list[Step], tmp_path: Path) -> list[Step]:
    """Steps written as JSON, which is YAML too, and read again."""
    entries = json.dumps([as_data(step) for step in steps])
    file = tmp_path / "chapter.yaml"
    file.write_text(f"chapter: C\nexercises:\n  - id: one\n    start: R L\n    steps: {entries}\n")
    return steps_in(file)


@pytest.mark.parametrize("key", STEPS)
def test_a_step_s_json_gives_the_same_step(key: str, tmp_path: Path) -> None:
    file = tmp_path / "example.yaml"
    value = STEPS[key].example.value
    file.write_text(f"chapter: C\nexercises:\n  - id: one\n    start: R L\n    steps: [{{{key}: {value}}}]\n")
    steps = steps_in(file)
    assert read_back(steps, tmp_path) == steps


def test_every_step_of_the_demo_book_comes_back(tmp_path: Path) -> None:
    steps = steps_in(BOOKS / "quiet-doors")
    assert len(steps) > 100
    assert read_back(steps, tmp_path) == steps
