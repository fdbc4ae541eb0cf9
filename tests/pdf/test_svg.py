from __future__ import annotations

import io
import re
from pathlib import Path
from xml.etree import ElementTree

import pdfplumber
import pytest

from typeset import pipeline
from typeset.pdf.svg import first_page_as_svg, times

CHAPTER = """\
chapter: First steps
exercises:
  - id: groove
    title: A groove & more
    start: R l R K
    tempo: 60-90
    steps: [{voice: {R: hi-hat}}, {accent: 1}]
"""

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def pdf(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    file: Path = tmp_path_factory.mktemp("svg") / "chapter.yaml"
    file.write_text(CHAPTER)
    return pipeline.show(file, "groove", "pdf")


@pytest.fixture(scope="module")
def picture(pdf: bytes) -> ElementTree.Element:
    return ElementTree.fromstring(first_page_as_svg(pdf))


def places(picture: ElementTree.Element) -> list[tuple[float, float]]:
    """Where the glyphs stand, from the page's upper left corner."""
    matrices = [re.findall(r"-?[\d.e-]+", use.attrib["transform"]) for use in picture.iter(f"{SVG}use")]
    return sorted((round(float(matrix[4]), 1), round(float(matrix[5]), 1)) for matrix in matrices)


def test_the_picture_is_as_large_as_the_page(pdf: bytes, picture: ElementTree.Element) -> None:
    with pdfplumber.open(io.BytesIO(pdf)) as read:
        page = read.pages[0]
        _, _, width, height = map(float, picture.attrib["viewBox"].split())
        assert (width, height) == (pytest.approx(page.width, abs=0.01), pytest.approx(page.height, abs=0.01))


def test_every_glyph_stands_where_the_pdf_has_it(pdf: bytes, picture: ElementTree.Element) -> None:
    with pdfplumber.open(io.BytesIO(pdf)) as read:
        page = read.pages[0]
        drawn = [char for char in page.chars if char["text"].strip()]
        wanted = sorted(
            (round(char["matrix"][4], 1), round(float(page.height) - char["matrix"][5], 1)) for char in drawn
        )
    found = places(picture)
    assert len(found) == len(wanted)
    for (x, y), (wanted_x, wanted_y) in zip(found, wanted, strict=True):
        assert abs(x - wanted_x) <= 0.2
        assert abs(y - wanted_y) <= 0.2


def test_no_font_is_needed_to_see_it(picture: ElementTree.Element) -> None:
    assert not list(picture.iter(f"{SVG}text"))
    assert len(list(picture.iter(f"{SVG}path"))) > 10


def test_matrices_are_done_one_after_the_other() -> None:
    move, grow = (1.0, 0.0, 0.0, 1.0, 5.0, 0.0), (2.0, 0.0, 0.0, 2.0, 0.0, 0.0)
    assert times(move, grow) == (2, 0, 0, 2, 10, 0)
    assert times(grow, move) == (2, 0, 0, 2, 5, 0)
