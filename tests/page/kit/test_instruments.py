"""Which instruments are drawn, and where."""

import pytest

from typeset.judge.kit import Kit
from typeset.manuscript.figures import KITS, standard_figures
from typeset.page.kit.instruments import SEAT, instruments_of
from typeset.page.kit.parts import Instrument
from typeset.pattern.sound import SOUNDS

FIVE = standard_figures().kits["five-piece"]
THREE = standard_figures().kits["three-piece"]


def named(instruments: tuple[Instrument, ...]) -> list[tuple[str, ...]]:
    return [sounds for one in instruments for sounds, _ in one.places]


@pytest.mark.parametrize("kit", KITS)
def test_every_sound_is_named_at_one_place_of_every_kit(kit: str) -> None:
    found = [sound for sounds in named(instruments_of(standard_figures().kits[kit], SOUNDS)) for sound in sounds]
    assert sorted(found) == sorted(SOUNDS)


def test_only_what_a_book_uses_is_drawn() -> None:
    drawn = instruments_of(FIVE, ["snare", "kick"])
    assert sorted(named(drawn)) == [("kick",), ("snare",)]
    assert len(drawn) == 2


def test_what_a_kit_lacks_is_named_where_it_is_played() -> None:
    assert ("ride", "crash", "china") in named(instruments_of(THREE, ["crash", "ride", "china"]))


def test_one_drum_has_its_head_its_rim_and_both() -> None:
    assert named(instruments_of(FIVE, ["rim-shot", "snare"])) == [("snare", "rim-shot")]


def test_a_pedal_is_not_drawn_without_its_hi_hat() -> None:
    assert sum(len(one.covers) for one in instruments_of(FIVE, ["hi-hat-foot"])) == 1


def test_what_stands_lower_is_drawn_first() -> None:
    heights = [one.height for one in instruments_of(FIVE, SOUNDS)]
    assert heights == sorted(heights)


def test_a_kit_turned_over_changes_sides_and_nothing_else() -> None:
    def discs(kit: Kit) -> list[tuple[float, float, float]]:
        return [(one.x, one.y, one.radius) for made in instruments_of(kit, SOUNDS) for one in made.covers]

    assert discs(FIVE.mirrored()) == [(-x, y, radius) for x, y, radius in discs(FIVE)]

    def ends(kit: Kit) -> list[tuple[float, float]]:
        across = [[x for curve in one.shape for x, _ in curve.points] for one in instruments_of(kit, SOUNDS)]
        return [(min(xs), max(xs)) for xs in across]

    assert ends(FIVE.mirrored()) == [pytest.approx((-right, -left)) for left, right in ends(FIVE)]


@pytest.mark.parametrize("kit", KITS)
def test_nothing_stands_on_the_seat(kit: str) -> None:
    discs = [disc for one in instruments_of(standard_figures().kits[kit], SOUNDS) for disc in one.covers]
    assert not any(disc.holds((SEAT.x, SEAT.y), SEAT.radius) for disc in discs)


@pytest.mark.parametrize("kit", KITS)
def test_leaders_end_on_their_instruments(kit: str) -> None:
    for made in instruments_of(standard_figures().kits[kit], SOUNDS):
        for disc in made.covers:
            assert all(disc.holds(end) for _, ends in made.places for end in ends)
