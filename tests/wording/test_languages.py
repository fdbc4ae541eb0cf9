"""The catalogues of all languages beside the English ones: no gap, nothing left over, nothing left in English."""

from __future__ import annotations

import re
import string
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
import yaml

import typeset.wording
from typeset.pattern.steps import STEPS
from typeset.pattern.steps.order import Rotate
from typeset.wording.catalogue import languages, wording
from typeset.wording.sentences import say

SHELF = Path(typeset.wording.__file__).parent
SHARED = Path(__file__).parents[2] / "shared" / "sequences"
OTHERS = tuple(language for language in languages() if language != "en")

FORMED = ("limbs", "sounds", "grids", "numbers", "ordinals", "ordinal-beyond", "times")
"""Sections of the sentences whose entries have whatever forms a language needs."""

ALIKE_EVERYWHERE = {
    "pages.care.level": "a unit",
    "pages.imprint.isbn": "a standard's name",
    "pages.plan.practice": "an international abbreviation",
    "plurals.one": "a number",
    "spoken.colon": "punctuation",
    "spoken.then": "punctuation",
    "each.sequence": "what it is called",
    "each.orders": "letters",
    "each.voice": "who plays what",
    "meter.plain": "figures",
    "meter.grouped": "figures",
    "steps.voice.plain": "who plays what",
    "phrase.times": "a number of times",
    "list.comma": "punctuation",
    "groups.comma": "punctuation",
    "count-in-bar": "a number",
}
"""What may read as in English in every language, and why."""

ALIKE = {
    "de": {
        "sounds.cross-stick": "said in English at the kit",
        "pages.sheet.name": "the same word",
        "pages.care.minutes.one": "the same word",
        "spoken.flam": "said in English at the kit",
        "spoken.drag": "said in English at the kit",
        "spoken.buzz": "said in English at the kit",
        "spoken.diddle": "said in English at the kit",
    },
    "es": {
        "pages.index.page": "the same abbreviation",
        "spoken.flam": "said in English at the kit",
        "spoken.drag": "said in English at the kit",
        "spoken.buzz": "said in English at the kit",
        "spoken.diddle": "said in English at the kit",
    },
    "fr": {
        "pages.sheet.date": "the same word",
        "pages.sheet.notes": "the same word",
        "pages.sheet.key.accent": "the same word",
        "pages.care.minutes.many": "the same word",
        "pages.index.title": "the same word",
        "pages.index.page": "the same abbreviation",
        "spoken.silence": "the same word",
        "spoken.accent": "the same word",
        "spoken.buzz": "said in English at the kit",
        "spoken.diddle": "said in English at the kit",
        "tasks.silence": "the same word",
        "each.accents.one": "the same word",
        "each.accents.many": "the same word",
    },
    "pt": {
        "pages.index.page": "the same abbreviation",
        "spoken.flam": "said in English at the kit",
        "spoken.drag": "said in English at the kit",
        "spoken.buzz": "said in English at the kit",
        "spoken.diddle": "said in English at the kit",
    },
}
"""The same for one language."""

PLAIN_ASCII = re.compile(r"['\"]|\.\.\.")


def tree(name: str) -> dict[str, Any]:
    """A catalogue as it is written."""
    read: dict[str, Any] = yaml.load((SHELF / f"{name}.yaml").read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    return read


def flat(entries: Mapping[str, Any], prefix: str = "") -> Iterator[tuple[str, Any]]:
    """Every entry that is not a section, with the keys that lead to it."""
    for key, value in entries.items():
        if isinstance(value, dict):
            yield from flat(value, f"{prefix}{key}.")
        else:
            yield f"{prefix}{key}", value


def sentences(language: str) -> dict[str, Any]:
    """A language's sentences without the sections that differ by grammar; in English with those of the steps."""
    read = tree(f"sentences/{language}")
    if language == "en":
        read["steps"] |= {key: dict(step.says) for key, step in STEPS.items()}
    return {key: value for key, value in read.items() if key not in (*FORMED, "sequences", "articles")}


def placeholders(template: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(template) if name is not None}


def phrases(entry: Any) -> list[str]:
    """All the phrases of an entry, whatever forms it has."""
    if isinstance(entry, dict):
        return [phrase for value in entry.values() for phrase in phrases(value)]
    return [one for value in entry for one in phrases(value)] if isinstance(entry, list) else [str(entry)]


def beside(
    english: Mapping[str, Any], other: Mapping[str, Any], prefix: str = ""
) -> Iterator[tuple[str, Any, Any]]:
    """Each English phrase with the other language's entry for it, a phrase or phrases by form; gaps are None."""
    for key in english.keys() | other.keys():
        name, ours, theirs = f"{prefix}{key}", english.get(key), other.get(key)
        if isinstance(ours, dict) and isinstance(theirs, dict):
            yield from beside(ours, theirs, f"{name}.")
        else:
            yield name, ours, theirs


def test_every_language_that_a_book_may_name_has_both_catalogues() -> None:
    assert set(languages()) >= {"de", "en", "es", "fr", "pt"}
    assert {file.stem for file in (SHELF / "sentences").glob("*.yaml")} == set(languages())


@pytest.mark.parametrize("language", OTHERS)
def test_a_language_has_the_phrases_of_english_and_no_others(language: str) -> None:
    english, other = dict(flat(tree("en"))), dict(flat(tree(language)))
    assert sorted(english.keys() ^ other.keys()) == []


@pytest.mark.parametrize("language", OTHERS)
def test_a_language_has_the_sentences_of_english_and_of_every_step_and_no_others(language: str) -> None:
    pairs = beside(sentences("en"), sentences(language))
    assert [name for name, english, other in pairs if english is None or other is None] == []


@pytest.mark.parametrize("language", OTHERS)
@pytest.mark.parametrize("section", ["limbs", "sounds", "grids"])
def test_a_language_has_words_for_everything_that_plays_all_in_the_same_forms(language: str, section: str) -> None:
    entries = tree(f"sentences/{language}")[section]
    assert entries.keys() == tree("sentences/en")[section].keys()
    assert len({tuple(sorted(one)) if isinstance(one, dict) else "" for one in entries.values()}) == 1


@pytest.mark.parametrize("language", OTHERS)
def test_a_language_says_what_the_english_phrase_says_of_its_values(language: str) -> None:
    english, other = dict(flat(tree("en"))), dict(flat(tree(language)))
    wrong = [
        key for key in english if placeholders(english[key]) - {"count"} != placeholders(other[key]) - {"count"}
    ]
    assert wrong == []


@pytest.mark.parametrize("language", OTHERS)
def test_a_sentence_says_all_its_values(language: str) -> None:
    wrong = [
        (name, phrase)
        for name, english, other in beside(sentences("en"), sentences(language))
        if not name.startswith("selection.every")  # which says the number, or the ordinal
        for phrase in phrases(other)
        if placeholders(phrase) != placeholders(phrases(english)[0])
    ]
    assert wrong == []


@pytest.mark.parametrize("language", OTHERS)
def test_a_form_that_a_sentence_asks_for_is_one_that_its_words_have(language: str) -> None:
    read = tree(f"sentences/{language}")
    forms = {form for section in (*FORMED, "sequences") for form in _forms(read.get(section, {}))}
    forms |= {
        form for section in ("selection", "bars", "slots", "strokes", "phrase") for form in _forms(read[section])
    }
    asked = {
        spec
        for phrase in phrases({key: value for key, value in read.items() if key != "sequences"})
        for _, _, spec, _ in string.Formatter().parse(phrase)
        if spec
    }
    assert asked - forms == set()


def _forms(entry: Any) -> set[str]:
    """The keys of the mappings that hold phrases."""
    if isinstance(entry, list):
        return {form for one in entry for form in _forms(one)}
    if not isinstance(entry, dict):
        return set()
    inner = {form for value in entry.values() for form in _forms(value)}
    return inner | {key for key, value in entry.items() if isinstance(value, str)}


@pytest.mark.parametrize("language", OTHERS)
def test_shared_sequences_are_called_something_in_every_language(language: str) -> None:
    groups = (yaml.load(file.read_text(encoding="utf-8"), Loader=yaml.BaseLoader) for file in SHARED.glob("*.yaml"))
    titles = {
        one["title"] for group in groups for one in group.values() if isinstance(one, dict) and "title" in one
    }
    assert tree(f"sentences/{language}")["sequences"].keys() ^ titles == set()


@pytest.mark.parametrize("language", OTHERS)
def test_nothing_is_left_in_english_but_what_reads_alike(language: str) -> None:
    same = as_in_english(language)
    assert same - ALIKE_EVERYWHERE.keys() - ALIKE[language].keys() == set()
    assert ALIKE[language].keys() - same == set()


def test_what_may_read_alike_does_somewhere() -> None:
    assert ALIKE_EVERYWHERE.keys() - set().union(*map(as_in_english, OTHERS)) == set()


def as_in_english(language: str) -> set[str]:
    """The keys of what reads as in English, capitals aside."""
    english, other = dict(flat(tree("en"))), dict(flat(tree(language)))
    same = {key for key in english if english[key].casefold() == other[key].casefold()}
    return same | {
        name
        for name, ours, theirs in beside(sentences("en"), sentences(language))
        if any(phrase.casefold() == phrases(ours)[0].casefold() for phrase in phrases(theirs))
    }


@pytest.mark.parametrize("language", languages())
def test_apostrophes_quotes_and_dots_are_as_printers_set_them(language: str) -> None:
    read = [*flat(tree(language)), *flat(tree(f"sentences/{language}"))]
    assert [key for key, entry in read if any(PLAIN_ASCII.search(phrase) for phrase in phrases(entry))] == []


def test_french_keeps_its_double_signs_off_the_line_before_them() -> None:
    read = [*flat(tree("fr")), *flat(tree("sentences/fr"))]
    loose = re.compile(r"[^\u00a0][;:!?»](\s|$)|«[^\u00a0]")
    words = [(key, phrase) for key, entry in read for phrase in phrases(entry) if loose.search(phrase)]
    assert words == []


@pytest.mark.parametrize(
    ("language", "said"),
    [
        ("en", "Begin at the 22nd stroke."),
        ("de", "Beginne beim 22. Schlag."),
        ("es", "Empieza por el 22.º golpe."),
        ("fr", "Commencez à la 22e frappe."),
        ("pt", "Comece no 22.º golpe."),
    ],
)
def test_large_numbers_are_counted_as_the_language_does(language: str, said: str) -> None:
    assert say(Rotate(21).sentence(), language) == said


@pytest.mark.parametrize(
    ("number", "said"), [(13, "13th"), (21, "21st"), (22, "22nd"), (23, "23rd"), (40, "40th"), (111, "111th")]
)
def test_english_ordinals_end_as_they_are_said(number: int, said: str) -> None:
    assert say(Rotate(number - 1).sentence()) == f"Begin at the {said} stroke."


@pytest.mark.parametrize("language", ["es", "fr", "de", "pt"])
def test_numbers_take_the_form_of_their_language(language: str) -> None:
    assert wording(language).plural(1) == "one"
    assert wording(language).plural(2) == wording(language).plural(21) == "many"
    assert wording(language).plural(0) == ("one" if language == "fr" else "many")
