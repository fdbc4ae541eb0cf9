"""The hearing table against its source."""

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
        103: "7 minutes",
        106: "3 minutes",
    }


@pytest.mark.parametrize(
    ("level", "said"),
    [(103, "7 minutes"), (82, "16 hours"), (86, "6 hours 20 minutes"), (140, "less than a minute")],
)
def test_any_level_has_its_time_cut_to_whole_minutes(level: int, said: str) -> None:
    assert time_words(longest_exposure(level), wording("en")) == said
