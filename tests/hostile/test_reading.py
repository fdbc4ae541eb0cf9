"""Every hostile text, in every place that the declarations name, is kept as it is or refused on its line."""

from __future__ import annotations

from pathlib import Path
from typing import Any
from unicodedata import category

import pytest

from typeset.manuscript import read
from typeset.manuscript.curriculum import CurriculumKeys, TermText
from typeset.manuscript.marked import Marked
from typeset.manuscript.models import BookText
from typeset.manuscript.read_curriculum import read_curriculum
from typeset.manuscript.roster import COLUMNS, read_roster
from typeset.manuscript.steps import parameters_of
from typeset.pattern.steps import STEPS
from typeset.problem import BookError, Mark, Problem
from typeset.style import load_style
from typeset.style.model import Style
from typeset.style.part import Part

from .bounds import bounded
from .sound import chapter_of, entry_with, keys_of_entries, quoted, written
from .strings import STRINGS

UNSEEN = {"Cc", "Cf", "Cs", "Zl", "Zp"}
FOREIGN = ("Input should", "this is no YAML", "invalid literal", "Traceback", "object at 0x", "Value error")


def lines_with(problems: tuple[Problem, ...]) -> set[int]:
    """The lines that something is wrong with; checks that each says so in words that can be shown."""
    for problem in problems:
        assert not any(words in problem.what for words in FOREIGN), problem
        assert not UNSEEN & set(map(category, str(problem))), problem
    return {problem.mark.line for problem in problems}


def said(value: Any) -> str:
    return " ".join(str(value).split())


@pytest.mark.parametrize(("model", "key"), tuple(keys_of_entries()), ids=lambda one: getattr(one, "__name__", one))
def test_in_every_key_of_an_entry(tmp_path: Path, model: type[Marked], key: str) -> None:
    file = tmp_path / "c.yaml"
    file.write_text(chapter_of([entry_with(model, key, text, n) for n, text in enumerate(STRINGS)]))
    with bounded(120):
        reading = read(file)
    wrong = lines_with(reading.problems)
    assert reading.manuscript is not None
    items = {item.mark.line: item for item in reading.manuscript.chapters[0].items}
    for line, text in enumerate(STRINGS, start=4):
        if line not in wrong:
            value = getattr(items[line], key.replace("-", "_"))
            assert not isinstance(value, str) or said(value) == said(text)


@pytest.mark.parametrize("key", STEPS)
def test_in_every_parameter_of_a_step(tmp_path: Path, key: str) -> None:
    names = [one.name for one in parameters_of(STEPS[key])]
    entries = [
        {"id": f"e{number}-{place}", "start": "R L", "steps": [{key: {name: text}}]}
        for place, name in enumerate(names)
        for number, text in enumerate(STRINGS[place :: 2 * len(names)])
    ]
    file = tmp_path / "c.yaml"
    alone = [{"id": f"x{number}", "steps": [{key: text}]} for number, text in enumerate(STRINGS[::4])]
    file.write_text(chapter_of([*entries, *alone]))
    with bounded(120):
        lines_with(read(file).problems)


def test_as_a_name_of_a_sequence_and_as_its_order(tmp_path: Path) -> None:
    file = tmp_path / "c.yaml"
    named = "".join(f"  {quoted(text)}: R L\n  s{number}: {quoted(text)}\n" for number, text in enumerate(STRINGS))
    file.write_text(f"chapter: C\nsequences:\n{named}exercises: [{{id: a, start: R}}]\n")
    reading = read(file)
    wrong = lines_with(reading.problems)
    assert reading.manuscript is not None
    for sequence in reading.manuscript.chapters[0].sequences:
        assert sequence.mark.line in wrong or sequence.name in STRINGS or sequence.order is not None


@pytest.mark.parametrize("key", [key for key in tuple(BookText.keys()) if key not in ("chapters", "editions")])
def test_in_every_key_of_a_book(tmp_path: Path, key: str) -> None:
    (tmp_path / "c.yaml").write_text("chapter: C\nexercises: [{id: a, start: R L}]\n")
    for text in STRINGS[:: 2 if key == "title" else 7]:
        sound = {"title": "T", "chapters": "c.yaml", key: text}
        (tmp_path / "book.yaml").write_text("".join(f"{name}: {written(one)}\n" for name, one in sound.items()))
        reading = read(tmp_path)
        wrong = lines_with(reading.problems)
        value = getattr(reading.manuscript, key.replace("-", "_"), None)
        assert wrong or not isinstance(value, str) or said(value) == said(text)


def test_as_a_file_of_a_chapter_and_as_an_edition(tmp_path: Path) -> None:
    folder = tmp_path / "book"
    folder.mkdir()
    editions = "".join(f"  {quoted(text)}: {{style: {quoted(text)}}}\n" for text in STRINGS)
    names = "".join(f"  - {quoted(text)}\n" for text in STRINGS[:190])
    (folder / "book.yaml").write_text(f"title: T\neditions:\n{editions}chapters:\n{names}")
    problems = read(folder).problems
    lines_with(problems)
    assert all(problem.mark.file.parent == folder for problem in problems)
    # No name of a chapter is one of a file that is there.
    first = len(STRINGS) + 4
    assert {problem.mark.line for problem in problems} >= set(range(first, first + 190))


@pytest.mark.parametrize("model", [CurriculumKeys, TermText], ids=lambda model: model.__name__)
def test_in_every_key_of_a_curriculum(tmp_path: Path, model: type[Marked]) -> None:
    file = tmp_path / "curriculum.yaml"
    for key in tuple(model.keys()):
        for text in STRINGS[::17]:
            term = {"term": "T", "weeks": "1", "chapters": "b"}
            whole: dict[str, Any] = {"title": "T", "books": "b", "terms": [term]}
            (term if model is TermText else whole)[key] = text
            file.write_text("".join(f"{name}: {written(one)}\n" for name, one in whole.items()))
            lines_with(read_curriculum(file).problems)


def test_in_every_cell_of_a_roster(tmp_path: Path) -> None:
    file = tmp_path / "students.csv"
    for place, column in enumerate(COLUMNS):
        rows = ['"' + text.replace('"', '""') + '"' for text in STRINGS if text.isprintable()]
        lines = [",".join(["Ada", "", "", "", ""][:place] + [row] + [""] * (4 - place)) for row in rows]
        file.write_bytes("\n".join([",".join(COLUMNS), *lines]).encode())
        roster = read_roster(file)
        wrong = lines_with(roster.problems)
        for student in roster.students:
            line = student.mark("name").line
            cell = student.cells[column].text.replace('"', '""')
            assert line in wrong or f'"{cell}"' == rows[line - 2] or cell == rows[line - 2][1:-1].strip()


@pytest.mark.parametrize("text", [text for text in STRINGS if not text.isprintable()])
def test_what_is_not_seen_is_no_cell_of_a_roster(tmp_path: Path, text: str) -> None:
    file = tmp_path / "students.csv"
    file.write_bytes(f"name\n{text}x\n".encode("utf-8", "surrogatepass"))
    try:
        roster = read_roster(file)
    except BookError as error:
        assert lines_with(error.problems)
    else:
        assert roster.problems or not UNSEEN & {
            category(one) for student in roster.students for one in student.name
        }


def text_places(part: type[Part], *way: str) -> list[tuple[str, ...]]:
    """Every place in a style, by the keys that lead there."""
    found: list[tuple[str, ...]] = []
    for name, field in part.model_fields.items():
        key = field.alias or name
        inner = field.annotation
        if isinstance(inner, type) and issubclass(inner, Part):
            found += text_places(inner, *way, key)
        elif (*way, key) != ("name",):
            found.append((*way, key))
    return found


def test_in_every_key_of_a_style(tmp_path: Path) -> None:
    file = tmp_path / "own.yaml"
    places = text_places(Style)
    assert len(places) > 60
    for number, text in enumerate(STRINGS * 2):
        way = places[number % len(places)]
        inner: Any = text
        for key in reversed(way):
            inner = {key: inner}
        file.write_text("".join(f"{key}: {written(one)}\n" for key, one in inner.items()))
        try:
            load_style("own", tmp_path)
        except BookError as error:
            lines_with(error.problems)


def test_as_the_name_of_a_style(tmp_path: Path) -> None:
    asked = Mark(tmp_path / "book.yaml", 3, 8)
    for text in STRINGS:
        with pytest.raises(BookError) as error:
            load_style(text, tmp_path, asked)
        assert [problem.mark for problem in error.value.problems] == [asked]
        assert lines_with(error.value.problems)


def test_every_declared_model_of_entries_is_tried() -> None:
    named = {"id", "series", "task", "text"}
    declared = {model for model in _all_of(Marked) if named & {*model.keys()}}
    assert declared <= {model for model, _ in keys_of_entries()}


def _all_of(model: type[Marked]) -> set[type[Marked]]:
    return {model, *(inner for below in model.__subclasses__() for inner in _all_of(below))}
