"""Names round a picture and their leaders."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from typeset.page.kit.labels import Frame, Label, Placed, placed_again, placed_labels

FRAME = Frame(200, 100, 4)

labels = st.lists(
    st.builds(
        Label,
        height=st.sampled_from([8.0, 18.0]),
        middle=st.just(4.0),
        ends=st.tuples(st.tuples(st.integers(0, 200), st.integers(0, 100))),
    ),
    max_size=8,
)


def one_at(x: float, y: float) -> Label:
    return Label(8, 4, ((x, y),))


def in_column(placed: tuple[Placed, ...], *, at_left: bool) -> list[Placed]:
    return sorted((one for one in placed if one.at_left is at_left), key=lambda one: one.top)


@given(labels)
def test_no_name_stands_over_another(given_labels: list[Label]) -> None:
    placed = placed_labels(given_labels, FRAME)
    for at_left in (True, False):
        for above, below in pairwise(in_column(placed, at_left=at_left)):
            assert below.top >= above.top + above.label.height + FRAME.gap - 1e-6


@given(labels)
def test_every_leader_ends_where_its_label_says(given_labels: list[Label]) -> None:
    placed = placed_labels(given_labels, FRAME)
    assert [one.label for one in placed] == given_labels
    assert all(one.end in one.label.ends and one.start[0] in (0, 200) for one in placed)


def test_a_name_stands_on_the_side_and_at_the_height_of_what_it_names() -> None:
    left, right = placed_labels([one_at(30, 20), one_at(170, 70)], FRAME)
    assert (left.at_left, left.start, right.at_left, right.start) == (True, (0, 20), False, (200, 70))


def test_leaders_that_would_cross_are_exchanged() -> None:
    high, low = one_at(90, 50), one_at(20, 52)
    over, under = placed_labels([high, low], FRAME)
    assert over.at_left and under.at_left
    assert over.top < under.top, "the farther one goes over the nearer one"


def test_a_leader_goes_where_it_runs_over_nothing_else() -> None:
    free, hidden = (60.0, 50.0), (60.0, 20.0)
    in_the_way = ((30.0, 20.0), 12.0)
    (placed,) = placed_labels([Label(8, 4, (hidden, free), (in_the_way,))], FRAME)
    assert placed.end == free


@given(labels)
def test_in_another_size_every_name_keeps_its_side_and_its_order(given_labels: list[Label]) -> None:
    before = placed_labels(given_labels, FRAME)
    after = placed_again(given_labels, Frame(300, 150, 4), before)
    for at_left in (True, False):
        first, then = in_column(before, at_left=at_left), in_column(after, at_left=at_left)
        assert [one.label for one in first] == [one.label for one in then]
