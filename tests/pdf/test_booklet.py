"""Which pages stand side by side, and creep."""

import pytest

from typeset.pdf.booklet import Side, creep, saddle_stitched, sheets_of, side_by_side


def test_eight_pages_are_two_sheets_the_outermost_first() -> None:
    assert saddle_stitched(8) == (
        Side(0, 8, 1),
        Side(0, 2, 7, is_back=True),
        Side(1, 6, 3),
        Side(1, 4, 5, is_back=True),
    )


def test_a_booklet_that_does_not_fill_its_sheets_is_blank_at_its_end() -> None:
    assert saddle_stitched(5) == (
        Side(0, None, 1),
        Side(0, 2, None, is_back=True),
        Side(1, None, 3),
        Side(1, 4, 5, is_back=True),
    )


def test_two_up_goes_on_as_one_reads() -> None:
    assert side_by_side(5) == (Side(0, 1, 2), Side(0, 3, 4, is_back=True), Side(1, 5, None))


@pytest.mark.parametrize(("pages", "sheets"), [(1, 1), (4, 1), (5, 2), (64, 16)])
def test_four_pages_go_on_a_sheet(pages: int, sheets: int) -> None:
    assert sheets_of(pages) == sheets
    assert len(saddle_stitched(pages)) == 2 * sheets


def test_an_inner_sheet_sticks_out_by_the_thickness_of_those_round_it() -> None:
    """Sixteen sheets of 0.1 mm: the innermost is wrapped in fifteen."""
    assert creep(0, 0.1) == 0
    assert creep(15, 0.1) == pytest.approx(1.5)
