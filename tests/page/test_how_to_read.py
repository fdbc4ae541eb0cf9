"""What the how-to-read page explains: what the book uses, and only that."""

from __future__ import annotations

from dataclasses import replace

from typeset.compose.book import Book, Sign
from typeset.compose.signs import signs_of
from typeset.page.marks import Music, Words
from typeset.page.reading import how_to_read
from typeset.pattern.meter import Meter
from typeset.wording import wording

from .made import a_book, a_chapter, a_setting, a_style, an_exercise

TRIPLETS = an_exercise("1.1", grid=("triplets",))
SIGNS = "pages.how-to-read.signs."


def explained(book: Book, **style: object) -> str:
    setting = a_setting(book, a_style(**style))
    marks = [mark for piece in how_to_read(book, setting).pieces for mark in piece.marks]
    return " ".join(mark.words for mark in marks if isinstance(mark, Words))


def a_book_with(*signs: Sign) -> Book:
    return replace(a_book(a_chapter(1, [an_exercise("1.1")])), signs=signs)


def phrase(key: str) -> str:
    return wording("en")[key]


def test_a_sign_that_the_book_uses_is_explained_and_shown() -> None:
    (tuplet,) = signs_of([TRIPLETS], 1.55)
    book = a_book_with(tuplet)
    assert phrase(f"{SIGNS}tuplet") in explained(book)
    pieces = how_to_read(book, a_setting(book)).pieces
    assert tuplet.system in [mark.engraving for piece in pieces for mark in piece.marks if isinstance(mark, Music)]


def test_a_sign_that_it_does_not_use_is_not() -> None:
    assert phrase(f"{SIGNS}tuplet") not in explained(a_book_with())


def test_repeated_bars_are_explained_where_the_style_prints_their_sign() -> None:
    exercise = an_exercise("1.1")
    same = replace(exercise, systems=(replace(exercise.systems[0], same=(1,)),))
    book = a_book_with(*signs_of([same], 1.55))
    said = phrase(f"{SIGNS}same-bar")
    assert said not in explained(book)
    assert said in explained(book, staff={"repeated_bars": True})


def test_a_meter_told_as_a_sum_is_explained_with_the_book_s_own() -> None:
    exercise = an_exercise("1.1", meter="7/8", grid=("8ths",))
    bar = replace(exercise.pattern.bars[0], meter=Meter.parse("7/8 (3+2+2)"))
    book = a_book(a_chapter(1, [replace(exercise, pattern=replace(exercise.pattern, bars=(bar,)))]))
    assert "3+2+2" in explained(book)


def test_a_number_of_times_is_explained_where_one_is_printed() -> None:
    times = a_book(a_chapter(1, [an_exercise("1.1", times=4)]))
    assert "play 4 times" in explained(times)
    assert "A number of times" not in explained(a_book_with())


def test_the_circle_of_an_open_hi_hat_is_explained_where_one_is_printed() -> None:
    assert phrase(f"{SIGNS}open") not in explained(a_book_with())
