"""Reading a curriculum: its books and terms, and every problem at once, each at its place."""

from collections.abc import Callable
from pathlib import Path

import pytest

from typeset.manuscript.curriculum import chapters_of
from typeset.manuscript.read_curriculum import CurriculumReading, read_curriculum

BOOK = """\
title: {title}
chapters: [one.yaml, two.yaml]
"""
CHAPTER = """\
chapter: {name}
sequences:
  {name}-steps: R L R K L
exercises:
  - id: {name}-plain
    start: {name}-steps
"""
CURRICULUM = """\
title: Two books
minutes: 15
books: [rooms, ../doors]
terms:
  - term: Autumn
    weeks: 8
    chapters:
      - rooms
      - doors: 2
  - term: Spring
    weeks: 10
    minutes: 25
    days: 4
    chapters: {doors: [1]}
"""

Read = Callable[[str], CurriculumReading]


def write_book(folder: Path) -> None:
    folder.mkdir(parents=True)
    (folder / "book.yaml").write_text(BOOK.format(title=folder.name))
    for name in ("one", "two"):
        (folder / f"{name}.yaml").write_text(CHAPTER.format(name=name))


@pytest.fixture
def reading(tmp_path: Path) -> Read:
    """Reads a curriculum with a book `rooms` in its folder and a book `doors` beside that."""
    write_book(tmp_path / "school" / "rooms")
    write_book(tmp_path / "doors")

    def make(text: str) -> CurriculumReading:
        file = tmp_path / "school" / "curriculum.yaml"
        file.write_text(text)
        return read_curriculum(file)

    return make


def told(reading: CurriculumReading) -> list[str]:
    return [f"{one.mark.line}:{one.mark.column}: {one.what}" for one in reading.problems]


def test_books_are_read_from_the_curriculum_s_folder_and_from_beside_it(reading: Read) -> None:
    found = reading(CURRICULUM)
    assert not found.problems and found.text is not None
    assert [(book.name, book.manuscript.title) for book in found.text.books if book.manuscript] == [
        ("rooms", "rooms"),
        ("doors", "doors"),
    ]


def test_a_term_says_its_weeks_and_has_the_curriculum_s_minutes_and_days_where_it_says_none(reading: Read) -> None:
    text = reading(CURRICULUM).text
    assert text is not None
    autumn, spring = text.terms
    assert (autumn.term, autumn.weeks, text.minutes_of(autumn), text.days_of(autumn)) == ("Autumn", 8, 15, 5)
    assert (spring.term, spring.weeks, text.minutes_of(spring), text.days_of(spring)) == ("Spring", 10, 25, 4)


def test_a_bare_name_means_all_chapters_and_one_number_may_stand_alone(reading: Read) -> None:
    text = reading(CURRICULUM).text
    assert text is not None
    rooms, doors = text.terms[0].chapters
    assert chapters_of(rooms, text.books[0]) == (1, 2)
    assert chapters_of(doors, text.books[1]) == (2,)
    assert [stretch.chapters for stretch in text.terms[1].chapters] == [(1,)]


def test_a_folder_stands_for_the_curriculum_in_it(reading: Read, tmp_path: Path) -> None:
    reading(CURRICULUM)
    text = read_curriculum(tmp_path / "school").text
    assert text is not None and text.name == "curriculum"


def test_a_chapter_s_file_is_a_book_too(reading: Read) -> None:
    found = reading(CURRICULUM.replace("[rooms, ../doors]", "[rooms, ../doors, rooms/one.yaml]"))
    assert not found.problems and found.text is not None
    assert found.text.books[2].name == "one"


@pytest.mark.parametrize("path", ["..", ".", "../../doors", "rooms/../../doors", "/etc", "a:b", "rooms\\one.yaml"])
def test_a_path_leads_nowhere_else(reading: Read, path: str) -> None:
    found = reading(CURRICULUM.replace("../doors", f"'{path}'"))
    assert any(f"'{path}' is no path of a book" in one for one in told(found))


def test_a_link_leads_nowhere_else(reading: Read, tmp_path: Path) -> None:
    write_book(tmp_path / "elsewhere" / "book")
    (tmp_path / "school" / "link").symlink_to(tmp_path / "elsewhere" / "book")
    found = reading(CURRICULUM.replace("../doors", "link"))
    assert "3:16: 'link' leads elsewhere; the books of a curriculum lie in its folder or beside it" in told(found)


def test_every_mistake_is_told_at_its_place_in_one_go(reading: Read) -> None:
    found = reading("""\
title: Two books
colour: red
books: [rooms, room]
leave-out: [snair, rooms/one-step]
terms:
  - term: Autumn
    weeks: 80
    chapters: [rooms]
  - term: Spring
    chapters:
      - rom: 1
      - rooms: [2, 3]
  - term: Summer
    weeks: 4
    minutes: long
    chapters: [rooms: first]
""")
    assert told(found) == [
        "2:1: there is no key 'colour' here; the keys here are title, subtitle, author, date, language, style, "
        "minutes, days, at-once, leave-out, books, terms",
        "3:16: there is no book 'room'; did you mean 'rooms'?",
        "7:12: 80 weeks are not offered; from 1 to 53 are",
        "9:5: the key 'weeks' is missing here",
        "15:14: 'long' is no whole number",
        "16:23: 'first' is no whole number; write chapters by their numbers, or all",
        "11:9: this curriculum names no book 'rom'; did you mean 'rooms'?",
        "12:20: 'rooms' has 2 chapters, and no chapter 3",
        "12:17: chapter 2 of 'rooms' has its place already, at " + str(found.problems[0].mark.file) + ":8:16",
        "4:13: there is no 'snair' to leave out; did you mean 'snare'?",
        "4:20: there is no 'rooms/one-step' to leave out; did you mean 'rooms/one-steps'?",
    ]


def test_the_problems_of_its_books_come_along(reading: Read, tmp_path: Path) -> None:
    (tmp_path / "doors" / "two.yaml").write_text("chapter: Two\nexercises: [{id: a, tempo: quick}]\n")
    marks = [one.mark.file.name for one in reading(CURRICULUM).problems]
    assert marks and set(marks) == {"two.yaml"}


def test_a_book_is_named_once_and_there_are_no_more_than_a_map_has_room_for(reading: Read) -> None:
    assert "3:16: a book called 'rooms' stands here already" in told(
        reading(CURRICULUM.replace("../doors", "rooms/book.yaml"))
    )
    many = ", ".join(f"book-{number}" for number in range(13))
    assert "3:8: 13 books are more than a map has room for; 12 is the most" in told(
        reading(CURRICULUM.replace("rooms, ../doors", many))
    )


def test_without_books_or_terms_there_is_nothing_to_plan(reading: Read) -> None:
    assert told(reading("title: T\nbooks: []\nterms: []\n")) == [
        "2:8: name at least one book",
        "3:8: a curriculum has at least one term",
    ]
    assert told(reading("title: T\n")) == [f"1:1: the key '{key}' is missing here" for key in ("books", "terms")]


def test_a_missing_file_and_a_broken_one_are_told(reading: Read, tmp_path: Path) -> None:
    missing = read_curriculum(tmp_path / "none.yaml")
    assert missing.text is None and "there is no file" in missing.problems[0].what
    assert reading("terms: [").problems
