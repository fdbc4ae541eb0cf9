"""What YAML would silently eat is an error with its remedy."""

from collections.abc import Callable
from itertools import pairwise

import pytest

Said = Callable[[str], list[str]]

HEAD = "chapter: C\nexercises:\n  - id: a\n    start: R L\n"


def test_a_comment_right_after_unquoted_prose_is_an_error(said: Said) -> None:
    assert said(HEAD + "    title: Paradiddle #3\n") == [
        "5:12: YAML drops what follows ' #' as a comment; if it belongs to the text, put quotes round it: "
        'title: "Paradiddle #3"'
    ]


@pytest.mark.parametrize("key", ["title", "say", "note"])
def test_every_key_of_prose_is_watched(said: Said, key: str) -> None:
    assert len(said(HEAD + f"    {key}: Go #3\n")) == 1


@pytest.mark.parametrize(
    "line",
    [
        'title: "Go #3"',
        "title: 'Go' # a comment",
        "title: Go#3",
        "tempo: 80 # slow",
        "say: | # a comment\n      Go #3",
        "steps: [rotate: 1] # a comment",
        "# a comment\n    title: Go",
    ],
)
def test_a_comment_elsewhere_is_a_comment(said: Said, line: str) -> None:
    assert said(HEAD + f"    {line}\n") == []


def test_prose_that_a_comment_swallows_whole_is_an_error(said: Said) -> None:
    assert said(HEAD + "    title: #3\n") == [
        "5:5: the key 'title' has no value: YAML drops what follows # as a comment; put text in quotes"
    ]


@pytest.mark.parametrize("word", ["!Go", "!", "!!str"])
def test_a_word_that_yaml_takes_for_a_tag_is_an_error(said: Said, word: str) -> None:
    assert said(HEAD + f"    title: {word} now\n") == [
        f"5:12: '{word}': text that begins with ! needs quotes; YAML takes it for a tag and drops it"
    ]


def test_an_accent_that_begins_a_sequence_wrongly_is_a_tag_too(said: Said) -> None:
    assert said("chapter: C\nsequences: {stairs: !R L}\n")[0].startswith("2:21: '!R': text that begins with !")


def test_a_mapping_without_the_space_after_its_colon_is_an_error(said: Said) -> None:
    assert said(HEAD + "    steps:\n      - voice: {R:hi-hat, L: snare}\n") == [
        "6:17: a space is missing after the colon: write R: hi-hat"
    ]


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("title:Foo\n    say: x", "5:5: a space is missing after the colon: write title: and the value"),
        ("steps: [rotate:2]", "5:13: a space is missing after the colon: write rotate: 2"),
        ("steps: {fit: {bars:2}}", "5:19: a space is missing after the colon: write bars: 2"),
        ("steps: {accent: {at:[1]}}", "5:24: a space is missing after the colon"),
    ],
)
def test_the_space_is_missed_elsewhere_too(said: Said, line: str, message: str) -> None:
    assert said(HEAD + f"    {line}\n") == [message]


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        ("    title:\n", "5:5: the key 'title' has no value; give it one, or take the key out"),
        ("    steps:\n", "5:5: the key 'steps' has no value; give it one, or take the key out"),
        ("    steps:\n      -\n", "6:8: this entry is empty; write a value after the - or take it out"),
        ("    steps: [{stop: }]\n", "5:14: the key 'stop' has no value; write stop: and its value"),
        ("    steps: [{stop}]\n", "5:14: the key 'stop' has no value; write stop: and its value"),
    ],
)
def test_a_key_or_an_entry_without_a_value_is_an_error(said: Said, lines: str, message: str) -> None:
    assert said(HEAD + lines) == [message]


@pytest.mark.parametrize("title", ["{n}", "{n} of stairs"])
def test_prose_that_begins_with_a_brace_needs_quotes(said: Said, title: str) -> None:
    assert said(HEAD + f"    title: {title}\n") == ['5:12: text that begins with { needs quotes: title: "..."']


def test_a_key_that_stands_twice_is_an_error_at_the_second(said: Said) -> None:
    assert said(HEAD + "    title: A\n    title: B\n") == [
        "6:5: the key 'title' stands here a second time; the first is on line 5"
    ]


def test_a_merge_key_is_refused(said: Said) -> None:
    assert said(HEAD + "    <<: {title: A}\n") == ["5:5: << is not offered; write the keys out"]


def test_a_second_document_is_refused(said: Said) -> None:
    assert said(HEAD + "---\nchapter: D\n") == [
        "5:1: a second document begins here; a file holds one: take the --- out"
    ]


def test_an_alias_repeats_a_value(said: Said) -> None:
    steps = "    steps: [voice: &kit {R: hi-hat, K: kick}]\n"
    assert said(HEAD + steps + "  - {id: b, start: K, steps: [voice: *kit]}\n") == []


def test_an_alias_of_nothing_was_meant_as_text(said: Said) -> None:
    assert said(HEAD + "    title: *Slow\n") == [
        "5:12: '*Slow': text that begins with * needs quotes; YAML takes it for an alias"
    ]


def test_an_anchor_that_nobody_names_was_meant_as_text(said: Said) -> None:
    assert said(HEAD + "    title: &more of it\n") == [
        "5:12: '&more': text that begins with & needs quotes; YAML takes it for an anchor"
    ]


def test_aliases_that_multiply_are_refused(said: Said) -> None:
    names = "abcdefgh"
    lines = [f"{names[0]}: &{names[0]} [1, 1, 1, 1, 1, 1, 1, 1]"]
    lines += [f"{name}: &{name} [{', '.join([f'*{before}'] * 8)}]" for before, name in pairwise(names)]
    found = said("chapter: C\n" + "\n".join(lines) + "\n")
    assert sum("aliases repeat more than 20,000 values" in line for line in found) == 1


def test_an_alias_of_what_it_stands_in_is_refused(said: Said) -> None:
    assert said(HEAD + "    steps: &x [*x]\n") == ["5:16: '*x' would repeat what it stands in; write it out"]


@pytest.mark.parametrize("steps", ["[" * 60 + "]" * 60, "[" * 5000, "{a: " * 60 + "1" + "}" * 60])
def test_deep_nesting_is_refused(said: Said, steps: str) -> None:
    found = said(HEAD + f"    steps: {steps}\n")
    assert len(found) == 1 and "stand inside each other" in found[0] and found[0].startswith("5:")


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("tempo: 080", "80"),
        ("title: no", "no"),
        ("title: 1:30", "1:30"),
        ("title: 2.10", "2.10"),
        ("title: 0x10", "0x10"),
        ("title: 2026-01-01", "2026-01-01"),
        ("title: null", "null"),
    ],
)
def test_a_scalar_stays_what_the_author_wrote(chapter: Callable[[str], object], line: str, told: str) -> None:
    reading = chapter(HEAD + f"    {line}\n")
    exercise = reading.manuscript.chapters[0].exercises[0]  # type: ignore[attr-defined]
    assert str(getattr(exercise, line.split(":")[0])) == told
