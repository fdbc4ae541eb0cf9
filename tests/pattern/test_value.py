"""Values that work things out travel as what they were made of."""

from __future__ import annotations

import pickle

import pytest

from typeset.pattern.bar import Bar, Pattern, empty_bar
from typeset.pattern.grid import Grid
from typeset.pattern.meter import Meter
from typeset.pattern.value import Value

BAR = empty_bar(Meter.parse("7/8 (3+2+2)"), Grid.of("16ths"))


@pytest.mark.parametrize("value", [Meter(7, 8, (3, 2, 2)), Bar(BAR.meter, BAR.beats), Pattern((BAR, BAR), BAR)])
def test_a_value_is_the_same_bytes_whatever_it_was_asked(value: Value) -> None:
    before = pickle.dumps(value)
    for name in ("length", "beats", "bound", "onsets", "barlines", "course"):
        getattr(value, name, None)
    hash(value)
    assert pickle.dumps(value) == before


@pytest.mark.parametrize("value", [BAR.meter, BAR, Pattern((BAR,), endings=(1,))])
def test_a_value_arrives_as_it_was_sent(value: Value) -> None:
    assert pickle.loads(pickle.dumps(value)) == value
