"""Errors of YAML's syntax in plain words, and reading on after them."""

from collections.abc import Callable

import pytest
import yaml

from typeset.manuscript import Reading, parse

Said = Callable[[str], list[str]]

HEAD = "chapter: C\nexercises:\n  - id: a\n    start: R L\n"

MISTAKES = [
    ("    title: Stairs: the turn\n", "5:18: ': ' inside text ends a key; put the text in quotes"),
    ('    title: "Go" now\n', "5:17: this cannot follow what stands before it; put quotes round the whole text"),
    ("    title: [a](b)\n", "5:15: this cannot follow what stands before it; put quotes round the whole text"),
    ("    title: 'tis\n", "5:12: this quote is never closed"),
    ("    title: *Slow* now\n", "5:12: text that begins with * needs quotes; YAML takes it for an alias"),
    ("    title: @home\n", "5:12: a value cannot begin with @; put the text in quotes"),
    ("    title: %5\n", "5:12: a value cannot begin with %; put the text in quotes"),
    ("    title: `x`\n", "5:12: a value cannot begin with `; put the text in quotes"),
    ("    title: - x\n", "5:12: a list begins on a line of its own; text that begins with - needs quotes"),
    ("    title: ? x\n", "5:12: text that begins with ? needs quotes"),
    ("    title: | x\n", "5:14: after | or > the line ends, and the text follows below, indented"),
    ("\ttitle: x\n", "5:1: this line is indented with a tab; use spaces"),
    ("    steps:\n  \t  - rotate: 1\n", "6:3: this line is indented with a tab; use spaces"),
    ("   title: x\n", "5:4: this line is not indented like those above it that it belongs to"),
    (
        "     title: x\n",
        "5:6: this key does not go with the lines above: check how far it is indented, "
        "and that the line above has a space after its colon",
    ),
    ("    steps: [rotate: 1\n  - id: b\n    start: K\n", "5:12: this [ has no ]"),
    ("    steps: [{fit: 2]\n", "5:20: a comma or } is missing before this"),
    ("    steps: [{accent: [1,, 3]}]\n", "5:25: a value is missing before this ,"),
    ("    ? [a]\n    : b\n", "5:7: a key has to be a word; text that begins with { or [ belongs in quotes"),
    ("    *a : b\n", "5:5: a key has to be a word; text that begins with * belongs in quotes"),
    ("...\nmore\n", "6:1: this does not go with the lines above; is it indented too little?"),
]  # fmt: skip


@pytest.mark.parametrize(("lines", "message"), MISTAKES)
def test_an_error_of_syntax_is_said_in_plain_words_at_its_place(said: Said, lines: str, message: str) -> None:
    assert said(HEAD + lines) == [message]


def test_a_backslash_in_double_quotes_is_explained(said: Said) -> None:
    assert said(HEAD + '    title: "a\\qb"\n') == [
        "5:14: in double quotes a backslash begins a special sign; use single quotes"
    ]


def test_a_quote_that_closes_lines_later_is_reported_where_it_opens(said: Said) -> None:
    assert said(HEAD + '    title: "foo\n  - id: b\n    title: "bar"\n    start: K\n') == [
        "5:12: this quote ends only on line 7; is one missing before that?"
    ]


@pytest.mark.parametrize(("lines", "message"), MISTAKES)
def test_the_slower_parser_in_python_is_understood_as_well(
    said: Said, monkeypatch: pytest.MonkeyPatch, lines: str, message: str
) -> None:
    monkeypatch.setattr(parse, "_LOADER", yaml.SafeLoader)
    (found,) = said(HEAD + lines)
    assert found.split(": ")[1] == message.split(": ")[1]


@pytest.mark.parametrize("lines", [lines for lines, _ in MISTAKES if not lines.startswith("...")])
def test_reading_goes_on_at_the_next_exercise(chapter: Callable[[str], Reading], lines: str) -> None:
    reading = chapter(HEAD + lines + "  - id: z\n    strat: R\nsequences: {q: R Q}\n")
    assert [one.what.split(";")[0] for one in reading.problems[1:]] == [
        "there is no key 'strat' here",
        "'Q' is no stroke",
    ]
    assert reading.manuscript is not None
    ids = [exercise.id for exercise in reading.manuscript.chapters[0].exercises]
    assert ids[0] == "a" and ids[-1] == "z"
    assert reading.manuscript.chapters[0].exercises[0].broken


@pytest.mark.parametrize("indent", ["", "  ", "    "])
def test_exercises_may_be_indented_as_their_author_likes(said: Said, indent: str) -> None:
    entries = ["- id: a", "  title: 'x' y", "- id: b", "  strat: R", "- id: c", "  title: 'x' y"]
    text = "chapter: C\nexercises:\n" + "".join(f"{indent}{entry}\n" for entry in entries) + "set: {gird: 8ths}\n"
    assert [line.split(":")[0] for line in said(text)] == ["4", "6", "8", "9"]


@pytest.mark.parametrize("first", ["chapter: A: B\n", "chapter: 'A' B\n", "set: {meter: 4/4\n", "set: @\n"])
def test_reading_goes_on_at_the_next_key_of_the_file(said: Said, first: str) -> None:
    found = said(first + "exercises:\n  - id: b\n    strat: R\n")
    assert [line.split(":")[0] for line in found] == ["1", "4"]


def test_an_exercise_whose_first_lines_cannot_be_read_keeps_its_id(chapter: Callable[[str], Reading]) -> None:
    reading = chapter("chapter: C\nexercises:\n  - id: a6\n\tstart: R\n  - {id: b, start: a6}\n")
    assert reading.manuscript is not None
    assert [exercise.id for exercise in reading.manuscript.chapters[0].exercises] == ["a6", "b"]
