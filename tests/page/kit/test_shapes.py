"""Shapes that the kit is drawn of."""

from itertools import pairwise
from math import dist

import pytest

from typeset.page.kit.shapes import Pen, around, board, box, circle, line, polygon

PEN = Pen(0.5)


def test_a_circle_goes_through_its_four_quarters_and_ends_where_it_began() -> None:
    points = circle(10, 20, 5, PEN).points
    assert points[::3] == ((15, 20), (10, 25), (5, 20), (10, 15), (15, 20))


def test_between_its_quarters_a_circle_keeps_its_distance() -> None:
    """A Bézier quarter's middle is an eighth of its ends and three eighths of its handles."""
    start, one, two, end = circle(0, 0, 100, PEN).points[:4]
    middle = tuple((a + 3 * b + 3 * c + d) / 8 for a, b, c, d in zip(start, one, two, end, strict=True))
    assert dist(middle, (0, 0)) == pytest.approx(100, abs=0.03)


@pytest.mark.parametrize("rounding", [0.0, 1.5])
def test_a_shape_with_straight_sides_is_whole_curves_and_closed(rounding: float) -> None:
    points = polygon([(0, 0), (10, 0), (10, 6)], PEN, rounding).points
    assert len(points) % 3 == 1
    assert points[0] == pytest.approx(points[-1])


def test_round_corners_stay_inside_of_sharp_ones() -> None:
    points = box(0, 0, 10, 6, PEN, 2).points
    assert all(abs(x) <= 5 and abs(y) <= 3 for x, y in points)
    assert (5, 3) not in points


def test_a_board_is_as_wide_as_asked_at_either_end() -> None:
    points = board((0, 0), (0, 10), 4, 2, PEN).points
    near, far = ({round(x, 3) for x, y in points if y == end} for end in (0, 10))
    assert (min(near), max(near), min(far), max(far)) == (-2, 2, -1, 1)


def test_a_line_goes_through_its_corners_and_is_not_filled() -> None:
    made = line([(0, 0), (3, 0), (3, 3)], 0.5)
    assert (made.points[::3], made.fill) == (((0, 0), (3, 0), (3, 3)), None)


def test_places_round_a_circle_are_evenly_apart() -> None:
    places = [at for _, at in around(0, 0, 1, 6)]
    assert [dist(one, other) for one, other in pairwise(places)] == pytest.approx([1.0] * 5)
