from typeset.pattern.counts import Place
from typeset.pattern.grid import SIXTEENTHS
from typeset.pattern.limb import Limb
from typeset.pattern.lineage import check_phases, grow, play_steps
from typeset.pattern.meter import COMMON_TIME
from typeset.pattern.order import read_order, write_order
from typeset.pattern.selection import Selection
from typeset.pattern.sound import SOUNDS
from typeset.pattern.steps import Step
from typeset.pattern.steps.dynamics import Accent, Ghost
from typeset.pattern.steps.order import Reverse, Rotate
from typeset.pattern.steps.timing import Displace, Fit
from typeset.pattern.steps.voicing import Voice

STAIRS = read_order("R L R K L")
ON_ONE = Accent(Selection(at=(Place.parse("1"),)))


def play(*steps: Step) -> str:
    played = play_steps(STAIRS, COMMON_TIME, SIXTEENTHS, steps, None)
    assert played.draft and not played.stumbles
    return write_order(played.draft.pattern.slots)


def test_steps_are_played_in_turn() -> None:
    assert play(Rotate(1), Fit(1), ON_ONE) == "L! R K L R L R K L R L R K L R L"


def test_a_child_s_step_on_the_order_joins_its_parent_s_order_phase() -> None:
    parent = (Rotate(1), Fit(1), ON_ONE)
    child = (Voice(((Limb.RIGHT, SOUNDS["ride"]),)), Reverse())
    assert grow(parent, child) == (-3, 1, -2, -1, 0)


def test_the_parent_s_later_steps_are_played_again_over_the_new_order() -> None:
    parent = (Fit(1), ON_ONE)
    child = (Rotate(2),)
    ordered = [child[number] if number >= 0 else parent[number] for number in grow(parent, child)]
    assert play(*ordered) == "R! K L R L R K L R L R K L R L R"


def test_a_step_on_the_order_after_one_in_time_is_found() -> None:
    assert check_phases((Fit(1), Rotate(1))) == 1
    assert check_phases((Rotate(1), Fit(1), Displace(1))) is None


def test_a_step_that_stumbles_is_passed_over_so_that_all_mistakes_are_found() -> None:
    wrong = Accent(Selection(at=(Place.parse("7"),)))
    played = play_steps(STAIRS, COMMON_TIME, SIXTEENTHS, (wrong, ON_ONE, wrong), None)
    assert [stumble.number for stumble in played.stumbles] == [0, 2]


def test_a_choice_of_nothing_after_a_stumble_is_not_held_against_the_author() -> None:
    wrong = Accent(Selection(at=(Place.parse("7"),)))
    nothing = Ghost(Selection(limb=(Limb.HAT,)))
    played = play_steps(STAIRS, COMMON_TIME, SIXTEENTHS, (wrong, nothing), None)
    assert [stumble.number for stumble in played.stumbles] == [0]


def test_a_long_order_that_is_fitted_first_need_not_fit_unfitted() -> None:
    played = play_steps(STAIRS * 200, COMMON_TIME, SIXTEENTHS, (Fit(2),), None)
    assert played.draft and len(played.draft.pattern.bars) == 2


def test_a_first_step_that_does_not_fit_stumbles_and_the_others_are_played_in_one_bar() -> None:
    played = play_steps(
        read_order("R L R"), COMMON_TIME, SIXTEENTHS, [Fit(bars=1, by="exactly"), Displace(1)], None
    )
    assert [stumble.number for stumble in played.stumbles] == [0]
    assert played.draft is not None
    assert write_order(played.draft.pattern.slots[:4]) == "R R L R"
