import random
from dataclasses import fields, replace

import pytest
from hypothesis import given
from hypothesis import strategies as some

from typeset.judge.features import Features
from typeset.judge.level import FEATURES, Share, Weights, graded, level
from typeset.manuscript.figures import standard_figures
from typeset.pattern.bar import Bar, Beat, Pattern
from typeset.pattern.meter import Meter
from typeset.pattern.mirror import mirrored
from typeset.pattern.stroke import Ornament

NOTHING = Features(**dict.fromkeys(FEATURES, 0))


def of(pattern: Pattern) -> int:
    figures = standard_figures()
    return level(pattern, True, figures.kit, figures.weights).value


measures = some.floats(0, 200, allow_nan=False)
some_features = some.builds(Features, **dict.fromkeys(FEATURES, measures))
some_shares = some.builds(
    lambda begins, more, weight: Share(begins, begins + more, weight),
    some.floats(0, 50),
    some.floats(0.1, 100),
    some.floats(0, 5),
)
some_weights = some.builds(
    Weights,
    some.fixed_dictionaries(dict.fromkeys(FEATURES, some_shares)),
    some.lists(some.floats(0, 40), min_size=9, max_size=9, unique=True).map(sorted).map(tuple),
)


@given(some_features, some_weights, some.sampled_from(FEATURES), some.floats(0, 100))
def test_making_one_feature_harder_never_lowers_the_level(before, weights, name, more) -> None:
    after = replace(before, **{name: getattr(before, name) + more})
    assert graded(after, weights).value >= graded(before, weights).value
    assert graded(after, weights).sum >= graded(before, weights).sum


@given(some_features, some.sampled_from(FEATURES), some.floats(0, 100))
def test_nor_does_it_with_the_weights_that_are_shipped(before, name, more) -> None:
    weights = standard_figures().weights
    after = replace(before, **{name: getattr(before, name) + more})
    assert graded(after, weights).value >= graded(before, weights).value


@pytest.mark.parametrize("name", FEATURES)
def test_every_feature_matters(name) -> None:
    weights = standard_figures().weights
    assert graded(replace(NOTHING, **{name: 1000}), weights).sum > graded(NOTHING, weights).sum


def test_levels_go_from_one_to_ten() -> None:
    weights = standard_figures().weights
    assert graded(NOTHING, weights).value == 1
    assert graded(Features(**dict.fromkeys(FEATURES, 1000)), weights).value == 10


def test_a_share_rises_evenly_from_where_it_begins_to_where_it_is_full() -> None:
    share = Share(begins=1, full=5, weight=2)
    assert [share.of(value) for value in (0, 1, 3, 5, 9)] == [0, 0, 1, 2, 2]


def test_a_share_that_falls_is_refused() -> None:
    with pytest.raises(ValueError, match="full above that"):
        Share(3, 3, 1)
    with pytest.raises(ValueError, match="count as easier"):
        Share(1, 2, -1)


def test_weights_without_a_feature_are_refused() -> None:
    shares = {name: Share(0, 1, 1) for name in FEATURES if name != "meter"}
    with pytest.raises(ValueError, match="look at meter"):
        Weights(shares, tuple(range(1, 10)))


def test_sums_that_do_not_rise_are_refused() -> None:
    shares = {name: Share(0, 1, 1) for name in FEATURES}
    with pytest.raises(ValueError, match="nine sums"):
        Weights(shares, (1, 2, 3, 3, 4, 5, 6, 7, 8))


def test_the_simplest_exercises_are_of_level_one(played) -> None:
    assert of(played("R L R L", grid="quarters")) == 1
    assert of(played("R R R R", grid="quarters")) == 1
    assert of(played("R L", grid="8ths")) == 1


def test_a_first_groove_is_easier_than_a_syncopated_one_with_ghosts(played) -> None:
    first = of(played("R+K . R . R+L . R .", voices={"R": "hi-hat"}))
    later = of(played("R! l R K L! R l R! K l R L! R K l R", voices={"R": "hi-hat"}))
    assert first in (2, 3)
    assert later in (4, 5, 6)


def test_mixed_grids_and_ornaments_in_an_uneven_meter_are_near_the_top(played) -> None:
    # Sixteenths, and the last beat of three eighths cut into nine, as a splice makes it.
    order = "R! l K R  l R! L K  L r L! R K R l R! L"
    slots = played(order, meter="9/8", ornaments={1: "flam", 9: "diddle"}, voices={"R": "hi-hat"}, bars=1).slots
    meter = Meter.parse("7/8")
    beats = (slots[:4], slots[4:8], slots[8:17])
    bar = Bar(meter, tuple(Beat(length, cut) for length, cut in zip(meter.beats, beats, strict=True)))
    assert of(Pattern((bar,))) in (8, 9)


def test_an_ornament_never_makes_a_pattern_easier(random_pattern) -> None:
    dice = random.Random(11)
    for _ in range(300):
        pattern = random_pattern(dice)
        slots = list(pattern.slots)
        plain = [place for place, slot in enumerate(slots) if slot and slot[0].ornament is None]
        if plain:
            place = dice.choice(plain)
            slots[place] = (replace(slots[place][0], ornament=Ornament.FLAM), *slots[place][1:])
            assert of(pattern.with_slots(slots)) >= of(pattern)


def test_a_mirrored_pattern_has_the_same_level(random_pattern) -> None:
    figures = standard_figures()
    dice = random.Random(3)
    for _ in range(300):
        pattern = random_pattern(dice)
        right = level(pattern, True, figures.kit, figures.weights)
        left = level(mirrored(pattern), True, figures.kit.mirrored(), figures.weights)
        assert left == right


def test_every_feature_has_a_share() -> None:
    assert {one.name for one in fields(Features)} == set(standard_figures().weights.shares)
