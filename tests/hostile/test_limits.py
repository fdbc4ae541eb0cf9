"""No book can exhaust the machine: what is too much is refused early, with the limit and the line."""

from __future__ import annotations

import importlib
import os
import time
from collections.abc import Callable, Mapping
from itertools import pairwise
from pathlib import Path

import pytest

from typeset import pipeline
from typeset.building import build
from typeset.built import Run
from typeset.compose import series, variants, works
from typeset.manuscript import chapters, figures, plain, reader, roster, syntax, traps
from typeset.manuscript.read_curriculum import read_curriculum
from typeset.manuscript.roster import read_roster
from typeset.pattern import draft, order
from typeset.problem import BookError
from typeset.style import reading
from typeset.text_file import LARGEST

from .bounds import bounded

BOOK = "title: T\nchapters: [c.yaml]\n"
PLAIN = "chapter: C\nexercises:\n  - {id: a, start: R L}\n"


def chapter(entries: str, before: str = "") -> str:
    return f"chapter: C\n{before}exercises:\n{entries}"


def bomb(first: str = "x") -> str:
    """Nine times nine times nine ... of a value."""
    names = "abcdefghijklmnop"
    lines = [f"a: &a [{', '.join([first] * 9)}]"]
    lines += [f"{name}: &{name} [{', '.join([f'*{before}'] * 9)}]" for before, name in pairwise(names)]
    return "\n".join(lines) + "\n"


def exercise(**keys: str) -> str:
    said = {"id": "a", "start": "R L", **keys}
    return f"  - {{{', '.join(f'{key}: {value}' for key, value in said.items())}}}\n"


CHAPTERS: dict[str, tuple[Callable[[], str], str]] = {
    "an alias bomb": (
        lambda: chapter(exercise(title="[*p]"), bomb()),
        ": aliases repeat more than 20,000 values here",
    ),
    "an alias in itself": (
        lambda: chapter("  - &a {id: a, start: R, steps: [*a]}\n"),
        "3:34: '*a' would repeat what it",
    ),
    "brackets without end": (
        lambda: chapter(exercise(steps="[" * 100_000)),
        "stand inside each other more than 24 deep",
    ),
    "lists in lists": (
        lambda: chapter(f"  {'- ' * 100_000}a\n"),
        "3:49: mappings and lists stand inside each other",
    ),
    "groups in groups": (
        lambda: chapter(exercise(start="(" * 9_000 + "R")),
        "3:20: groups stand inside each other more",
    ),
    "a million exercises": (
        lambda: chapter("".join(f"  - {{id: e{n}, start: R}}\n" for n in range(10_050))),
        "10003:5: a book has at most 10,000 entries",
    ),
    "a million strokes": (lambda: chapter(exercise(start="R" * 1_000_000)), "3:20: this has 1,000,000 characters"),
    "twenty thousand strokes": (
        lambda: chapter(exercise(start="R" * 19_999)),
        "3:20: this sequence is longer than 1024",
    ),
    "a named million": (
        lambda: chapter("", f"sequences: {{s: {'R' * 1_000_000}}}\n"),
        "2:16: this has 1,000,000 characters",
    ),
    "groups that multiply": (
        lambda: chapter(exercise(start="((((R)x1000)x1000)x1000)x1000")),
        "3:20: this group comes to more than 1024 slots",
    ),
    "a group a huge number of times": (
        lambda: chapter(exercise(start=f"(R)x{'9' * 5000}")),
        "3:20: this group comes to more than 1024 slots",
    ),
    "fit to a million bars": (
        lambda: chapter(exercise(steps="[fit: 1000000]")),
        "3:38: an exercise has 1 to 64 bars",
    ),
    "fit to a number without end": (lambda: chapter(exercise(steps=f"[fit: {'9' * 5000}]")), "3:38: '99999999"),
    "a tempo of infinity": (lambda: chapter(exercise(tempo="1e999")), "3:32: '1e999' is no tempo"),
    "a tempo without end": (
        lambda: chapter(exercise(tempo="9" * 5000)),
        "3:32: this has 5,000 characters, and a tempo",
    ),
    "a meter without end": (lambda: chapter(exercise(meter=f"{'9' * 5000}/4")), "3:32: this has 5,002 characters"),
    "times without end": (lambda: chapter(exercise(times="9" * 5000)), "3:32: write how many times"),
    "a count without end": (
        lambda: chapter(exercise(steps=f"[accent: {'9' * 5000}]")),
        "3:41: this has 5,000 characters",
    ),
    "a repeat without end": (
        lambda: chapter(exercise(steps="[repeat: 999999999]")),
        "3:41: the order would grow to 1999999998",
    ),
    "orders that join each other": (
        lambda: chapter(
            exercise(id="j0")
            + "".join(exercise(id=f"j{n}", steps=f"[join: [{', '.join([f'j{n - 1}'] * 9)}]]") for n in range(1, 20))
        ),
        "6:34: the order would grow to",
    ),
    "phrases of phrases": (
        lambda: chapter(
            exercise(id="p0")
            + "".join(f"  - {{id: p{n}, phrase: [{{use: p{n - 1}, times: 99}}]}}\n" for n in range(1, 20))
        ),
        "4:22: a phrase has at most 64 bars",
    ),
    "a series of all orders": (
        lambda: chapter("  - {series: s, each: {orders: {length: 64, limbs: [R, L, K]}}}\n"),
        "and 1,000 is the most that a series prints",
    ),
    "a series to put in order": (
        lambda: chapter(
            "  - {series: s, order: easiest-first, each: {orders: {length: 40, limbs: [R, L, K, H]}}}\n"
        ),
        "exercises to put in order, and 20,000 is the most",
    ),
    "a series that prints without end": (
        lambda: chapter("  - {series: s, start: R L, limit: 999999999, each: {rotate: all}}\n"),
        "3:36: a series prints at most 1,000 exercises, and 999,999,999 are asked for",
    ),
    "a member without end": (
        lambda: chapter("  - {series: s, start: R L, each: {rotate: all}}\n" + exercise(start="s/999999999")),
        "3:5: the series 's' has no member 999999999",
    ),
    "a title without end": (
        lambda: chapter(exercise(title="W" * 1_000_000)),
        "3:32: this has 1,000,000 characters; 300 is the most",
    ),
    "an id without end": (lambda: chapter(exercise(id="W" * 1_000_000)), "3:10: 'WWWWWWWW"),
    "a text without end": (
        lambda: chapter(f"  - text: {'word ' * 100_000}\n"),
        "3:11: this has 499,999 characters",
    ),
    "a name that is like nothing": (
        lambda: chapter("".join(exercise(id=f"e{n}", start=f"nosuch-{n}") for n in range(1_000))),
        "1002:23: there is no sequence or exercise 'nosuch-999'",
    ),
    "a long circle": (
        lambda: chapter("".join(exercise(id=f"e{n}", start=f"e{(n + 1) % 2_000}") for n in range(2_000))),
        "leads into a long circle of exercises",
    ),
}


@pytest.mark.parametrize("name", CHAPTERS)
def test_a_chapter_that_is_too_much_is_refused_with_its_line(tmp_path: Path, name: str) -> None:
    make, message = CHAPTERS[name]
    file = tmp_path / "c.yaml"
    file.write_text(make())
    with bounded():
        checked = pipeline.check(file)
    said = [str(problem).removeprefix(f"{file}:") for problem in checked.problems]
    assert checked.book is None
    assert any(message in one for one in said), said[:5]


@pytest.mark.parametrize("is_reversed", [False, True], ids=["parents first", "children first"])
def test_a_line_of_exercises_as_long_as_a_book_is_worked_out(tmp_path: Path, is_reversed: bool) -> None:
    entries = [exercise(id=f"e{n}", start=f"e{n - 1}" if n else "R L K") for n in range(400)]
    file = tmp_path / "c.yaml"
    file.write_text(chapter("".join(reversed(entries) if is_reversed else entries)))
    with bounded():
        checked = pipeline.check(file)
    assert len(checked.sound_book().exercises) == 400


def test_series_that_print_too_much_together_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("typeset.compose.works.MOST_IN_SERIES", 20)
    file = tmp_path / "c.yaml"
    file.write_text(
        chapter("".join(f"  - {{series: s{n}, start: R L K L R K, each: {{rotate: all}}}}\n" for n in range(9)))
    )
    (problem,) = pipeline.check(file).problems
    assert (problem.mark.line, problem.what[:55]) == (6, "with this one the series of the book print more than 20")


def test_steps_that_are_played_again_and_again_are_refused_before_they_take_hours(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("typeset.compose.works.MOST_MOVES", 20_000)
    entries = [exercise(id=f"e{n}", start=f"e{n - 1}" if n else "R L K", steps="[accent: 1]") for n in range(200)]
    file = tmp_path / "c.yaml"
    file.write_text(chapter("".join(entries)))
    (problem,) = pipeline.check(file).problems
    assert 40 < problem.mark.line < 60 and "moves of a slot to work out" in problem.what


BOOKS: dict[str, tuple[Callable[[], Mapping[str, str | bytes]], str]] = {
    "a style with an alias bomb": (
        lambda: {"own.yaml": bomb()},
        "own.yaml:2:8: '*a' repeats what stands elsewhere",
    ),
    "a style in itself": (lambda: {"own.yaml": "paper: &a {b: *a}\n"}, "own.yaml:1:15: '*a' repeats"),
    "a style without end": (
        lambda: {"own.yaml": "paper: " + "[" * 100_000},
        "own.yaml:1:15: keys stand inside each other",
    ),
    "a huge style": (lambda: {"own.yaml": "#" * 3_000_000}, "own.yaml:1:1: this file is larger than 256 KiB"),
    "numbers without end in a style": (
        lambda: {"own.yaml": f"paper: {{width: 1e999, height: {'9' * 5000}}}\n"},
        "own.yaml:1:16: width: input should be a finite number",
    ),
    "half a character in a style": (
        lambda: {"own.yaml": 'letters: {right: "\\ud800"}\nx: ' + "[" * 9_000},
        "own.yaml:1:18: an invisible character (U+D800)",
    ),
    "a kit without end": (lambda: {"kits/own.yaml": "places: " + "{x: " * 100_000}, "kits/own.yaml:1:"),
    "thousands of kits": (lambda: {f"kits/k{n}.yaml": "x" for n in range(1_000)}, "kits:1:1: there are 1,000 kits"),
    "figures that are a picture": (
        lambda: {"players.yaml": b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR"},
        "players.yaml:1:1: this is not UTF-8",
    ),
    "a chapter that is a picture": (
        lambda: {"c.yaml": b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR"},
        "c.yaml:1:1: this is not UTF-8",
    ),
    "a chapter of zeros": (lambda: {"c.yaml": bytes(1_000_000)}, "c.yaml:1:1: an invisible character (U+0000)"),
    "a huge chapter": (lambda: {"c.yaml": "#" * (LARGEST + 1)}, "c.yaml:1:1: this file is larger than 2 MiB"),
    "a group of sequences without end": (
        lambda: {"c.yaml": PLAIN.replace("R L", "own/a"), "sequences/own.yaml": f"a: {'R' * 1_000_000}\n"},
        "sequences/own.yaml:1:4: this has 1,000,000 characters",
    ),
    "thousands of chapters": (
        lambda: {
            "book.yaml": f"title: T\nchapters: [{', '.join(f'c{n}.yaml' for n in range(3_000))}]\n",
            **{f"c{n}.yaml": PLAIN for n in range(10)},
        },
        "book.yaml:2:11: this book has 3,000 chapters, and 200 is the most",
    ),
    "chapters that come to too much": (
        lambda: {
            "book.yaml": f"title: T\nchapters: [{', '.join(f'c{n}.yaml' for n in range(10))}]\n",
            **{f"c{n}.yaml": f"chapter: C\n{'# ' * 990_000}\n" for n in range(10)},
        },
        "book.yaml:2:84: with this file the book has more than 16 MiB",
    ),
}


@pytest.mark.parametrize("name", BOOKS)
def test_a_book_whose_files_are_too_much_is_refused_with_its_line(tmp_path: Path, name: str) -> None:
    make, message = BOOKS[name]
    files = {"book.yaml": BOOK, "c.yaml": PLAIN, **make()}
    if "own.yaml" in files:
        files["book.yaml"] = f"{BOOK}style: own\n"
    for path, content in files.items():
        (tmp_path / path).parent.mkdir(exist_ok=True)
        (tmp_path / path).write_bytes(content if isinstance(content, bytes) else content.encode())
    with bounded():
        checked = pipeline.check(tmp_path)
    said = [str(problem).removeprefix(f"{tmp_path}/") for problem in checked.problems]
    assert any(one.startswith(message) for one in said), said[:5]


@pytest.mark.parametrize("path", ["c.yaml", "own.yaml", "kits/own.yaml", "players.yaml", "sequences/own.yaml"])
@pytest.mark.parametrize("what", ["pipe", "circle", "outside", "device", "folder", "nothing"])
def test_what_is_no_file_of_the_book_is_refused_and_never_waited_for(tmp_path: Path, path: str, what: str) -> None:
    folder = tmp_path / "book"
    (folder / path).parent.mkdir(parents=True, exist_ok=True)
    (folder / "book.yaml").write_text(BOOK + ("style: own\n" if path == "own.yaml" else ""))
    (folder / "c.yaml").write_text(PLAIN.replace("R L", "own/a") if "sequences" in path else PLAIN)
    (tmp_path / "elsewhere.yaml").write_text("chapter: C\nexercises: [{id: a, start: R}]\npaper: a4\na: R\n")
    (folder / path).unlink(missing_ok=True)
    match what:
        case "pipe":
            os.mkfifo(folder / path)
        case "circle":
            (folder / path).symlink_to(folder / path)
        case "outside":
            (folder / path).symlink_to(tmp_path / "elsewhere.yaml")
        case "device":
            (folder / path).symlink_to("/dev/zero")
        case "folder":
            (folder / path).mkdir()
        case "nothing":
            (folder / path).symlink_to("nowhere.yaml")
    with bounded(20):
        checked = pipeline.check(folder)
        with pytest.raises(BookError):
            build(folder, tmp_path / "out", None, Run())
    assert checked.book is None and not (tmp_path / "out").exists()
    assert all(problem.mark.file.is_relative_to(folder) for problem in checked.problems)


def test_a_pipe_that_is_called_a_book_is_refused(tmp_path: Path) -> None:
    pipe = tmp_path / "c.yaml"
    os.mkfifo(pipe)
    with bounded(20), pytest.raises(BookError, match="is no ordinary file"):
        build(pipe, tmp_path / "out", None, Run())


@pytest.mark.parametrize(
    "name", ["../elsewhere", "../elsewhere.yaml", "/etc/passwd", "a/../../elsewhere", "x" * 290]
)
def test_a_style_from_outside_of_the_book_is_not_read(tmp_path: Path, name: str) -> None:
    folder = tmp_path / "book"
    (folder / "a").mkdir(parents=True)
    (tmp_path / "elsewhere.yaml").write_text("paper: a5\n")
    (folder / "book.yaml").write_text(f"{BOOK}style: {name}\n")
    (folder / "c.yaml").write_text(PLAIN)
    (problem,) = pipeline.check(folder).problems
    assert (problem.mark.line, problem.mark.column) == (3, 8)
    assert "leads out of the book's folder" in problem.what or "there is no style" in problem.what


ROSTERS = {
    "a huge roster": ("name\n" + "a\n" * 2_000_000, "1:1: this file is larger than 2 MiB"),
    "thousands of students": ("name\n" + "a\n" * 3_000, "1:1: this roster has 3,000 students, and 500 is the most"),
    "a name without end": (
        "name\n" + "W" * 1_000_000 + "\n",
        "2:1: this cell has 1,000,000 characters; 300 is the most",
    ),
    "cells without end": ("name\n" + "a," * 900_000 + "\n", "2:201: this row has more than 100 cells"),
    "a quote without end": ('name\n"' + "W" * 1_000_000 + "\n", "2:1: this quote is not closed"),
    "exercises without end": ("name,exercises\na," + "b " * 900_000 + "\n", "2:3: this cell has"),
    "columns without end": ("name," + "W" * 1_000_000 + "\na,b\n", "1:6: this cell has 1,000,000 characters"),
    "a picture": ("\ud800", "1:1: this is not UTF-8"),
}


@pytest.mark.parametrize("name", ROSTERS)
def test_a_roster_that_is_too_much_is_refused_with_its_line(tmp_path: Path, name: str) -> None:
    text, message = ROSTERS[name]
    file = tmp_path / "students.csv"
    file.write_bytes(text.encode("utf-8", "surrogatepass"))
    with bounded():
        try:
            problems = read_roster(file).problems
        except BookError as error:
            problems = error.problems
    assert any(str(problem).startswith(f"{file}:{message}") for problem in problems), problems[:3]


def test_a_curriculum_that_is_too_much_is_refused_with_its_line(tmp_path: Path) -> None:
    books = ", ".join(f"b{n}" for n in range(5_000))
    terms = "".join(f"  - {{term: T, weeks: {'9' * 400}, chapters: [b1]}}\n" for _ in range(2_000))
    file = tmp_path / "curriculum.yaml"
    file.write_text(f"title: C\nbooks: [{books}]\nterms:\n{terms}")
    with bounded():
        problems = read_curriculum(file).problems
    assert any(problem.what.startswith("5000 books are more than a map has room for") for problem in problems)
    assert any(problem.what.endswith("is no whole number") and problem.mark.line == 4 for problem in problems)


def test_a_folder_of_thousands_of_other_files_takes_no_time(tmp_path: Path) -> None:
    for number in range(2_000):
        (tmp_path / f"other{number}.yaml").write_text("other: text\n" * 50)
    (tmp_path / "c.yaml").write_text(PLAIN)
    started = time.monotonic()
    with bounded():
        assert pipeline.check(tmp_path / "c.yaml").book is not None
    assert time.monotonic() - started < 20


def test_the_page_of_limits_says_what_holds() -> None:
    page = (Path(__file__).parents[2] / "docs" / "limits.md").read_text(encoding="utf-8")
    said = [row.rpartition("| ")[2].removesuffix(" |") for row in page.splitlines() if row.startswith("| ")][2:]
    mib = 1024 * 1024
    read = importlib.import_module("typeset.manuscript.read")  # the package has a function of that name
    held = [
        *(f"{LARGEST // mib} MiB", f"{reading.LARGEST // 1024} KiB", f"{reader.LARGEST_BOOK // mib} MiB"),
        *(
            read.MOST_CHAPTERS,
            chapters.MOST_ENTRIES,
            series.MOST_MEMBERS,
            works.MOST_IN_SERIES,
            series.MOST_CANDIDATES,
        ),
        *(variants.MOST_MADE, order.LONGEST, draft.MOST_BARS, plain.LONGEST_LINE, plain.LONGEST_TEXT),
        *(plain.LONGEST_NAME, syntax.DEEPEST, traps.MOST_REPEATED, works.MOST_MOVES, figures.MOST_KITS),
        roster.MOST_STUDENTS,
    ]
    assert said == [one if isinstance(one, str) else f"{one:,}" for one in held]
