"""The practice log."""

from __future__ import annotations

import pytest

from typeset.page.breaking import break_pages
from typeset.page.practice_log import practice_log

from .made import a_book, a_chapter, a_setting, an_exercise


def pages_of(exercises: int) -> list[int]:
    """How many pieces stand on each page of the log of so many exercises."""
    book = a_book(a_chapter(1, [an_exercise(f"1.{number}", "R L") for number in range(1, exercises + 1)]))
    setting = a_setting(book)
    return [len(page) for page in break_pages(practice_log(book, setting).pieces, setting.depth)]


def test_rows_come_nearer_together_where_that_saves_a_page(monkeypatch: pytest.MonkeyPatch) -> None:
    def most_on_a_page() -> int:
        return next(count for count in range(1, 60) if len(pages_of(count)) > 1)

    tight = most_on_a_page()
    monkeypatch.setattr("typeset.page.practice_log._ROW_HEIGHTS", (6.0, 6.0))
    assert tight > most_on_a_page()


def test_every_page_begins_with_the_table_s_head() -> None:
    book = a_book(a_chapter(1, [an_exercise(f"1.{number}", "R L") for number in range(1, 120)]))
    setting = a_setting(book)
    _, *others = break_pages(practice_log(book, setting).pieces, setting.depth)
    assert others and all(page[0].starts_page for page in others)
