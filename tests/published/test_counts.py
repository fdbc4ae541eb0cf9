"""Counts and places. Common practice, no source: what every player says of a bar."""

import pytest

from typeset.pattern.bar import Pattern, empty_bar
from typeset.pattern.counts import Place, find
from typeset.pattern.grid import Grid
from typeset.pattern.meter import Meter


@pytest.mark.parametrize(
    ("grid", "place", "nth"),
    [("16ths", "1a", 4), ("16ths", "3e", 10), ("16ths", "4&", 15), ("triplets", "2let", 6)],
)
def test_a_place_in_four_four_is_the_slot_that_players_mean(grid: str, place: str, nth: int) -> None:
    pattern = Pattern((empty_bar(Meter.parse("4/4"), Grid.of(grid)),))
    assert find(pattern, Place.parse(place)) == (nth - 1,)


def test_a_bar_of_sixteenths_is_four_groups_of_four() -> None:
    bar = empty_bar(Meter.parse("4/4"), Grid.of("16ths"))
    assert [len(beat.slots) for beat in bar.beats] == [4, 4, 4, 4]
