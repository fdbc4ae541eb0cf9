"""Words are parted as their language parts them, and only where lines would be very uneven without."""

import pytest

from typeset.page.families import CUTS
from typeset.page.hyphens import syllables
from typeset.page.marks import Words
from typeset.page.paragraph import Look, lines_of, title_lines, words_of
from typeset.page.setting import points
from typeset.wording.markup import Span

GERMAN = (
    "Die Unabhängigkeit der Gliedmaßen entsteht nicht durch Geschwindigkeit, sondern durch Wiederholungen, "
    "die unverkrampft und gleichmäßig bleiben."
)


def lines(text: str, width: float, language: str | None) -> list[str]:
    look = Look(CUTS["source-serif"], 9.5, 12, language=language)
    return [
        "".join(mark.words for mark in line.marks(0, 0) if isinstance(mark, Words))
        for line in lines_of(words_of([Span(text)], look), points(width))
    ]


@pytest.mark.parametrize(
    ("language", "word", "parts"),
    [
        ("en", "independence", "in-de-pend-ence"),
        ("es", "independencia", "in-de-pen-den-cia"),
        ("fr", "indépendance", "in-dé-pen-dance"),
        ("pt", "independência", "in-de-pen-dên-cia"),
        ("en-GB", "(repetitions),", "(re-pe-ti-tions),"),
        ("en", "drums", "drums"),
        ("en", "3&", "3&"),
        ("en", "hi-hat", "hi-hat"),
        ("tlh", "independence", "independence"),
    ],
)
def test_a_word_has_the_parts_that_its_language_gives_it(language: str, word: str, parts: str) -> None:
    found = syllables(word, language)
    assert "".join(found) == word
    assert "-".join(found) == parts


def test_a_word_with_a_hyphen_of_its_own_may_end_a_line_with_it() -> None:
    assert syllables("Crash-Becken", None) == ("Crash-", "Becken")
    assert syllables("Crash-Becken", "de") == ("Crash-", "Be", "cken")
    assert syllables("Hi-Hat-Fuß", "de") == ("Hi-Hat-", "Fuß")
    assert syllables("98-126", "de") == ("98-126",)


def test_a_word_wider_than_its_line_is_parted_before_it_is_cut() -> None:
    assert lines("Crash-Becken", 15, None) == ["Crash-", "Becken"]
    assert lines("Sechzehntelnoten", 18, "de") == ["Sechzehn-", "telnoten"]


def test_words_stay_whole_where_lines_are_even_enough() -> None:
    assert not [line for line in lines(GERMAN, 118, "en") if line.endswith("-")]


def test_words_are_parted_in_a_narrow_column_and_nothing_is_lost() -> None:
    text = "Repetitions understandably notwithstanding, considerably relaxed independence develops."
    whole, parted = lines(text, 38, None), lines(text, 38, "en")
    assert not [line for line in whole if line.endswith("-")]
    assert [line for line in parted if line.endswith("-")]
    joined = "".join(line[:-1] if line.endswith("-") else f"{line} " for line in parted)
    assert joined.strip() == text


def test_a_title_parts_no_word_that_a_line_can_hold() -> None:
    look = Look(CUTS["source-serif"], 9.5, 12, language="en")
    title = "Repetitions understandably notwithstanding"
    whole = title_lines(title, look, points(30))
    assert [len(line.words) for line in whole] == [1, 1, 1]
    assert len(title_lines(title, look, points(15))) > 3


def test_a_parted_line_is_no_wider_than_its_room() -> None:
    look = Look(CUTS["source-serif"], 9.5, 12, language="en")
    for width in range(24, 60, 3):
        for line in lines_of(words_of([Span(GERMAN * 2)], look), points(width)):
            assert line.width <= points(width) + 0.01
