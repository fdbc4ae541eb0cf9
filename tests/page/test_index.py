"""The index: what a reader looks an exercise up by, and where it leads."""

from collections import Counter
from dataclasses import replace

import pytest

from typeset.compose.book import Book
from typeset.page.breaking import break_pages
from typeset.page.index import index
from typeset.page.marks import Link, Words
from typeset.page.setting import Setting

from .made import a_book, a_chapter, a_setting, an_exercise

BOOK = a_book(
    a_chapter(
        1,
        [
            an_exercise("1.1", "R L", title="Behind the stairs", level=5),
            an_exercise("1.2", "R L K", title="Across the yard", level=2),
            an_exercise("1.3", "R L", title="Over the sill", level=2),
        ],
    )
)


def said_in(book: Book) -> list[str]:
    marks = [mark for piece in index(book, {}, a_setting(book)).pieces for mark in piece.marks]
    return [mark.words for mark in marks if isinstance(mark, Words)]


def rows() -> list[str]:
    """Each line of the index from left to right, from the top down."""
    setting: Setting = a_setting(BOOK)
    pages = {"no-1.1": 8, "no-1.2": 8, "no-1.3": 9}
    lines: list[str] = []
    for piece in index(BOOK, pages, setting).pieces:
        words = sorted(
            (round(mark.y, 2), mark.x > setting.measure / 2, mark.x, mark.words)
            for mark in piece.marks
            if isinstance(mark, Words)
        )
        columns: dict[tuple[float, bool], str] = {}
        for y, column, _, said in words:
            columns[y, column] = columns.get((y, column), "") + " " + said
        lines += [said.replace("\u00a0", "").replace(" ,", ",").strip() for said in columns.values()]
    return lines


def test_titles_stand_in_the_order_of_the_alphabet_down_two_columns() -> None:
    listed = rows()
    assert listed[listed.index("By title") + 1 : listed.index("By order")] == [
        "Across the yard 1.2 p.8",
        "Over the sill 1.3 p.9",
        "Behind the stairs 1.1 p.8",
    ]


def test_one_order_leads_to_all_its_exercises() -> None:
    assert "R L 1.1 p.8, 1.3 p.9" in rows()


def test_a_phrase_has_no_order_to_be_found_by() -> None:
    book = a_book(a_chapter(1, [an_exercise("1.1", order="R L"), replace(an_exercise("1.2"), order=())]))
    marks = [mark for piece in index(book, {}, a_setting(book)).pieces for mark in piece.marks]
    led = [mark.to for mark in marks if isinstance(mark, Link)]
    assert (led.count("no-1.1"), led.count("no-1.2")) == (5, 4), (
        "by title, a number and a page, by sound and by level"
    )


@pytest.mark.parametrize(
    ("first", "then"),
    [
        ("A yard", "The zither"),
        ("The alley", "Before dawn"),
        ("House 2", "House 10"),
        ("R L K, in triplets", "R L K R"),
    ],
)
def test_titles_are_filed_without_their_articles_and_by_the_size_of_their_numbers(first: str, then: str) -> None:
    book = a_book(a_chapter(1, [an_exercise("1.1", title=then), an_exercise("1.2", title=first)]))
    words = [
        mark.words
        for piece in index(book, {}, a_setting(book)).pieces
        for mark in piece.marks
        if isinstance(mark, Words)
    ]
    assert words.index(first) < words.index(then)


def test_levels_run_from_the_easiest_up() -> None:
    listed = rows()
    by_level = [line for line in listed[listed.index("By level") :] if line.startswith("Level")]
    assert by_level == ["Level 2 1.2, 1.3", "Level 5 1.1"]


def test_an_entry_that_is_longer_than_a_page_runs_on() -> None:
    made = [an_exercise(f"1.{number}", "R L", level=2 + number % 2) for number in range(1, 900)]
    book = a_book(a_chapter(1, [replace(one, title=f"No. {one.level}", order=()) for one in made]))
    setting = a_setting(book)
    pieces = index(book, {}, setting).pieces
    assert max(piece.height for piece in pieces) <= setting.depth
    links = Counter(mark.to for piece in pieces for mark in piece.marks if isinstance(mark, Link))
    assert len(links) == 899
    assert min(links.values()) >= 3, "by title, its number and its page, and by level"


def test_every_number_leads_to_its_exercise() -> None:
    marks = [mark for piece in index(BOOK, {}, a_setting(BOOK)).pieces for mark in piece.marks]
    links = [mark.to for mark in marks if isinstance(mark, Link)]
    assert {to: links.count(to) for to in links} == {"no-1.1": 5, "no-1.2": 6, "no-1.3": 5}


def test_entries_come_nearer_together_where_that_saves_a_page(monkeypatch: pytest.MonkeyPatch) -> None:
    def most_on_a_page() -> int:
        for count in range(40, 200, 2):
            made = [an_exercise(f"1.{number}", "R L", title=f"No. {number}") for number in range(1, count + 1)]
            setting = a_setting(book := a_book(a_chapter(1, made)))
            if len(break_pages(index(book, {}, setting).pieces, setting.depth)) > 1:
                return count
        raise AssertionError("no page is ever full")

    tight = most_on_a_page()
    monkeypatch.setattr("typeset.page.index._LEADINGS", (1.0, 1.0))
    assert tight > most_on_a_page()
