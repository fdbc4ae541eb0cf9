"""The order an exercise is known by."""

import pytest

from typeset.page.cycle import cycle_of, letters_of
from typeset.pattern.bar import Pattern
from typeset.style.model import Letters

from .made import bars_of


@pytest.mark.parametrize(
    ("order", "cycle"),
    [
        ("R L R K L", "R L R K L"),
        ("R L", "R L"),
        ("R", "R"),
        ("R . L .", "R L"),
        ("R+K L", "R+K L"),
        (".", ""),
    ],
)
def test_the_shortest_order_that_comes_round_again_is_found(order: str, cycle: str) -> None:
    found = cycle_of(Pattern(bars_of(order, bars=2)))
    assert " ".join(letters_of(found, Letters())) == cycle


def test_an_order_that_never_comes_round_is_itself() -> None:
    assert len(cycle_of(Pattern(bars_of("R L R L R L R L R L R L R L R K")))) == 16
