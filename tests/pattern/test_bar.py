from fractions import Fraction

import pytest

from typeset.pattern.bar import Pattern, empty_bar, pickup_bar
from typeset.pattern.counts import counts_of
from typeset.pattern.grid import Grid
from typeset.pattern.meter import Meter
from typeset.pattern.order import read_order, write_order


def pickup(order: str, meter: str = "4/4", grid: str = "16ths") -> str:
    bar = pickup_bar(Meter.parse(meter), Grid.of(grid), read_order(order))
    counts = " ".join(map(str, counts_of(bar)))
    return f"{write_order(bar.slots)} on {counts}"


def test_slots_begin_one_after_the_other_from_the_barline() -> None:
    bar = empty_bar(Meter.parse("3/4"), Grid.of("quarters", "8ths", "triplets"))
    assert bar.onsets == (0, Fraction(1, 4), Fraction(3, 8), Fraction(1, 2), Fraction(7, 12), Fraction(2, 3))


def test_bars_take_as_many_slots_as_they_have() -> None:
    pattern = Pattern((empty_bar(Meter.parse("2/4"), Grid.of("8ths")),) * 2)
    filled = pattern.with_slots(read_order("R L R L K . K ."))
    assert [write_order(bar.slots) for bar in filled.bars] == ["R L R L", "K . K ."]


@pytest.mark.parametrize(
    ("order", "meter", "grid", "expected"),
    [
        ("L", "4/4", "16ths", "L on 4a"),
        ("R L K", "4/4", "16ths", "R L K on 4e 4& 4a"),
        ("R L R L K", "4/4", "16ths", "R L R L K on 3a 4 4e 4& 4a"),
        ("R L", "4/4", "triplets", "R L on 4trip 4let"),
        ("R L", "4/4", "sextuplets", "R L on 4.5 4.6"),
        ("K", "6/8", "8ths", "K on 6"),
    ],
)
def test_a_pickup_is_the_end_of_a_bar(order: str, meter: str, grid: str, expected: str) -> None:
    assert pickup(order, meter, grid) == expected


def test_a_pickup_knows_what_it_lacks() -> None:
    assert pickup_bar(Meter.parse("4/4"), Grid.of("8ths"), read_order("R")).lead == Fraction(7, 8)
    assert empty_bar(Meter.parse("4/4"), Grid.of("8ths")).lead == 0


def test_a_pickup_is_shorter_than_a_bar() -> None:
    with pytest.raises(ValueError, match="shorter than a bar"):
        pickup("R L R L", "2/4", "8ths")


def ended(*endings: int, bars: int = 3) -> Pattern:
    return Pattern((empty_bar(Meter.parse("2/4"), Grid.of("8ths")),) * bars, endings=endings)


def test_each_pass_goes_on_to_the_next_ending() -> None:
    assert ended(1, 1, bars=4).passes() == ((0, 1, 2), (0, 1, 3))
    assert ended(1, 2, bars=5).course == (0, 1, 2, 0, 1, 3, 4)


def test_of_more_passes_the_first_ending_takes_those_that_are_over() -> None:
    assert ended(1, 1).turns(4) == ((1, 2, 3), (4,))
    assert ended(1, 1).passes(4) == ((0, 1), (0, 1), (0, 1), (0, 2))


def test_of_fewer_passes_the_last_endings_are_played() -> None:
    assert ended(1, 1).turns(1) == ((), (1,))
    assert ended(1, 1).passes(1) == ((0, 2),)


def test_without_endings_every_pass_is_the_same() -> None:
    assert ended().passes(2) == ((0, 1, 2), (0, 1, 2))
    assert ended().course == (0, 1, 2) and ended().played == ended().bars


def test_other_slots_leave_the_endings_where_they_are() -> None:
    assert ended(1, 1).with_slots([()] * 12).endings == (1, 1)


def test_other_slots_leave_the_time_as_it_is() -> None:
    whole = empty_bar(Meter.parse("3/4"), Grid.of("8ths", "triplets", "16ths"))
    other = whole.with_slots(read_order("R L R L R L R L R"))
    assert other.onsets == whole.onsets
    assert other.shape == whole.shape == ((1, 4, 2), (1, 4, 3), (1, 4, 4))


def test_the_shortest_slots_of_a_bar_are_those_of_its_finest_beat() -> None:
    assert empty_bar(Meter.parse("2/4"), Grid.of("8ths", "triplets")).shortest == Fraction(1, 12)
