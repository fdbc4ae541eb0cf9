import pytest

from typeset.pattern.grid import GRIDS, Grid, GridError, divide
from typeset.pattern.meter import Meter


def slots(meter: str, *names: str) -> list[int]:
    return [count for _, count in divide(Meter.parse(meter), Grid.of(*names))]


@pytest.mark.parametrize(("name", "count"), GRIDS.items())
def test_a_grid_divides_every_quarter(name: str, count: int) -> None:
    assert slots("4/4", name) == [count] * 4


def test_a_list_gives_one_grid_to_each_quarter() -> None:
    assert slots("4/4", "16ths", "16ths", "sextuplets", "16ths") == [4, 4, 6, 4]


def test_a_short_list_is_repeated_until_the_bar_is_full() -> None:
    assert slots("5/4", "8ths", "triplets") == [2, 3, 2, 3, 2]


def test_halves_that_are_divided_alike_stay_one_beat() -> None:
    assert slots("2/2", "8ths") == [4, 4]


def test_halves_that_are_divided_unlike_fall_into_quarters() -> None:
    assert slots("2/2", "16ths", "sextuplets") == [4, 6, 4, 6]


@pytest.mark.parametrize(("name", "expected"), [("8ths", [2, 2, 3]), ("16ths", [4, 4, 6]), ("32nds", [8, 8, 12])])
def test_eighths_are_divided_by_groups(name: str, expected: list[int]) -> None:
    assert slots("7/8", name) == expected


@pytest.mark.parametrize(
    ("meter", "names", "part"),
    [
        ("6/8", ("triplets",), "do not go with 6/8"),
        ("6/8", ("8ths", "16ths"), "a list of grids goes with x/4"),
    ],
)
def test_a_grid_that_does_not_go_with_the_meter_is_refused(meter: str, names: tuple[str, ...], part: str) -> None:
    with pytest.raises(GridError, match=part):
        slots(meter, *names)


def test_an_unknown_grid_lists_those_there_are() -> None:
    with pytest.raises(GridError, match="'64ths' is no grid; there are quarters, 8ths"):
        Grid.of("64ths")
