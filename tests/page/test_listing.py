"""What the index lists, and how it says where that is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from typeset.compose.book import Book, Exercise
from typeset.page.listing import by_sound, by_step, by_title, numbers_alone, numbers_or_throughout, with_pages
from typeset.pattern.steps import STEPS
from typeset.wording import wording

from .made import a_book, a_chapter, a_setting, an_exercise


def a_book_of(*sizes: int) -> Book:
    """A book with chapters of so many exercises, all of hands alone."""
    return a_book(
        *(
            a_chapter(chapter, [an_exercise(f"{chapter}.{number}", "R L") for number in range(1, size + 1)])
            for chapter, size in enumerate(sizes, start=1)
        )
    )


def some(book: Book, *numbers: str) -> list[Exercise]:
    return [one for one in book.exercises if one.number in numbers]


def said(book: Book, *numbers: str) -> str:
    return "".join(span.words for span in numbers_alone(some(book, *numbers), book))


def test_three_in_a_row_are_named_by_the_first_and_the_last() -> None:
    assert said(a_book_of(6), "1.1", "1.2", "1.3", "1.5") == "1.1–1.3, 1.5"


def test_two_in_a_row_are_named_both() -> None:
    assert said(a_book_of(6), "1.1", "1.2") == "1.1, 1.2"


def test_a_range_ends_where_its_chapter_ends() -> None:
    assert said(a_book_of(3, 3), "1.1", "1.2", "1.3", "2.1", "2.2", "2.3") == "1.1–1.3, 2.1–2.3"


def test_both_ends_of_a_range_lead_somewhere() -> None:
    book = a_book_of(3)
    assert [span.address for span in numbers_alone(book.exercises, book)] == ["no-1.1", "no-1.3"]


def test_what_every_exercise_has_is_throughout() -> None:
    book = a_book_of(4, 4)
    (span,) = numbers_or_throughout(book.exercises, book, a_setting(book))
    assert span.words == "throughout"


def test_where_few_are_missing_those_are_named() -> None:
    book = a_book_of(9)
    found = numbers_or_throughout([one for one in book.exercises if one.number != "1.4"], book, a_setting(book))
    assert "".join(span.words for span in found) == "throughout, but not in 1.4"


def test_what_half_of_the_exercises_have_is_not_throughout() -> None:
    book = a_book_of(4)
    found = numbers_or_throughout(some(book, "1.1", "1.3"), book, a_setting(book))
    assert "".join(span.words for span in found) == "1.1, 1.3"


def test_a_range_has_the_page_on_which_it_begins() -> None:
    book = a_book_of(4)
    spans = with_pages(book.exercises, {"no-1.1": 7, "no-1.4": 8}, book, a_setting(book))
    assert "".join(span.words for span in spans).replace("\u00a0", " ") == "1.1–1.4 p. 7"


def test_sounds_are_listed_in_the_order_of_the_alphabet() -> None:
    book = a_book(a_chapter(1, [an_exercise("1.1", "R K H"), an_exercise("1.2", "R L")]))
    listed = [(words, [one.number for one in exercises]) for words, exercises in by_sound(book, a_setting(book))]
    assert listed == [("bass drum", ["1.1"]), ("hi-hat, with the foot", ["1.1"]), ("snare", ["1.1", "1.2"])]


def test_an_exercise_is_listed_once_under_each_of_its_steps() -> None:
    book = a_book(a_chapter(1, [replace(an_exercise("1.1"), made_by=("accent", "rotate", "accent"))]))
    assert [words for words, _ in by_step(book, a_setting(book))] == ["accents", "begun at another stroke"]


def test_letters_with_accents_are_filed_with_those_without() -> None:
    titles = ("Zebra", "Öfen", "Orgel")
    book = a_book(a_chapter(1, [an_exercise(f"1.{place}", title=title) for place, title in enumerate(titles)]))
    assert [words for words, _ in by_title(book, a_setting(book))] == ["Öfen", "Orgel", "Zebra"]


@pytest.mark.parametrize("language", ["en", "de", "es", "fr", "pt"])
def test_every_step_can_be_looked_up(language: str) -> None:
    assert all(f"pages.index.steps.{key}" in wording(language) for key in STEPS)
