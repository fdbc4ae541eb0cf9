"""The click: on the beats, higher on the first, softer between."""

from __future__ import annotations

import pytest

from typeset.pattern.meter import Meter
from typeset.sound.click import HIGH_BLOCK, LOW_BLOCK, clicks_of
from typeset.sound.strokes import TICKS


def eighths(meter: str, loudest: bool = False) -> list[int]:
    """Where a bar clicks, in eighths; with `loudest` only where it clicks as hard as on a beat."""
    return [hit.tick * 8 // TICKS for hit in clicks_of(Meter.parse(meter)) if not loudest or hit.velocity > 60]


@pytest.mark.parametrize(
    ("meter", "clicks"),
    [
        ("4/4", [0, 2, 4, 6]),
        ("2/2", [0, 4]),
        ("6/8", [0, 3]),
        ("12/8", [0, 3, 6, 9]),
        ("5/4 (3+2)", [0, 2, 4, 6, 8]),
    ],
)
def test_it_clicks_what_the_tempo_counts(meter: str, clicks: list[int]) -> None:
    assert eighths(meter) == clicks


@pytest.mark.parametrize(("meter", "beats"), [("7/8", [0, 2, 4]), ("7/8 (3+2+2)", [0, 3, 5]), ("3/8", [0])])
def test_where_a_tempo_counts_eighths_the_beats_stand_out_of_them(meter: str, beats: list[int]) -> None:
    assert eighths(meter) == list(range(int(meter[0])))
    assert eighths(meter, loudest=True) == beats


def test_the_first_click_of_a_bar_is_the_high_one() -> None:
    assert [hit.key for hit in clicks_of(Meter.parse("3/4"))] == [HIGH_BLOCK, LOW_BLOCK, LOW_BLOCK]
