"""The catalogues of phrases."""

import pytest

from typeset.wording import wording


def test_a_phrase_is_found_by_its_key_and_filled_in() -> None:
    assert wording("en").say("exercise.from", number="1.2") == "from 1.2"


def test_a_language_without_a_catalogue_is_english() -> None:
    assert wording("tlh")["pages.contents"] == wording("en")["pages.contents"]


def test_a_key_that_nobody_wrote_is_an_error() -> None:
    with pytest.raises(KeyError):
        wording("en")["pages.nothing"]


def test_what_is_printed_has_apostrophes_and_quotes_as_printers_set_them() -> None:
    assert not [key for key, words in wording("en").phrases.items() if "'" in words or '"' in words]
