"""Sizes, boxes, greys and fonts of every shipped style, read back by pikepdf.

A4 and A5 are ISO 216; letter is ANSI/ASME Y14.1, 8.5 by 11 inches; six by nine are inches. The boxes and how they
lie in each other are ISO 32000-1, 14.11.2.
"""

from __future__ import annotations

from collections.abc import Iterator

import pikepdf
import pytest

from tests.published.printed import MM, box, built_in, fonts_of, instructions, opened
from typeset.style.load import style_names

SIZES = {"a4": (210.0, 297.0), "a5": (148.0, 210.0), "letter": (215.9, 279.4), "six-by-nine": (152.4, 228.6)}

COLOURS = {"g", "G", "rg", "RG", "k", "K", "cs", "CS", "sc", "SC", "scn", "SCN", "sh", "gs", "BI"}

PRINTED = """\
based-on: a4-workbook
press: {bleed: 3, crop-marks: yes, pages-multiple: 4}
"""


@pytest.fixture(scope="module", params=style_names())
def shipped(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[str, pikepdf.Pdf]:
    return request.param, opened(built_in(tmp_path_factory.mktemp("book"), request.param))


def test_every_page_is_the_paper_s_size_and_its_boxes_are_one(shipped: tuple[str, pikepdf.Pdf]) -> None:
    style, pdf = shipped
    width, height = next(size for name, size in SIZES.items() if style.startswith(name))
    for page in pdf.pages:
        assert box(page.trimbox) == pytest.approx([0, 0, width * MM, height * MM], abs=0.01)
        assert box(page.mediabox) == box(page.obj.BleedBox) == box(page.trimbox)


def test_there_are_greys_alone(shipped: tuple[str, pikepdf.Pdf]) -> None:
    used = {operator for operator, _ in instructions(shipped[1])}
    assert used & COLOURS == {"g", "G"}


def test_every_font_is_embedded(shipped: tuple[str, pikepdf.Pdf]) -> None:
    fonts = fonts_of(shipped[1])
    assert len(fonts) >= 6
    assert all(font.FontDescriptor.keys() & {"/FontFile2", "/FontFile3"} for font in fonts)


def test_there_is_one_copy_of_each_font_program(shipped: tuple[str, pikepdf.Pdf]) -> None:
    programs = [
        font.FontDescriptor[name].read_bytes()
        for font in fonts_of(shipped[1])
        for name in ("/FontFile2", "/FontFile3")
        if name in font.FontDescriptor
    ]
    assert len(programs) == len(set(programs))


@pytest.fixture(scope="module")
def cut(tmp_path_factory: pytest.TempPathFactory) -> pikepdf.Pdf:
    return opened(built_in(tmp_path_factory.mktemp("cut"), "own", own_style=PRINTED))


def test_a_bleed_reaches_over_the_trim_and_the_medium_holds_the_marks(cut: pikepdf.Pdf) -> None:
    for page in cut.pages:
        left, bottom, right, top = box(page.trimbox)
        assert (right - left, top - bottom) == pytest.approx((210 * MM, 297 * MM), abs=0.01)
        grown = [left - 3 * MM, bottom - 3 * MM, right + 3 * MM, top + 3 * MM]
        assert box(page.obj.BleedBox) == pytest.approx(grown, abs=0.01)
        medium = box(page.mediabox)
        assert medium[0] < grown[0] - 5 * MM and medium[3] > grown[3] + 5 * MM


Point = tuple[float, float]


def lines_of(page: pikepdf.Page) -> Iterator[tuple[Point, Point]]:
    """The straight lines on a page, which is moved here and there before something is drawn on it."""
    kept: list[pikepdf.Matrix] = []
    matrix, start = pikepdf.Matrix(), (0.0, 0.0)
    for one in pikepdf.parse_content_stream(page):
        match str(one.operator), [*one.operands]:
            case "q", _:
                kept.append(matrix)
            case "Q", _:
                matrix = kept.pop()
            case "cm", numbers:
                matrix = pikepdf.Matrix(*map(float, numbers)) @ matrix
            case "m", [x, y]:
                start = matrix.transform((float(x), float(y)))
            case "l", [x, y]:
                yield start, matrix.transform((float(x), float(y)))


def test_crop_marks_point_at_the_trim_s_corners_from_outside_of_the_bleed(cut: pikepdf.Pdf) -> None:
    for page in cut.pages:
        left, bottom, right, top = box(page.trimbox)
        out_left, out_bottom, out_right, out_top = box(page.obj.BleedBox)
        medium = box(page.mediabox)
        marks = set()
        for start, (x, y) in lines_of(page):
            (x0, x1), (y0, y1) = sorted((start[0], x)), sorted((start[1], y))
            if x1 <= out_left or x0 >= out_right or y1 <= out_bottom or y0 >= out_top:
                assert medium[0] <= x0 and x1 <= medium[2] and medium[1] <= y0 and y1 <= medium[3]
                upright = x0 == x1
                marks.add(("x", round(x0)) if upright else ("y", round(y0)))
        assert marks == {("x", round(left)), ("x", round(right)), ("y", round(bottom)), ("y", round(top))}


def test_pages_are_a_multiple_of_four_and_those_added_last_are_blank(cut: pikepdf.Pdf) -> None:
    assert len(cut.pages) % 4 == 0
    shown = {"Tj", "TJ", "Do"}
    words = [any(str(one.operator) in shown for one in pikepdf.parse_content_stream(page)) for page in cut.pages]
    assert not words[-1] and words[0]
    assert len(words) - 1 - words[::-1].index(True) >= len(words) - 4
