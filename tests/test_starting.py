from pathlib import Path

import pytest

from typeset import pipeline
from typeset.starting import NotEmpty, start_book


def test_a_new_book_has_no_problem_at_all(tmp_path: Path) -> None:
    start_book(tmp_path / "mine")
    checked = pipeline.check(tmp_path / "mine")
    assert checked.problems == ()
    assert len(checked.sound_book().exercises) == 8


def test_an_empty_folder_will_do(tmp_path: Path) -> None:
    assert start_book(tmp_path)


def test_a_folder_with_something_in_it_is_refused_and_left_alone(tmp_path: Path) -> None:
    (tmp_path / "lesson.txt").write_text("mine")
    with pytest.raises(NotEmpty, match="name a new folder"):
        start_book(tmp_path)
    assert [file.name for file in tmp_path.iterdir()] == ["lesson.txt"]
