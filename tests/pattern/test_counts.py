import pytest

from typeset.pattern.bar import Bar, Pattern, empty_bar
from typeset.pattern.counts import CountError, Place, counts_of, find
from typeset.pattern.grid import Grid
from typeset.pattern.meter import Meter


def bar(meter: str, *grid: str) -> Bar:
    return empty_bar(Meter.parse(meter), Grid.of(*grid))


def counts(meter: str, *grid: str) -> str:
    return " ".join(map(str, counts_of(bar(meter, *grid))))


@pytest.mark.parametrize(
    ("meter", "grid", "expected"),
    [
        ("2/4", ("quarters",), "1 2"),
        ("2/4", ("8ths",), "1 1& 2 2&"),
        ("2/4", ("triplets",), "1 1trip 1let 2 2trip 2let"),
        ("2/4", ("16ths",), "1 1e 1& 1a 2 2e 2& 2a"),
        ("2/4", ("quintuplets",), "1 1.2 1.3 1.4 1.5 2 2.2 2.3 2.4 2.5"),
        ("2/4", ("32nds",), "1 1.2 1e 1.4 1& 1.6 1a 1.8 2 2.2 2e 2.4 2& 2.6 2a 2.8"),
        ("2/4", ("16ths", "sextuplets"), "1 1e 1& 1a 2 2.2 2.3 2.4 2.5 2.6"),
        ("6/8", ("8ths",), "1 2 3 4 5 6"),
        ("3/8", ("16ths",), "1 1& 2 2& 3 3&"),
        ("3/8", ("32nds",), "1 1.2 1& 1.4 2 2.2 2& 2.4 3 3.2 3& 3.4"),
        ("2/2", ("8ths",), "1 1e 1& 1a 2 2e 2& 2a"),
    ],
)
def test_every_slot_has_its_count(meter: str, grid: tuple[str, ...], expected: str) -> None:
    assert counts(meter, *grid) == expected


def test_every_count_finds_its_own_slot() -> None:
    for meter, grid in (("4/4", "16ths"), ("4/4", "septuplets"), ("7/8", "32nds"), ("3/4", "triplets")):
        pattern = Pattern((bar(meter, grid),))
        for index, count in enumerate(counts_of(pattern.bars[0])):
            assert find(pattern, Place.parse(str(count))) == (index,)
            assert find(pattern, Place.parse(f"{count.number}.{count.nth}")) == (index,)


def test_without_a_bar_a_place_is_in_every_bar() -> None:
    pattern = Pattern((bar("4/4", "16ths"),) * 3)
    assert find(pattern, Place.parse("2&")) == (6, 22, 38)


def test_with_a_bar_it_is_there_alone() -> None:
    pattern = Pattern((bar("4/4", "16ths"),) * 3)
    assert find(pattern, Place.parse("2|3&")) == (26,)


def test_bars_that_lack_a_count_are_passed_over_where_others_have_it() -> None:
    pattern = Pattern((bar("4/4", "16ths"), bar("3/4", "16ths")))
    assert find(pattern, Place.parse("4")) == (12,)


def test_a_count_that_the_grid_lacks_lists_those_it_has() -> None:
    with pytest.raises(CountError, match="no count 3e here; this bar of 2/4 has 1 1& 2 2&"):
        find(Pattern((bar("2/4", "8ths"),)), Place.parse("3e"))


def test_a_bar_that_there_is_not_is_named() -> None:
    with pytest.raises(CountError, match=r"no bar 3 for 3\|1; there are 2 bars"):
        find(Pattern((bar("4/4", "8ths"),) * 2), Place.parse("3|1"))


@pytest.mark.parametrize("text", ["", "e", "3x", "3.", "0", "0|1", "1.0", "1|", "3&a", "1 2"])
def test_what_is_no_count_says_how_one_is_written(text: str) -> None:
    with pytest.raises(CountError, match="is no count"):
        Place.parse(text)


@pytest.mark.parametrize("text", ["3", "3e", "3&", "3a", "2trip", "2let", "2.4", "2|3&", "2|2.10"])
def test_a_place_is_written_as_it_was_read(text: str) -> None:
    assert str(Place.parse(text)) == text
