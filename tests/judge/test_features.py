import random
from dataclasses import replace
from fractions import Fraction

import pytest

from typeset.judge.features import features
from typeset.manuscript.figures import standard_figures
from typeset.pattern.bar import Pattern
from typeset.pattern.mirror import mirrored
from typeset.pattern.swell import Swell


@pytest.fixture
def measured(played, kit):
    """One feature of an order: `measured("density", "R L", grid="8ths")`."""

    def measure(name: str, order: str, loops: bool = True, **music: object) -> float:
        return getattr(features(played(order, **music), loops, kit), name)

    return measure


def test_density_counts_strokes_a_quarter(measured) -> None:
    assert measured("density", "R L", grid="8ths") == 2
    assert measured("density", "R+K L", grid="8ths") == 3
    assert measured("density", "R . . .") == 1


def test_limbs_counts_those_that_play(measured) -> None:
    assert measured("limbs", "R R") == 1
    assert measured("limbs", "R L R+K .") == 3


def test_changes_counts_different_ones_only(measured) -> None:
    assert measured("changes", "R L") == 2
    assert measured("changes", "R R R R") == 0
    assert measured("changes", "R L R K L . . .") == 4


def test_the_way_round_a_loop_is_a_change_too(measured) -> None:
    assert measured("changes", "R . L . . K . .", meter="2/4", loops=False) == 2
    assert measured("changes", "R . L . . K . .", meter="2/4") == 3


def test_the_longest_run_is_of_one_limb_alone(measured) -> None:
    assert measured("longest_run", "R L R R L R L L", grid="8ths") == 2
    assert measured("longest_run", "R+K R R+L R", grid="8ths") == 1


def test_a_limb_that_plays_alone_throughout_runs_for_as_many_strokes_as_there_are(measured) -> None:
    assert measured("longest_run", "R", grid="quarters") == 4


def test_a_run_goes_round_the_end_of_a_loop(measured) -> None:
    assert measured("longest_run", "R R L L L L L R") == 5
    assert measured("longest_run", "R R L L L K K R", meter="2/4") == 3
    assert measured("longest_run", "R R L L K K . R", meter="2/4", loops=False) == 2


def test_strokes_on_every_part_of_the_beat_lean_against_nothing(measured) -> None:
    assert measured("off_beat", "R L") == 0


def test_a_voice_that_leaves_out_the_next_beat_leans_once(measured) -> None:
    # The snare on 1e and 1a alone, nothing on 2.
    assert measured("off_beat", ". L . L . . . .", meter="2/4") == 0.5


def test_a_hi_hat_on_the_beat_does_not_answer_a_kick_before_it(measured) -> None:
    assert measured("off_beat", "R+K . R . R . R+K . R . R . R . R .", voices={"R": "hi-hat"}) == 0.25


def test_an_accent_off_the_beat_leans_though_the_next_beat_is_played(measured) -> None:
    assert measured("off_beat", "R L! R L R L R L", meter="2/4") == 0.5


def test_moving_from_tom_to_tom_leans_against_nothing(measured) -> None:
    assert measured("off_beat", "R L R L R L R L", meter="2/4", sounds={4: "high-tom"}) == 0


def test_the_end_of_a_loop_is_answered_by_its_start(measured) -> None:
    assert measured("off_beat", "R . . .   . . . R", meter="2/4") == 0
    assert measured("off_beat", "R . . .   . . . R", meter="2/4", loops=False) == 0.5


def test_limbs_that_never_meet_are_not_independent_of_each_other(measured) -> None:
    assert measured("independence", "R L R K") == 0


def test_limbs_that_only_play_together_are_not_either(measured) -> None:
    assert measured("independence", "R+K . R+K .") == 0


def test_a_layer_that_goes_its_own_way_counts_one_and_two_count_two(measured) -> None:
    assert measured("independence", "R+K R R R") == 1
    assert measured("independence", "R+K R R K") == 2


def test_distance_is_cm_a_quarter_of_both_hands(measured) -> None:
    # The left hand goes 40 cm to the floor tom and 40 cm back in two quarters.
    assert measured("distance", "R L", grid="quarters", meter="2/4", voices={"R": "hi-hat"}) == 0
    assert measured("distance", "L", grid="quarters", meter="2/4", sounds={2: "floor-tom"}) == 40
    assert measured("distance", "L", grid="quarters", meter="2/4", sounds={2: "floor-tom"}, loops=False) == 20


@pytest.mark.parametrize(
    ("meter", "value"),
    [
        ("4/4", 0),
        ("2/4", 0),
        ("2/2", 0),
        ("3/4", 1),
        ("6/8", 1),
        ("12/8", 1),
        ("9/8", 2),
        ("5/4", 3),
        ("7/8", 3),
        ("15/8", 3),
    ],
)
def test_uneven_meters_count_most(measured, meter, value) -> None:
    assert measured("meter", "R L", meter=meter, grid="8ths") == value


def test_a_further_meter_counts_one_more(played, kit) -> None:
    two = Pattern(played("R L").bars + played("R L", meter="3/4").bars)
    assert features(two, True, kit).meter == 2


@pytest.mark.parametrize(
    ("grid", "value"),
    [("16ths", 0), ("32nds", 0), ("triplets", 1), ("sextuplets", 1), ("quintuplets", 2), ("septuplets", 2)],
)
def test_fives_and_sevens_count_more_than_threes(measured, grid, value) -> None:
    assert measured("grid", "R L", grid=grid) == value


def test_a_grid_counts_as_fine_as_it_is_used(measured) -> None:
    assert measured("grid", "R . . . . .", grid="sextuplets") == 0
    assert measured("grid", "R . . L . .", grid="sextuplets") == 0
    assert measured("grid", "R . L . R .", grid="sextuplets") == 1


def test_grids_that_fit_into_each_other_are_not_mixed(measured) -> None:
    assert measured("mixing", "R L", grid="8ths 16ths") == 0
    assert measured("mixing", "R L", grid="8ths triplets") == 1
    assert measured("mixing", "R L", grid="16ths sextuplets quintuplets") == 2


def test_dynamics_counts_changes_within_a_limb(measured) -> None:
    assert measured("dynamics", "R! l") == 0
    assert measured("dynamics", "R! L R L") == 2
    assert measured("dynamics", "R! r") == 4


def test_each_quarter_of_a_swell_is_a_change_of_dynamic(played, kit) -> None:
    plain = played("R L", bars=2)
    half = replace(plain, swells=(Swell(Fraction(0), Fraction(1)),))
    assert features(plain, True, kit).dynamics == 0
    assert features(half, True, kit).dynamics == 0.5
    accented = played("R! L R L", bars=2)
    both = replace(accented, swells=(Swell(Fraction(1, 2), Fraction(3, 2), louder=False),))
    assert features(both, True, kit).dynamics == features(accented, True, kit).dynamics + 0.5


def test_ornaments_are_counted_a_quarter(measured) -> None:
    assert measured("ornaments", "R L R L", grid="quarters", ornaments={1: "flam", 3: "drag"}) == 0.5


def test_no_feature_knows_which_hand_leads(random_pattern) -> None:
    kit = standard_figures().kit
    dice = random.Random(7)
    for _ in range(300):
        pattern, loops = random_pattern(dice), dice.random() < 0.7
        assert features(mirrored(pattern), loops, kit) == features(pattern, loops, kit)
