"""Editions of one book: what differs in them, and what does not."""

from __future__ import annotations

from pathlib import Path

import pytest

from typeset.compose import compose
from typeset.compose.book import Book
from typeset.manuscript import read
from typeset.manuscript.figures import standard_figures
from typeset.pattern.mirror import mirrored
from typeset.style.music import Spacing

BOOK = """\
title: Small Rooms
isbn: 978-0-00-000000-2
chapters: [one.yaml]
editions:
  left-handed: {mirror: yes}
  with-its-own: {mirror: yes, isbn: 978-0-00-000001-9}
  large: {style: a4-large}
"""
CHAPTER = """\
chapter: One
exercises:
  - {id: a, start: R L R K, steps: [voice: {R: hi-hat}]}
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "book.yaml").write_text(BOOK)
    (tmp_path / "one.yaml").write_text(CHAPTER)
    return tmp_path


def edition(folder: Path, name: str | None) -> Book:
    manuscript = read(folder).manuscript
    assert manuscript is not None
    return compose(manuscript, Spacing(), standard_figures(), manuscript.editions[name] if name else None).book


def test_the_book_s_isbn_is_for_the_book_as_it_is(folder: Path) -> None:
    isbns = [edition(folder, name).isbn for name in (None, "left-handed", "large", "with-its-own")]
    assert isbns == ["978-0-00-000000-2", None, None, "978-0-00-000001-9"]


def test_a_left_handed_copy_has_its_kit_turned_over(folder: Path) -> None:
    right, left = (edition(folder, name).kit for name in (None, "left-handed"))
    assert left.targets["hi-hat"].x == -right.targets["hi-hat"].x
    assert left.mirrored() == right


def test_mirrored_twice_it_is_the_same_book(folder: Path) -> None:
    right, left = edition(folder, None), edition(folder, "left-handed")
    assert [mirrored(one.pattern) for one in left.exercises] == [one.pattern for one in right.exercises]
    assert [mirrored(one.order) for one in left.exercises] == [one.order for one in right.exercises]
    assert left.exercises != right.exercises


def test_an_exercise_knows_the_steps_that_made_it(folder: Path) -> None:
    assert [one.made_by for one in edition(folder, None).exercises] == [("voice",)]
