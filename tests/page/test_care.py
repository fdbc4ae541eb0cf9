"""The hearing table against its source."""

from fractions import Fraction

import pytest

from typeset.page.care import LEVELS, longest_exposure, time_words
from typeset.wording import wording


def test_the_hearing_table_is_that_of_niosh_98_126() -> None:
    """NIOSH publication 98-126 (1998): 85 dBA for 8 hours, 3 dB exchange."""
    printed = [time_words(longest_exposure(level), wording("en")) for level in LEVELS]
    assert dict(zip(LEVELS, printed, strict=True)) == {
        85: "8 hours",
        88: "4 hours",
        91: "2 hours",
        94: "1 hour",
        97: "30 minutes",
        100: "15 minutes",
    }


def test_times_are_exact_halves() -> None:
    assert longest_exposure(103) == Fraction(1, 8)


def test_a_level_between_steps_has_no_entry() -> None:
    with pytest.raises(ValueError, match="not a whole number"):
        longest_exposure(86)
