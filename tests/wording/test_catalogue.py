"""The catalogues of phrases."""

import pytest

from typeset.wording import wording
from typeset.wording.catalogue import languages


def test_a_phrase_is_found_by_its_key_and_filled_in() -> None:
    assert wording("en").say("exercise.from", number="1.2") == "from 1.2"


def test_a_language_without_a_catalogue_is_english() -> None:
    assert wording("tlh")["pages.contents"] == wording("en")["pages.contents"]


def test_a_key_that_nobody_wrote_is_an_error() -> None:
    with pytest.raises(KeyError):
        wording("en")["pages.nothing"]


@pytest.mark.parametrize("language", [name for name in languages() if name != "en"])
def test_no_language_has_a_phrase_that_english_lacks(language: str) -> None:
    assert set(wording(language).phrases) == set(wording("en").phrases)
