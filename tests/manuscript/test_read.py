"""Reading whole books: every problem in one go, each at its place."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from typeset.manuscript import ExerciseText, Reading, TextBlock, read
from typeset.pattern.grid import Grid
from typeset.pattern.meter import Meter
from typeset.pattern.tempo import Tempo

Book = Callable[[Mapping[str, str]], Reading]
Said = Callable[[str], list[str]]

BOOK = """\
# book.yaml
title: Quiet Doors
subtitle: Forty ways through five strokes
author: Lantern Yard Studio
edition: First edition
date: 2026-09-01
language: en
style: a4-workbook            # a file in styles/, or beside the book
chapters: [01-first-steps.yaml, 02-turning.yaml]
front: [title-page, imprint, contents, how-to-read, drum-key, care]
back: [answers, practice-log, index]
editions:                     # each is a further PDF of the same book
  teacher: {answers: inline}
  left-handed: {mirror: yes}
  large-print: {style: a4-large}
"""
FIRST = """\
chapter: First steps
intro: |
  Five strokes, one limb at a time. *Slow is a tempo too.*
sequences:
  stairs: R L R K L
set:                          # what every exercise here starts from
  meter: 4/4
  grid: 16ths
  tempo: 60-100
exercises:
  - id: stairs-plain
    title: On one surface
    start: stairs
    steps:
      - fit: {bars: 2, by: trimming}
      - voice: {R: snare, L: snare, K: kick}
  - id: stairs-groove
    title: As a groove
    start: stairs-plain       # grows out of an earlier exercise, by id
    steps:
      - voice: {R: hi-hat, L: snare, K: kick}
      - accent: [1, 3&]
      - ghost: {sound: snare, dynamic: plain}
  - id: stairs-fill
    title: As a fill
    start: stairs-groove
    steps:
      - move: {at: [3&, 3a], to: [high-tom, mid-tom]}
      - plain: [1]
      - stop: 2|4
"""
SECOND = """\
chapter: Turning
exercises:
  - id: four-bars
    title: Three and one
    phrase: [{use: stairs-groove, bars: 1, times: 3}, stairs-fill]   # a bare id means all of its bars
  - text: |
      A paragraph between exercises.
"""


@pytest.fixture
def doors(book: Book) -> Reading:
    return book({"book.yaml": BOOK, "01-first-steps.yaml": FIRST, "02-turning.yaml": SECOND})


def test_a_book_written_as_the_format_says_has_no_problems(doors: Reading) -> None:
    assert doors.problems == ()


def test_a_book_says_about_itself_what_its_file_says(doors: Reading, tmp_path: Path) -> None:
    book = doors.manuscript
    assert book is not None
    assert (book.title, book.author, book.date) == ("Quiet Doors", "Lantern Yard Studio", "2026-09-01")
    assert book.back == ("answers", "practice-log", "index")
    assert book.editions["left-handed"].mirror and book.editions["teacher"].answers == "inline"
    assert (book.path, book.folder, book.name) == (tmp_path / "book.yaml", tmp_path, tmp_path.name)
    assert str(book.style_mark) == f"{tmp_path / 'book.yaml'}:8:8"


def test_chapters_keep_their_order_and_what_stands_in_them(doors: Reading) -> None:
    assert doors.manuscript is not None
    first, second = doors.manuscript.chapters
    assert [exercise.id for exercise in first.exercises] == ["stairs-plain", "stairs-groove", "stairs-fill"]
    assert first.set.meter == Meter.parse("4/4") and first.set.grid == Grid.of("16ths")
    assert first.set.tempo == Tempo(60, 100)
    assert first.sequences[0].name == "stairs" and first.sequences[0].mark.line == 5
    assert [type(item) for item in second.items] == [ExerciseText, TextBlock]


def test_an_id_alone_in_a_phrase_means_all_bars_and_has_a_place(doors: Reading) -> None:
    assert doors.manuscript is not None
    part = doors.manuscript.chapters[1].exercises[0].phrase[1]
    assert (part.use, part.bars, part.times) == ("stairs-fill", None, 1)
    assert (part.mark.line, part.mark.column) == (5, 55)


def test_a_phrase_of_one_id_has_a_place_too(chapter: Callable[[str], Reading]) -> None:
    read_ = chapter("chapter: C\nexercises:\n  - id: a\n    phrase: b\n")
    assert read_.manuscript is not None
    (part,) = read_.manuscript.chapters[0].exercises[0].phrase
    assert (part.use, part.mark.line, part.mark.column) == ("b", 4, 13)


def test_the_file_of_a_book_may_be_named_instead_of_its_folder(doors: Reading, tmp_path: Path) -> None:
    assert read(tmp_path / "book.yaml").manuscript == doors.manuscript


def test_a_chapter_alone_is_a_book_of_that_chapter(doors: Reading, tmp_path: Path) -> None:
    alone = read(tmp_path / "01-first-steps.yaml")
    assert alone.problems == () and alone.manuscript is not None
    book = alone.manuscript
    assert (book.title, book.name, book.language, book.style) == (
        "First steps",
        "01-first-steps",
        "en",
        "a4-workbook",
    )
    assert book.front == ("title-page", "imprint", "contents", "how-to-read", "drum-key", "care")
    assert book.back == ("index",) and book.style_mark is None


def test_paths_are_printed_as_they_were_given(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "lesson.yaml").write_text("chapter: C\nexercises:\n  - id: a\n    strat: R\n")
    monkeypatch.chdir(tmp_path)
    (problem,) = read(Path("lesson.yaml")).problems
    assert str(problem) == "lesson.yaml:4:5: there is no key 'strat' here; did you mean 'start'?"


def test_ten_mistakes_in_one_chapter_are_ten_messages_at_the_right_places(said: Said) -> None:
    found = said(
        """\
chapter: Turning #2
sequences:
  stairs: R L Q K L
set:
  grid: 16th
exercises:
  - id: one
    tilte: On one surface
    start: stairs
  - id: two
    start: stairs
    title: Stairs: the turn
  - id: three
    start: R L
    steps:
      - acent: [1]
      - voice: {R: hihat, L:snare}
      - accent: [1, 3x]
      - swap: {R: L, R: K}
  - id: one
    start: R L
    new-page: perhaps
"""
    )
    assert [line.split(": ")[0] for line in found] == [
        "1:10", "3:15", "5:9", "8:5", "12:18", "16:9", "17:20", "17:27", "18:21", "19:22", "20:9", "22:15",
    ]  # fmt: skip


def test_errors_of_all_files_come_together_in_the_order_of_the_book(book: Book) -> None:
    reading = book(
        {
            "book.yaml": "titel: Doors\nchapters: [z.yaml, a.yaml, none.yaml]\n",
            "z.yaml": "chapter: Z\nexercises:\n  - id: z\n    start: R\n    times: often\n",
            "a.yaml": "chapter: A\nset: {tempo: fast}\n",
        }
    )
    assert [(one.mark.file.name, one.mark.line, one.mark.column) for one in reading.problems] == [
        ("book.yaml", 1, 1),
        ("book.yaml", 2, 28),
        ("z.yaml", 5, 12),
        ("a.yaml", 2, 14),
    ]


def test_an_exercise_with_errors_keeps_its_id_and_is_broken(chapter: Callable[[str], Reading]) -> None:
    reading = chapter("chapter: C\nexercises:\n  - id: a\n    start: R\n    steps:\n      - stop: soon\n")
    assert reading.manuscript is not None
    (exercise,) = reading.manuscript.chapters[0].exercises
    assert exercise.id == "a" and exercise.broken and exercise.start == "R"


def test_an_error_that_does_not_touch_the_music_does_not_break_an_exercise(
    chapter: Callable[[str], Reading],
) -> None:
    reading = chapter("chapter: C\nexercises:\n  - id: a\n    start: nobody\n    tilte: T\n    times: 0\n")
    assert reading.manuscript is not None and len(reading.problems) == 2
    (exercise,) = reading.manuscript.chapters[0].exercises
    assert not exercise.broken and exercise.start == "nobody"
    assert exercise.marks("start").column == 12


def test_settings_keep_what_is_sound_in_them(chapter: Callable[[str], Reading]) -> None:
    reading = chapter("chapter: C\nset: {meter: 6/8, grid: 9ths}\n")
    assert reading.manuscript is not None
    settings = reading.manuscript.chapters[0].set
    assert settings.meter == Meter.parse("6/8") and settings.grid is None and settings.broken


@pytest.mark.parametrize(
    ("second", "place"),
    [("sequences: {stairs: R L}\n", "2:13"), ("exercises: [{id: stairs, start: R}]\n", "2:18")],
)
def test_sequences_and_ids_share_one_namespace_through_the_book(book: Book, second: str, place: str) -> None:
    reading = book(
        {
            "book.yaml": "title: T\nchapters: [a.yaml, b.yaml]\n",
            "a.yaml": "chapter: A\nsequences:\n  stairs: R L R\n",
            "b.yaml": f"chapter: B\n{second}",
        }
    )
    (problem,) = reading.problems
    assert f"{problem.mark.line}:{problem.mark.column}" == place
    assert problem.what.startswith("the name 'stairs' is taken already, at ")
    assert problem.what.endswith("a.yaml:3:3")


def test_a_folder_without_a_book_is_said_to_be_one(tmp_path: Path) -> None:
    reading = read(tmp_path)
    assert reading.manuscript is None
    assert [one.what for one in reading.problems] == ["this folder has no book.yaml"]


@pytest.mark.parametrize(
    ("name", "what"),
    [
        ("02-turnin.yaml", "there is no file '02-turnin.yaml'; did you mean '02-turning.yaml'?"),
        ("../x.yaml", "'../x.yaml' is no name of a file in the book's folder; chapters stand there"),
        ("/etc/hosts", "'/etc/hosts' is no name of a file in the book's folder; chapters stand there"),
        ("C:x.yaml", "'C:x.yaml' is no name of a file in the book's folder; chapters stand there"),
        ("sub", "'sub' is a folder; a file is expected"),
    ],
)
def test_a_chapter_that_cannot_be_found_is_reported_where_it_is_named(
    book: Book, tmp_path: Path, name: str, what: str
) -> None:
    (tmp_path / "sub").mkdir()
    reading = book(
        {
            "book.yaml": f"title: T\nchapters:\n  - 02-turning.yaml\n  - {name}\n",
            "02-turning.yaml": "chapter: T\n",
        }
    )
    (problem,) = reading.problems
    assert (problem.mark.line, problem.mark.column, problem.what) == (4, 5, what)


def test_a_link_that_leads_out_of_the_folder_is_refused(book: Book, tmp_path: Path) -> None:
    folder = tmp_path / "book"
    folder.mkdir()
    (tmp_path / "secret.yaml").write_text("chapter: S\n")
    (folder / "book.yaml").write_text("title: T\nchapters: link.yaml\n")
    (folder / "link.yaml").symlink_to(tmp_path / "secret.yaml")
    (problem,) = read(folder).problems
    assert problem.what == "'link.yaml' leads out of the book's folder; chapters stand inside it"


def test_a_chapter_named_twice_is_read_once(book: Book) -> None:
    reading = book({"book.yaml": "title: T\nchapters: [a.yaml, a.yaml]\n", "a.yaml": "chapter: A\n"})
    assert [(one.mark.column, one.what) for one in reading.problems] == [(20, "'a.yaml' stands here twice")]
    assert reading.manuscript is not None and len(reading.manuscript.chapters) == 1


def test_an_entry_that_is_nothing_known_is_one_problem(said: Said) -> None:
    found = said("chapter: C\nexercises:\n  - exercise: a\n  - Hello\n")
    assert [line.split(": ")[0] for line in found] == ["3:5", "4:5"]
    assert all("an entry begins with id: or " in line for line in found)
    assert found[0].endswith("not with 'exercise'") and found[1].endswith("not with 'Hello'")


def test_a_task_or_series_without_what_it_has_to_say_is_broken_and_told_once(
    chapter: Callable[[str], Reading],
) -> None:
    reading = chapter(
        "chapter: C\nexercises:\n  - {id: a, start: R}\n  - {task: find-the-accents}\n  - {series: s, start: R}\n"
    )
    assert [one.what for one in reading.problems] == [
        "the key 'of' is missing here",
        "the key 'each' is missing here",
    ]
    assert reading.manuscript is not None
    assert [item.broken for item in reading.manuscript.chapters[0].items] == [False, True, True]


def test_an_exercise_whose_keys_disagree_is_broken(chapter: Callable[[str], Reading]) -> None:
    reading = chapter("chapter: C\nexercises:\n  - {id: a, start: R}\n  - {id: b, start: R, endings: a}\n")
    assert [one.mark.line for one in reading.problems] == [4] and reading.manuscript is not None
    assert [item.broken for item in reading.manuscript.chapters[0].items] == [False, True]
