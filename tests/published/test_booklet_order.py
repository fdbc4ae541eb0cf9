"""The order of pages in a saddle-stitched booklet, by the printer's rule and by folding one.

The rule (common practice, no source): on each side of each sheet the two page numbers add up to the number of
pages and one more, blank pages counted.
"""

from __future__ import annotations

import pytest

from typeset.pdf.booklet import Side, saddle_stitched

BLANK = 0


def read_through(sides: tuple[Side, ...]) -> list[int]:
    """The pages as they come when the sheets lie in each other, are folded, and are turned over one by one.

    Folded, a sheet is two leaves: the right half of its front with the left half of its back behind it comes
    before all inner sheets, the right half of its back with the left half of its front after them.
    """
    before: list[int] = []
    after: list[int] = []
    for front, back in zip(sides[::2], sides[1::2], strict=True):
        before += [front.right or BLANK, back.left or BLANK]
        after = [back.right or BLANK, front.left or BLANK, *after]
    return before + after


@pytest.mark.parametrize("pages", range(4, 65))
def test_on_each_side_the_two_numbers_add_up_to_all_pages_and_one(pages: int) -> None:
    total = -(-pages // 4) * 4
    for side in saddle_stitched(pages):
        if side.left and side.right:
            assert side.left + side.right == total + 1
        else:
            assert total + 1 - (side.left or side.right or total) > pages


@pytest.mark.parametrize("pages", range(1, 65))
def test_a_folded_booklet_is_read_from_the_first_page_to_the_last_and_then_is_blank(pages: int) -> None:
    read = read_through(saddle_stitched(pages))
    assert read == [*range(1, pages + 1), *[BLANK] * (-pages % 4)]


@pytest.mark.parametrize("pages", range(1, 65))
def test_odd_pages_are_right_hand_pages(pages: int) -> None:
    for side in saddle_stitched(pages):
        assert (side.right or 1) % 2 == 1
        assert (side.left or 2) % 2 == 0
