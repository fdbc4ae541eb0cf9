"""Two pages on a sheet, read back by pdfplumber and pikepdf: where each stands, how large, which way up."""

from __future__ import annotations

import io
from dataclasses import replace
from functools import cache

import pdfplumber
import pikepdf
import pytest

from tests.page.made import a_book, a_chapter, a_style, an_exercise, blocks_of, say
from typeset.page import lay_out
from typeset.page.pages import Pages
from typeset.page.setting import points
from typeset.pdf import Flip, Kind, Output, bind
from typeset.pdf.imposition import Sheet
from typeset.style import Style

BOOK = a_book(a_chapter(1, [an_exercise("1.1"), an_exercise("1.2", new_page=True)]), back=("practice-log",))
A4 = (points(210), points(297))


@cache
def the_pages() -> Pages:
    return lay_out(BOOK, a_style(), blocks_of(BOOK))


def imposed(output: Output, style: Style | None = None) -> bytes:
    return bind(the_pages(), blocks_of(BOOK), style or a_style(), say, output)


BOOKLET = Output(Kind.BOOKLET)


def words_on(pdf: bytes, side: int) -> list[dict[str, float]]:
    with pdfplumber.open(io.BytesIO(pdf)) as read:
        return [
            {"x": char["matrix"][4], "y": char["matrix"][5], "size": abs(char["matrix"][0])}
            for char in read.pages[side].chars
        ]


def half_placed(pdf: bytes, side: int) -> list[tuple[float, float, float]]:
    """The scale and the place of each page on a side, from its operators."""
    with pikepdf.open(io.BytesIO(pdf)) as read:
        found = [
            one.operands for one in pikepdf.parse_content_stream(read.pages[side]) if str(one.operator) == "cm"
        ]
    return [(float(one[0]), float(one[4]), float(one[5])) for one in found]


def test_sheets_are_landscape_and_as_many_as_the_pages_need() -> None:
    with pikepdf.open(io.BytesIO(imposed(BOOKLET))) as pdf:
        assert len(pdf.pages) == -(-len(the_pages().labels) // 4) * 2
        for page in pdf.pages:
            assert [float(side) for side in page.mediabox] == pytest.approx([0, 0, A4[1], A4[0]], abs=0.01)


def test_two_a4_pages_fill_an_a4_sheet() -> None:
    """ISO 216: halved, an A size is the next one, in the same proportion, 1 to the root of 2 smaller."""
    right = half_placed(imposed(BOOKLET), 0)[-1]
    assert right[0] == pytest.approx(0.5**0.5, abs=0.001)
    assert right[1] == pytest.approx(A4[1] / 2, abs=0.01)
    assert right[2] == pytest.approx(0, abs=0.5)


def test_on_paper_of_twice_the_size_nothing_is_scaled() -> None:
    right = half_placed(imposed(replace(BOOKLET, sheet="a3")), 0)[-1]
    assert right[0] == 1


def test_every_word_stands_where_it_stood_scaled() -> None:
    """The first page, on the right half of the outermost sheet's front."""
    plain = words_on(bind(the_pages(), blocks_of(BOOK), a_style(), say), 0)
    small = [one for one in words_on(imposed(BOOKLET), 0) if one["x"] > A4[1] / 2]
    scale = half_placed(imposed(BOOKLET), 0)[-1][0]
    assert len(plain) == len(small) > 20
    for before, after in zip(plain, small, strict=True):
        assert after["x"] == pytest.approx(A4[1] / 2 + before["x"] * scale, abs=0.02)
        assert after["y"] == pytest.approx(before["y"] * scale, abs=0.5)


def test_pages_of_inner_sheets_move_to_the_fold_by_the_paper_s_thickness() -> None:
    thick = imposed(BOOKLET, a_style(booklet={"thickness": 0.5}))
    flat = imposed(BOOKLET, a_style(booklet={"thickness": 0}))
    assert half_placed(thick, 0) == half_placed(flat, 0)
    for back in (2, 3):
        places = zip(half_placed(thick, back), half_placed(flat, back), strict=True)
        moved = [(round(one[1] - other[1], 3), other[1]) for one, other in places]
        assert moved
        for by, x in moved:
            assert by == pytest.approx(-points(0.5) if x >= A4[1] / 2 - 0.01 else points(0.5), abs=0.01)


def test_turned_over_the_long_edge_the_backs_are_upside_down() -> None:
    short, long = imposed(BOOKLET), imposed(replace(BOOKLET, flip=Flip.LONG))
    assert half_placed(short, 0) == half_placed(long, 0)
    assert half_placed(long, 1)[0] == pytest.approx((-1, A4[1], A4[0]), abs=0.01)
    upright, turned = words_on(short, 1), words_on(long, 1)
    for one, other in zip(upright, turned, strict=True):
        assert (one["x"] + other["x"], one["y"] + other["y"]) == pytest.approx((A4[1], A4[0]), abs=0.02)


def test_two_up_has_the_pages_in_their_order() -> None:
    with pdfplumber.open(io.BytesIO(imposed(Output(Kind.TWO_UP)))) as pdf:
        page = pdf.pages[1]
        left = page.crop((0, 0, page.width / 2, page.height)).extract_text()
        right = page.crop((page.width / 2, 0, page.width, page.height)).extract_text()
    assert left.endswith("3") and right.endswith("4")


def test_the_title_stays_and_nothing_leads_anywhere() -> None:
    with pikepdf.open(io.BytesIO(imposed(BOOKLET))) as pdf:
        assert str(pdf.docinfo.Title) == "Quiet Doors"
        assert "/Outlines" not in pdf.Root
        assert all("/Annots" not in page for page in pdf.pages)
        assert (getattr(pdf, "check_pdf_syntax", None) or pdf.check)() == []


def test_the_same_sheets_have_the_same_bytes() -> None:
    assert imposed(BOOKLET) == imposed(BOOKLET)


def test_a_page_smaller_than_half_the_sheet_lies_against_the_fold() -> None:
    sheet = Sheet(400, 300, 100, 150)
    assert sheet.scale == 1
    assert sheet.left(on_right=False, folded=True, shift=0) == 100
    assert sheet.left(on_right=True, folded=True, shift=0) == 200
    assert sheet.bottom == 75


def test_a_page_that_is_not_folded_stands_in_the_middle_of_its_half() -> None:
    sheet = Sheet(400, 300, 100, 150)
    assert sheet.left(on_right=False, folded=False, shift=0) == 50
    assert sheet.left(on_right=True, folded=False, shift=0) == 250
