"""The signs that a book uses, each on a few notes."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from typeset.compose.book import Exercise
from typeset.compose.signs import signs_of
from typeset.engrave.places import places_of
from typeset.pattern.bar import Pattern, pickup_bar
from typeset.pattern.grid import Grid
from typeset.pattern.meter import Meter
from typeset.pattern.swell import Swell

from ..page.made import an_exercise, bars_of, slot

SPACE = 1.55
PLAIN = an_exercise("1.1")


def with_music(**more: object) -> Exercise:
    return replace(PLAIN, pattern=replace(PLAIN.pattern, **more))  # type: ignore[arg-type]


USED = {
    "pickup": with_music(pickup=pickup_bar(Meter.parse("4/4"), Grid.of("16ths"), [slot("R")])),
    "endings": with_music(endings=(1, 1)),
    "swell": with_music(swells=(Swell(Fraction(0), Fraction(1, 4)),)),
    "tuplet": replace(PLAIN, pattern=Pattern(bars_of("R L", grid=("triplets",)))),
    "same-bar": replace(PLAIN, systems=(replace(PLAIN.systems[0], same=(1,)),)),
}


def kinds(*exercises: Exercise) -> list[str]:
    return [sign.kind for sign in signs_of(exercises, SPACE)]


def test_a_book_of_plain_bars_has_no_signs_to_explain() -> None:
    assert kinds(PLAIN) == []


@pytest.mark.parametrize("kind", USED)
def test_a_sign_is_shown_where_one_exercise_uses_it(kind: str) -> None:
    assert kinds(PLAIN, USED[kind]) == [kind]


def test_eighths_in_sixths_of_a_bar_are_no_tuplets() -> None:
    assert kinds(replace(PLAIN, pattern=Pattern(bars_of("R L", "6/8", ("8ths",))))) == []


def test_each_is_shown_once() -> None:
    assert sorted(kinds(*USED.values(), *USED.values())) == sorted(USED)


@pytest.mark.parametrize("space", [1.2, SPACE, 2.3])
@pytest.mark.parametrize("kind", USED)
def test_every_note_of_it_stands_on_its_staff_after_the_clef(kind: str, space: float) -> None:
    (sign,) = signs_of([USED[kind]], space)
    xs = [x for _, x in places_of(sign.system, space).moments]
    assert xs == sorted(xs)
    assert xs[0] >= 5 * space
    assert xs[-1] <= sign.system.width - space
