"""The keys of books, chapters and exercises: what they take, and what is said about anything else."""

from collections.abc import Callable, Mapping

import pytest

from typeset.manuscript import ExerciseText, Reading
from typeset.pattern.grid import Grid
from typeset.pattern.meter import Meter
from typeset.pattern.order import read_order
from typeset.pattern.tempo import Tempo

Said = Callable[[str], list[str]]

HEAD = "chapter: C\nexercises:\n  - id: a\n    start: R L\n"


@pytest.fixture
def exercise(chapter: Callable[[str], Reading]) -> Callable[[str], ExerciseText]:
    """A sound exercise with these further lines."""

    def make(lines: str) -> ExerciseText:
        reading = chapter(HEAD + "".join(f"    {line}\n" for line in lines.splitlines()))
        assert reading.problems == () and reading.manuscript is not None
        return reading.manuscript.chapters[0].exercises[0]

    return make


@pytest.fixture
def said_of_book(book: Callable[[Mapping[str, str]], Reading]) -> Said:
    """What is said about a book.yaml with this line more; it stands on line 3."""

    def say(line: str) -> list[str]:
        reading = book({"book.yaml": f"title: T\nchapters: c.yaml\n{line}\n", "c.yaml": "chapter: C\n"})
        return [f"{one.mark.line}:{one.mark.column}: {one.what}" for one in reading.problems]

    return say


def test_nothing_is_assumed_where_nothing_is_said(exercise: Callable[[str], ExerciseText]) -> None:
    plain = exercise("")
    assert plain.title == "" and plain.steps == () and plain.phrase == ()
    unsaid = (plain.meter, plain.grid, plain.tempo, plain.play, plain.times, plain.feel, plain.linear)
    assert unsaid == (None,) * 7 and plain.pickup is None and not plain.new_page


VALUES = [
    ("meter: 7/8 (3+2+2)", "meter", Meter.parse("7/8 (3+2+2)")),
    ("grid: 16ths", "grid", Grid.of("16ths")),
    ("grid: [16ths, sextuplets]", "grid", Grid.of("16ths", "sextuplets")),
    ("tempo: 60-100", "tempo", Tempo(60, 100)),
    ("play: once", "play", "once"),
    ("times: 4", "times", 4),
    ("feel: swing-8ths", "feel", "swing-8ths"),
    ("pickup: K (R L)x2", "pickup", read_order("K R L R L")),
    ("new-page: yes", "new_page", True),
    ("linear: no", "linear", False),
    ("say: Go.", "say", "Go."),
    ("title: >\n  In two\n  lines", "title", "In two lines"),
    ("note: |\n  One.\n\n  Two.", "note", "One.\n\nTwo.\n"),
]  # fmt: skip


@pytest.mark.parametrize(("lines", "name", "value"), VALUES)
def test_a_key_of_an_exercise_takes_its_kind_of_value(
    exercise: Callable[[str], ExerciseText], lines: str, name: str, value: object
) -> None:
    assert getattr(exercise(lines), name) == value


MISTAKES = [
    ("meter: 4/5", "5:12: 4/5 is not offered; a meter is in halves, quarters or eighths"),
    ("meter: 11/8", "5:12: 11/8 has to say how it falls into beats"),
    ("meter: [4/4]", "5:12: a meter is expected here, not a list"),
    ("grid: sixteenths", "5:11: 'sixteenths' is no grid"),
    ("grid: [16ths, sextuplet]", "5:19: 'sextuplet' is no grid; did you mean 'sextuplets'?"),
    ("grid: []", "5:11: a grid has at least one name"),
    ("tempo: 100-60", "5:12: the goal 60 is slower than the start 100"),
    ("play: loops", "5:11: 'loops' cannot stand here; did you mean 'loop'?"),
    ("play: twice", "5:11: 'twice' cannot stand here; write loop or once"),
    ("times: 0", "5:12: write how many times as a number from 1 to 99"),
    ("feel: swing", "5:11: 'swing' is no feel; did you mean 'swing-8ths'?"),
    ("pickup: K (R", "5:15: this ( has no )"),
    ("endings: a", "5:14: there are two endings or more"),
    ("endings: [b, c]\n    play: loop", "6:5: what has endings ends with the last of them"),
    ("endings: [b, c, d]\n    times: 2", "6:12: 3 endings take 3 times at least"),
    ("pickup: 'K Q'", "5:16: 'Q' is no stroke"),
    ("new-page: 1", "5:15: '1' is neither yes nor no"),
    ("title: [a]", "5:12: text is expected here, not a list; put it in quotes"),
    ("title: ''", "5:12: this is empty; write something, or take the key out"),
    ("tilte: A", "5:5: there is no key 'tilte' here; did you mean 'title'?"),
    ("colour: A", "5:5: there is no key 'colour' here; the keys here are id, title, start, steps, meter,"),
    ("phrase: [b]", "5:5: an exercise starts from one thing: take out start: or phrase:"),
]  # fmt: skip


@pytest.mark.parametrize(("line", "message"), MISTAKES)
def test_a_wrong_value_is_reported_at_its_place(said: Said, line: str, message: str) -> None:
    (found,) = said(HEAD + f"    {line}\n")
    assert found.startswith(message)


def test_an_exercise_has_to_start_from_something(said: Said) -> None:
    assert said("chapter: C\nexercises:\n  - id: a\n") == [
        "3:5: say what this exercise starts from: start: and an order, a sequence or an id, or phrase:"
    ]


def test_an_exercise_has_to_have_an_id(said: Said) -> None:
    assert said("chapter: C\nexercises:\n  - start: R\n") == ["3:5: the key 'id' is missing here"]


def test_a_misspelt_key_is_not_also_missing(said: Said) -> None:
    assert said("chapter: C\nexercises:\n  - idd: a\n    start: R\n") == [
        "3:5: there is no key 'idd' here; did you mean 'id'?"
    ]


@pytest.mark.parametrize("name", ["two words", "-a", "grün", "a/b", "a.b"])
def test_an_id_is_made_of_letters_digits_and_hyphens(said: Said, name: str) -> None:
    (found,) = said(f"chapter: C\nexercises:\n  - id: {name}\n    start: R\n")
    assert found.startswith(f"3:9: '{name}' is no name")


def test_a_sequence_that_cannot_be_read_is_reported_where_it_goes_wrong(said: Said) -> None:
    found = said("chapter: C\nsequences:\n  a: R L Q\n  b: R+R\n  c: 'R r!'\n  d: [R]\n  two words: R\n")
    assert [line.split(": ")[0] for line in found] == ["3:10", "4:6", "5:10", "6:6", "7:3"]


def test_a_part_of_a_phrase_is_checked(said: Said) -> None:
    text = "chapter: C\nexercises:\n  - id: a\n    phrase: [{use: b, bars: 0}, {bars: 1}, [c]]\n"
    assert said(text) == [
        "4:29: write how many times as a number from 1 to 99",
        "4:33: the key 'use' is missing here",
        "4:44: keys with values are expected here, not a list",
    ]


@pytest.mark.parametrize("key", ["sequences", "set"])
def test_a_part_of_a_chapter_has_keys(said: Said, key: str) -> None:
    (found,) = said(f"chapter: C\n{key}: [R, L]\n")
    assert found.startswith(f"2:{len(key) + 3}: ") and found.endswith("not a list")


BOOK_MISTAKES = [
    ("date: 2026-02-30", "3:7: '2026-02-30' is no date; write it as 2026-09-01 (year-month-day)"),
    ("date: 1.9.2026", "3:7: '1.9.2026' is no date; write it as 2026-09-01 (year-month-day)"),
    ("language: eng", "3:11: 'eng' is no language of this program; did you mean 'en'?"),
    ("front: [imprint, contenst]", "3:18: 'contenst' is no page of the front; did you mean 'contents'?"),
    ("back: [index, index]", "3:15: 'index' stands here twice"),
    ("editions: {teacher: {answers: inlin}}", "3:31: 'inlin' cannot stand here; did you mean 'inline'?"),
    ("editions: {two words: {mirror: yes}}", "3:12: 'two words' is no name"),
    ("editions: {teacher: inline}", "3:21: keys with values are expected here, not 'inline'"),
    ("editions: [teacher]", "3:11: keys with values are expected here, not a list"),
    ("isbn: 978-3-16-148410-1", "3:7: '978-3-16-148410-1' is no ISBN: its check digit does not fit"),
]  # fmt: skip


@pytest.mark.parametrize(("line", "message"), BOOK_MISTAKES)
def test_a_wrong_value_in_a_book_is_reported_at_its_place(said_of_book: Said, line: str, message: str) -> None:
    (found,) = said_of_book(line)
    assert found.startswith(message)


@pytest.mark.parametrize("line", ["front: []", "front: contents", "editions: {teacher: {}}", "date: 2026-09-01"])
def test_a_sound_line_of_a_book_is_taken(said_of_book: Said, line: str) -> None:
    assert said_of_book(line) == []
