"""The check digits of ISBNs."""

import pytest

from typeset.manuscript.isbn import read_isbn
from typeset.manuscript.plain import Wrong

# The example in the International ISBN Agency's Users' Manual, from memory, and its older form.
SOUND = ("978-3-16-148410-0", "9783161484100", "3-16-148410-X", "316148410X")


@pytest.mark.parametrize("isbn", SOUND)
def test_a_sound_isbn_is_kept_as_it_was_written(isbn: str) -> None:
    assert read_isbn(isbn) == isbn


@pytest.mark.parametrize("isbn", ["9783161484100", "316148410X"])
def test_any_one_wrong_digit_is_found(isbn: str) -> None:
    for place, right in enumerate(isbn):
        for digit in "0123456789":
            if digit != right:
                with pytest.raises(Wrong):
                    read_isbn(isbn[:place] + digit + isbn[place + 1 :])


@pytest.mark.parametrize("isbn", ["978", "978316148410X", "abc", "9783161484100 2", "1233161484107"])
def test_what_is_no_isbn_at_all_is_said_so(isbn: str) -> None:
    with pytest.raises(Wrong, match="is no ISBN"):
        read_isbn(isbn)
