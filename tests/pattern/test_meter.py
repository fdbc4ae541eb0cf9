from fractions import Fraction

import pytest

from typeset.pattern.meter import Meter, MeterError


def beats(text: str) -> list[str]:
    return [str(beat) for beat in Meter.parse(text).beats]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("4/4", ["1/4"] * 4),
        ("2/2", ["1/2"] * 2),
        ("3/8", ["3/8"]),
        ("6/8", ["3/8"] * 2),
        ("12/8", ["3/8"] * 4),
        ("5/8", ["3/8", "1/4"]),
        ("7/8", ["1/4", "1/4", "3/8"]),
        ("8/8", ["3/8", "3/8", "1/4"]),
        ("7/8 (3+2+2)", ["3/8", "1/4", "1/4"]),
        ("11/8 (3+3+3+2)", ["3/8", "3/8", "3/8", "1/4"]),
    ],
)
def test_a_bar_falls_into_beats(text: str, expected: list[str]) -> None:
    assert beats(text) == expected


@pytest.mark.parametrize("top", range(2, 8))
def test_every_meter_in_quarters_is_offered(top: int) -> None:
    assert Meter.parse(f"{top}/4").length == Fraction(top, 4)


def test_a_grouping_in_quarters_binds_quarters_and_leaves_the_beats() -> None:
    meter = Meter.parse("5/4 (3+2)")
    assert len(meter.beats) == 5
    assert [str(group) for group in meter.bound] == ["3/4", "1/2"]


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("4/4", "1/4"),
        ("2/2", "1/2"),
        ("6/8", "3/8"),
        ("15/8", "3/8"),
        ("3/8", "1/8"),
        ("7/8", "1/8"),
        ("5/8", "1/8"),
    ],
)
def test_a_tempo_counts_the_unit_of_the_meter(text: str, unit: str) -> None:
    assert str(Meter.parse(text).tempo_unit) == unit


def test_only_a_stated_grouping_is_written() -> None:
    assert str(Meter.parse("7/8")) == "7/8"
    assert str(Meter.parse(" 7 / 8 ( 3 + 2 + 2 )")) == "7/8 (3+2+2)"


@pytest.mark.parametrize(
    ("text", "part"),
    [
        ("four", "is no meter"),
        ("4/3", "halves, quarters or eighths"),
        ("8/4", "from 2/4 to 7/4"),
        ("16/8", "from 3/8 to 15/8"),
        ("0/4", "not offered"),
        ("11/8", "has to say how it falls into beats"),
        ("7/8 (3+2)", "add up to 5"),
        ("7/8 (6+1)", "2, 3 or 4 eighths"),
        ("4/4 (4+0)", "has nothing in it; write groups of 1 or more"),
    ],
)
def test_a_wrong_meter_says_what_would_be_right(text: str, part: str) -> None:
    with pytest.raises(MeterError, match=part):
        Meter.parse(text)


def test_the_example_in_the_message_is_itself_right() -> None:
    for top in (11, 13):
        with pytest.raises(MeterError) as caught:
            Meter.parse(f"{top}/8")
        example = str(caught.value).split("as in ")[1]
        assert Meter.parse(example).top == top


@pytest.mark.parametrize(("text", "eighths"), [("4/4", 8), ("2/2", 8), ("7/8", 7), ("15/8", 15)])
def test_every_bar_is_made_of_eighths(text: str, eighths: int) -> None:
    meter = Meter.parse(text)
    assert meter.eighths == eighths == meter.length * 8
