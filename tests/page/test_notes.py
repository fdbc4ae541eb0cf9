"""Where notes stand, held against the places of the letters that are printed under them."""

from __future__ import annotations

from typing import Any

import pytest

from typeset.compose.book import Book
from typeset.page.marks import Music, Words
from typeset.page.notes import NotedSystem
from typeset.page.single import Typesetter

from .made import a_book, a_chapter, a_style, a_task, an_exercise, blocks_of


def singly(book: Book, **style: Any) -> Any:
    return Typesetter().pages(book, a_style(**style), blocks_of(book))


def systems_of(book: Book) -> list[NotedSystem]:
    return list(singly(book).systems)


def test_a_note_stands_where_the_letter_under_it_has_its_middle() -> None:
    book = a_book(a_chapter(1, [an_exercise("1.1", "R L K L", bars=1)]), front=(), back=())
    pages = singly(book)
    (system,) = pages.systems
    plate = pages._plates[system.page]
    ones = [mark for mark in plate.marks if isinstance(mark, Words) and mark.words in {"R", "L", "K"}]
    assert len(ones) == len(system.slots) == 16
    assert system.slots[0] < system.slots[-1]
    # A capital is about two thirds as wide as the type is high, so its left edge is a third before its middle.
    for letter, x in zip(ones, system.slots, strict=True):
        assert plate.left + letter.x + letter.size / 3 == pytest.approx(x, abs=letter.size / 6)


def test_it_reaches_from_the_staff_to_the_last_line_under_it() -> None:
    book = a_book(a_chapter(1, [an_exercise("1.1", bars=1)]), front=(), back=())
    pages = singly(book)
    (system,) = pages.systems
    plate = pages._plates[system.page]
    music = next(m for m in plate.marks if isinstance(m, Music) and m.scale == 1)
    lowest = max(mark.y for mark in plate.marks if isinstance(mark, Words) and mark.words == "4")
    assert system.top < plate.top + music.y < system.bottom
    assert system.bottom == pytest.approx(plate.top + lowest, abs=0.1)


def test_the_slots_of_an_exercise_run_on_from_system_to_system() -> None:
    book = a_book(a_chapter(1, [an_exercise("1.1", systems=3)]), front=(), back=())
    assert [(one.first, len(one.slots)) for one in systems_of(book)] == [(0, 32), (32, 32), (64, 32)]


def test_two_that_share_a_line_are_told_apart_though_they_look_alike() -> None:
    pair = [an_exercise(number, "R L", bars=1, grid=["8ths"], quarter=12) for number in ("1.1", "1.2")]
    first, second = systems_of(a_book(a_chapter(1, pair), front=(), back=()))
    assert (first.exercise, second.exercise) == ("no-1.1", "no-1.2")
    assert first.top == second.top and first.slots[-1] < second.slots[0]


def test_the_music_of_tasks_and_examples_is_nobody_s() -> None:
    exercise = an_exercise("1.1")
    book = a_book(a_chapter(1, [a_task("write-the-count", [exercise]), exercise]), front=("how-to-read",), back=())
    assert [one.exercise for one in systems_of(book)] == ["no-1.1"]


def test_every_exercise_has_a_head_on_its_page_in_order() -> None:
    book = a_book(a_chapter(1, [an_exercise(f"1.{number}") for number in range(1, 15)]))
    pages = singly(book)
    assert [head.exercise for head in pages.heads] == [exercise.id for exercise in book.exercises]
    first = {}
    for system in reversed(pages.systems):
        first[system.exercise] = system
    for head in pages.heads:
        assert head.page == first[head.exercise].page and head.y < first[head.exercise].top
