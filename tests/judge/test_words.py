import pytest

from typeset.judge.ceiling import ceiling
from typeset.judge.collisions import collisions
from typeset.judge.words import cause_in_words, collision_in_words


@pytest.fixture
def cause(played, player, kit):
    """What limits an order, in words."""

    def words(order: str, loops: bool = True, **music: object) -> str:
        return cause_in_words(ceiling(played(order, **music), loops, player, kit).cause)

    return words


def test_a_move_names_limb_surfaces_and_places(cause) -> None:
    assert (
        cause("R L R L R L R L R L L L", bars=1, sounds={11: "floor-tom"})
        == "left hand, snare to floor tom, 3e to 3&"
    )


def test_a_surface_that_stays_is_named_once(cause) -> None:
    assert cause("R", grid="8ths", voices={"R": "hi-hat"}) == "right hand, hi-hat, 1 to 1&"


def test_a_foot_on_its_own_pedal_needs_no_name_for_it(cause) -> None:
    assert cause("K K . .") == "kick foot, 1 to 1e"
    assert cause("H H . .") == "hi-hat foot, 1 to 1e"


def test_bars_are_written_as_an_author_writes_them(cause) -> None:
    assert cause("R . . . . . . . . . . . . . . . R R . .", bars=2) == "right hand, snare, 2|1 to 2|1e"


def test_a_loops_end_goes_round(cause) -> None:
    assert cause("R . . . . . . . . . . . . . . R") == "right hand, snare, 4a round to 1"


def test_a_diddle_is_named(cause) -> None:
    assert cause("R L", grid="8ths", ornaments={2: "diddle"}) == "left hand, snare, the diddle on 1&"


def test_grace_strokes_are_named_by_their_ornament(cause) -> None:
    assert cause("R L", grid="8ths", ornaments={3: "flam"}) == "left hand, snare, 1& to the flam on 2"
    assert cause("R L . L", grid="8ths", ornaments={1: "flam"}) == "left hand, snare, the flam on 1 to 1&"


def test_where_nothing_limits_it_says_so(cause) -> None:
    assert cause("R .", loops=False, grid="quarters") == "nothing at the tempos offered"


def test_collisions_tell_place_strokes_and_what_is_wrong(played, kit) -> None:
    voices = {"R": "hi-hat", "L": "floor-tom"}
    crossed, *_ = collisions(played("R+L", grid="quarters", voices=voices), kit)
    assert (
        collision_in_words(crossed) == "1: right hand on hi-hat, left hand on floor tom: the hands cross by 80 cm"
    )
    together, *_ = collisions(played("R . L+K .", grid="8ths"), kit, linear=True)
    assert (
        collision_in_words(together)
        == "2: left hand on snare, kick foot on kick: strokes together in a linear exercise"
    )
    shut, *_ = collisions(played("R+H", grid="quarters", voices={"R": "open-hi-hat"}), kit)
    assert (
        collision_in_words(shut)
        == "1: right hand on open hi-hat, hi-hat foot on its pedal: the foot shuts what is to sound open"
    )
