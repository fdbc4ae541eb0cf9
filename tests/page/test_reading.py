"""How to read these pages: what is said there of counts, and of the log and the imprint that go with it."""

from fractions import Fraction

import pytest

from typeset.compose.engraving import NoteSpecimen, StrokeSpecimen
from typeset.page.front import imprint
from typeset.page.leaf import Section
from typeset.page.marks import Music, Words
from typeset.page.practice_log import practice_log
from typeset.page.reading import how_to_read

from .made import a_book, a_chapter, a_setting, a_style, an_exercise


def said_in(section: Section) -> list[str]:
    return [mark.words for piece in section.pieces for mark in piece.marks if isinstance(mark, Words)]


def test_a_sample_counts_a_whole_bar() -> None:
    book = a_book(a_chapter(1, [an_exercise("1.1", meter="7/8", grid=["8ths"])]))
    said = said_in(how_to_read(book, a_setting(book)))
    end = said.index("eighths in 7/8")
    assert said[end - 7 : end] == list("1234567")


@pytest.mark.parametrize(
    ("grid", "count", "lines"), [("16ths", 8.5, 1), ("16ths", 18, 2), ("triplets", 8.5, 2), ("triplets", 18, 4)]
)
def test_a_sample_takes_the_lines_that_its_letters_need_and_keeps_their_size(
    grid: str, count: float, lines: int
) -> None:
    book = a_book(a_chapter(1, [an_exercise("1.1", grid=[grid])]))
    pieces = how_to_read(book, a_setting(book, a_style(type={"count": count}))).pieces
    (sample,) = (
        piece for piece in pieces if any(getattr(mark, "words", "").endswith(" in 4/4") for mark in piece.marks)
    )
    letters = [mark for mark in sample.marks if isinstance(mark, Words) and not mark.words.endswith(" in 4/4")]
    assert {mark.size for mark in letters} == {count}
    assert len({mark.y for mark in letters}) == lines


def test_a_goal_in_the_log_has_its_note() -> None:
    book = a_book(a_chapter(1, [an_exercise("1.1"), an_exercise("1.2", tempo=None)]))
    section = practice_log(book, a_setting(book))
    assert sum(isinstance(mark, Music) for piece in section.pieces for mark in piece.marks) == 1
    assert said_in(section).count("100") == 1


@pytest.mark.parametrize(("date", "printed"), [("2026-09-01", "2026"), ("autumn 2026", "autumn 2026")])
def test_the_imprint_has_a_year_for_a_computer_s_date(date: str, printed: str) -> None:
    book = a_book(a_chapter(1, [an_exercise("1.1")]), date=date)
    assert f"First edition, {printed}" in said_in(imprint(book, a_setting(book)))


def test_the_imprint_has_the_isbn_where_there_is_one() -> None:
    book = a_book(isbn="978-0-00-000000-2")
    assert "ISBN 978-0-00-000000-2" in said_in(imprint(book, a_setting(book)))
    assert "ISBN" not in said_in(imprint(a_book(), a_setting(book)))


def test_small_letters_are_explained_where_the_book_has_grace_notes() -> None:
    chapter = a_chapter(1, [an_exercise("1.1")])
    for kind, is_there in (("flam", True), ("drag", True), ("buzz", False)):
        book = a_book(chapter, specimens=(StrokeSpecimen(kind), NoteSpecimen(Fraction(1, 4))))
        said = " ".join(said_in(how_to_read(book, a_setting(book))))
        assert ("A small letter is a grace note’s" in said) is is_there
