"""The codes on finished pages, read back from pictures of them by a reader that is not ours.

Sources: ISO/IEC 18004 (QR Code), as zxing-cpp implements it, and from memory for the four modules of white
that have to stay round a code. Pages are rendered at 300 dots to an inch by pypdfium2.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import replace
from math import dist

import pikepdf
import pypdfium2
import pytest
import zxingcpp
from PIL import Image

from tests.page.made import a_book, a_chapter, an_exercise, blocks_of, say
from typeset.compose.book import Book
from typeset.page import lay_out
from typeset.pdf import AS_BOOK, bind
from typeset.style import load_style

DOTS = 300
MM = DOTS / 25.4
SHORT = "https://recordings.lantern-yard.example/quiet-doors/{number}.opus"
# As long as it may be: its code has 45 modules to a side, and the short one's 33.
LONG = f"https://recordings.lantern-yard.example/{'x' * 68}/{{number}}.opus"


def a_book_with(address: str) -> Book:
    """A book of exercises of every width: two on a line, one whose staff is short, some as wide as the measure."""
    made = [
        an_exercise("1.1", bars=1, quarter=8.0),
        an_exercise("1.2", bars=1, quarter=8.0),
        an_exercise("1.3", bars=1, quarter=12.0, title="A title that is so long that it takes more than one line"),
        an_exercise("1.4", bars=2, quarter=10.0, systems=2, times=4),
        an_exercise("1.12", bars=2, quarter=10.0),
    ]
    recorded = [replace(one, recording=address.format(number=one.number)) for one in made]
    return a_book(a_chapter(1, recorded), front=("how-to-read",))


def pdf_of(book: Book, style_name: str) -> bytes:
    style = load_style(style_name)
    blocks = blocks_of(book)
    return bind(lay_out(book, style, blocks), blocks, style, say, AS_BOOK)


def pictures(pdf: bytes) -> list[Image.Image]:
    document = pypdfium2.PdfDocument(pdf)
    return [document[page].render(scale=DOTS / 72).to_pil().convert("L") for page in range(len(document))]


def codes_in(pages: Sequence[Image.Image]) -> list[tuple[Image.Image, zxingcpp.Barcode]]:
    return [(page, code) for page in pages for code in zxingcpp.read_barcodes(page)]


@pytest.mark.parametrize("style", ["a4-workbook", "a4-handout", "a4-large", "a5-pocket"])
def test_every_code_is_read_back_as_the_address_of_its_exercise(style: str) -> None:
    book = a_book_with(SHORT)
    read = [code.text for _, code in codes_in(pictures(pdf_of(book, style)))]
    # The page on how to read shows the first once more.
    assert sorted(read) == sorted([book.exercises[0].recording, *(one.recording for one in book.exercises)])


@pytest.mark.parametrize(("address", "modules"), [(SHORT, 33), (LONG, 45)])
def test_a_code_is_fifteen_millimetres_or_more_with_white_all_round(address: str, modules: int) -> None:
    found = codes_in(pictures(pdf_of(a_book_with(address), "a4-workbook")))
    assert len(found) == 6
    for page, code in found:
        corners = code.position
        left, top = corners.top_left.x, corners.top_left.y
        right, bottom = corners.bottom_right.x, corners.bottom_right.y
        # The reader's corners are whole dots.
        assert dist((left, top), (corners.top_right.x, corners.top_right.y)) + 2 >= 15 * MM
        white = round((right - left) / modules * 4) - 3
        for box in (
            (left - white, top - white, left - 2, bottom + white),
            (right + 3, top - white, right + white, bottom + white),
            (left - white, top - white, right + white, top - 2),
            (left - white, bottom + 3, right + white, bottom + white),
        ):
            assert page.crop(box).getextrema() == (255, 255)


def test_a_code_is_clicked_on_and_read_aloud_as_the_same_address() -> None:
    book = a_book_with(SHORT)
    with pikepdf.open(io.BytesIO(pdf_of(book, "a4-workbook"))) as pdf:
        links = [
            str(link.A.URI) for page in pdf.pages for link in page.get("/Annots", []) if link.get("/A") is not None
        ]
        alternatives = [
            str(one.Alt) for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and "/Alt" in one
        ]
    for one in book.exercises:
        assert one.recording in links
        assert f"Recording: {one.recording}" in alternatives


def test_codes_are_drawn_in_grey_alone() -> None:
    with pikepdf.open(io.BytesIO(pdf_of(a_book_with(SHORT), "a4-workbook"))) as pdf:
        operators = {str(one.operator) for page in pdf.pages for one in pikepdf.parse_content_stream(page)}
    assert not operators & {"rg", "RG", "k", "K", "sc", "scn", "SC", "SCN"}
