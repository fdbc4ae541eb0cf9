"""How to read these pages: what is said there of counts, and of the log and the imprint that go with it."""

import pytest

from typeset.page.front import imprint
from typeset.page.leaf import Section
from typeset.page.marks import Music, Words
from typeset.page.practice_log import practice_log
from typeset.page.reading import how_to_read

from .made import a_book, a_chapter, a_setting, an_exercise


def said_in(section: Section) -> list[str]:
    return [mark.words for piece in section.pieces for mark in piece.marks if isinstance(mark, Words)]


def test_a_sample_counts_a_whole_bar() -> None:
    book = a_book(a_chapter(1, [an_exercise("1.1", meter="7/8", grid=["8ths"])]))
    said = said_in(how_to_read(book, a_setting(book)))
    end = said.index("eighths in 7/8")
    assert said[end - 7 : end] == list("1234567")


def test_a_goal_in_the_log_has_its_note() -> None:
    book = a_book(a_chapter(1, [an_exercise("1.1"), an_exercise("1.2", tempo=None)]))
    section = practice_log(book, a_setting(book))
    assert sum(isinstance(mark, Music) for piece in section.pieces for mark in piece.marks) == 1
    assert said_in(section).count("100") == 1


@pytest.mark.parametrize(("date", "printed"), [("2026-09-01", "2026"), ("autumn 2026", "autumn 2026")])
def test_the_imprint_has_a_year_for_a_computer_s_date(date: str, printed: str) -> None:
    book = a_book(a_chapter(1, [an_exercise("1.1")]), date=date)
    assert f"First edition, {printed}" in said_in(imprint(book, a_setting(book)))
