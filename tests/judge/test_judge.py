from dataclasses import replace

from typeset.judge import judge
from typeset.judge.ceiling import ceiling
from typeset.judge.collisions import collisions
from typeset.judge.level import level
from typeset.manuscript.figures import standard_figures
from typeset.pattern.bar import pickup_bar
from typeset.pattern.grid import Grid
from typeset.pattern.meter import Meter
from typeset.pattern.order import read_order


def test_a_judgement_is_level_ceiling_and_collisions_together(played) -> None:
    figures = standard_figures()
    pattern = played("R+K l R L! R K l R+L", voices={"R": "hi-hat"})
    found = judge(pattern, True, figures.player, figures.kit, figures.weights, linear=True)
    assert found.level == level(pattern, True, figures.kit, figures.weights)
    assert found.ceiling == ceiling(pattern, True, figures.player, figures.kit)
    assert found.collisions == collisions(pattern, figures.kit, linear=True)
    assert found.collisions


def picked_up(pattern, order, meter="4/4", grid="8ths"):
    return replace(pattern, pickup=pickup_bar(Meter.parse(meter), Grid.of(grid), read_order(order)))


def test_the_way_from_a_pickup_into_bar_1_counts_once(played, player, kit) -> None:
    pattern = played("R . . . . . . .", grid="8ths")
    figures = standard_figures()
    alone = judge(pattern, True, player, kit, figures.weights)
    opened = judge(picked_up(pattern, "R"), True, player, kit, figures.weights)
    # An eighth of 100 ms, the rebound's time; the loop itself has a whole bar.
    assert opened.ceiling.tempo == 300 < alone.ceiling.tempo
    assert opened.ceiling.cause is not None
    assert (str(opened.ceiling.cause.start), str(opened.ceiling.cause.end)) == ("4&", "1")
    assert opened.level == alone.level


def test_a_loop_s_end_does_not_lead_back_to_the_pickup(played, player, kit) -> None:
    pattern = played(". L R L R L R L", grid="8ths")
    figures = standard_figures()
    opened = judge(picked_up(pattern, "L L"), True, player, kit, figures.weights)
    assert opened.ceiling.cause is not None
    assert not opened.ceiling.cause.wraps


def test_what_collides_in_a_pickup_is_told(played, kit) -> None:
    figures = standard_figures()
    opened = picked_up(played("R L", grid="8ths"), "R+K")
    (collision,) = judge(opened, True, figures.player, kit, figures.weights, linear=True).collisions
    assert (collision.bar, str(collision.place)) == (0, "4&")
