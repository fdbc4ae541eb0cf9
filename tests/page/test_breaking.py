"""Where pages break and how they are filled: heights in, heights out."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from typeset.page.breaking import Piece, break_pages, shares_of, spread
from typeset.page.refusals import DoesNotFit

DEPTH = 100.0


def piece(height: float, after: float = 0.0, stretch: float = 0.0, **more: object) -> Piece:
    return Piece(height, (), after, stretch, **more)  # type: ignore[arg-type]


def heights(pieces: list[Piece]) -> list[list[float]]:
    return [[one.height for one in page] for page in break_pages(pieces, DEPTH)]


def test_nothing_makes_no_page() -> None:
    assert break_pages([], DEPTH) == ()


def test_the_white_after_a_page_s_last_piece_does_not_count() -> None:
    assert heights([piece(50, after=30), piece(50, after=30)]) == [[50], [50]]
    assert heights([piece(50), piece(50, after=30)]) == [[50, 50]]


def test_pages_are_as_few_as_can_be() -> None:
    assert len(break_pages([piece(33, 1)] * 9, DEPTH)) == 5
    assert len(break_pages([piece(32, 1)] * 9, DEPTH)) == 3


def test_a_heading_is_not_left_alone_at_the_foot() -> None:
    assert heights([piece(60, 5), piece(10, 5, keeps=True), piece(30)]) == [[60], [10, 30]]


def test_a_last_page_is_not_left_next_to_empty() -> None:
    exercise = piece(18, 4, stretch=8)
    assert [len(page) for page in break_pages([exercise] * 5, DEPTH)] == [3, 2]


def test_one_thing_is_not_left_alone_on_a_last_page_where_another_can_join_it() -> None:
    assert [len(page) for page in break_pages([piece(30, 3, stretch=6)] * 4, DEPTH)] == [2, 2]


def test_pieces_that_are_tied_are_parted_last_of_all() -> None:
    pieces = [piece(40, keeps=True), piece(30, tied=True), piece(30, tied=True), piece(30)]
    assert heights(pieces) == [[40], [30, 30, 30]]


def test_a_piece_may_ask_for_a_new_page() -> None:
    assert heights([piece(10), piece(10, starts_page=True), piece(10)]) == [[10], [10, 10]]


def test_a_break_that_is_disliked_is_put_elsewhere() -> None:
    rows = [piece(20, reluctance=5.0)] * 3 + [piece(20)] + [piece(20, reluctance=5.0)] * 3
    assert [len(page) for page in break_pages(rows, DEPTH)] == [4, 3]


def test_what_is_taller_than_a_page_is_an_error_that_says_how_tall() -> None:
    with pytest.raises(DoesNotFit, match=r"53 mm tall.*a text block of 35 mm"):
        break_pages([piece(10), piece(150)], DEPTH)


def test_pieces_to_be_kept_together_are_parted_only_where_no_page_holds_them() -> None:
    assert heights([piece(60, keeps=True), piece(60)]) == [[60], [60]]
    assert heights([piece(30), piece(30), piece(30, keeps=True), piece(30)]) == [[30, 30], [30, 30]]


pieces_of_a_book = st.lists(
    st.builds(
        Piece,
        height=st.floats(1, 60),
        marks=st.just(()),
        after=st.floats(0, 10),
        stretch=st.floats(0, 10),
        starts_page=st.booleans(),
    ),
    min_size=1,
    max_size=40,
)


@given(pieces_of_a_book)
def test_no_piece_is_lost_and_no_page_is_overfull(pieces: list[Piece]) -> None:
    pages = break_pages(pieces, DEPTH)
    assert [one for page in pages for one in page] == pieces
    for page, share in zip(pages, shares_of(pages, DEPTH), strict=True):
        tops = spread(page, share, 3.5)
        assert tops[-1] + page[-1].height <= DEPTH + 0.01
        for above, below, top, next_top in zip(page, page[1:], tops, tops[1:], strict=False):
            assert next_top >= top + above.height + above.after - 0.01
            assert below.height > 0


def test_a_page_is_filled_to_its_foot_in_whole_steps() -> None:
    page = [piece(21, 7, stretch=28)] * 3
    tops = spread(page, shares_of([page, page], 100)[0], 3.5)
    assert tops[-1] + 21 == pytest.approx(98, abs=3.5)
    assert all((top - index * 28) % 3.5 == pytest.approx(0, abs=1e-6) for index, top in enumerate(tops))


def test_a_page_that_cannot_be_filled_takes_all_its_stretch_and_no_more() -> None:
    page = [piece(10, 5, stretch=4)] * 3
    assert spread(page, shares_of([page, page], 100)[0], 1) == (0, 19, 38)


def test_a_short_last_page_is_pulled_no_farther_apart_than_those_before_it() -> None:
    full, last = [piece(21, 7, stretch=20)] * 3, [piece(10, 7, stretch=20)] * 2
    first, second = shares_of([full, last], 100)
    assert 0 < first == second < 1
    assert shares_of([last], 100) == (0,)


def test_a_new_beginning_ends_the_run_of_pages_before_it() -> None:
    full, short = [piece(21, 7, stretch=20)] * 3, [piece(10, 7, stretch=20)] * 2
    begins = [piece(21, 7, stretch=20, starts_page=True), *full[1:]]
    assert shares_of([short, begins, full], 100)[0] == 0


def test_pages_take_what_they_can_and_the_last_is_short() -> None:
    pieces = [piece(20, 2, stretch=1)] * 10
    assert [len(page) for page in break_pages(pieces, DEPTH)] == [4, 4, 2]
