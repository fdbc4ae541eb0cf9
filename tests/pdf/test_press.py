"""What a press file needs of the author and of the printing house. The rules: tests/published/test_press.py."""

from __future__ import annotations

import io
import struct
from dataclasses import replace

import pikepdf
import pytest

from tests.page.made import a_book, a_chapter, a_style, an_exercise, blocks_of, say
from typeset.page import lay_out
from typeset.page.pages import Pages
from typeset.pdf import Kind, NotForPress, Output, bind

BOOK = a_book(a_chapter(1, [an_exercise("1.1")]))
PRESS = Output(Kind.PRESS)


@pytest.fixture(scope="module")
def pages() -> Pages:
    return lay_out(BOOK, a_style(), blocks_of(BOOK))


@pytest.mark.parametrize("date", [None, "in the autumn", "2026-9-1", ""])
def test_without_a_date_there_is_no_press_file_and_it_is_said_why(pages: Pages, date: str | None) -> None:
    with pytest.raises(NotForPress, match="date: 2026-09-01"):
        bind(replace(pages, date=date), blocks_of(BOOK), a_style(), say, PRESS)


@pytest.mark.parametrize(
    ("date", "told"), [("2026", "D:2026"), ("2026-09", "D:202609"), ("2026-09-01", "D:20260901")]
)
def test_a_date_is_told_as_exactly_as_it_is_known(pages: Pages, date: str, told: str) -> None:
    bound = bind(replace(pages, date=date), blocks_of(BOOK), a_style(), say, PRESS)
    with pikepdf.open(io.BytesIO(bound)) as pdf:
        assert str(pdf.docinfo.CreationDate) == told


def test_a_printing_house_s_own_profile_takes_the_place_of_ours(pages: Pages) -> None:
    tag = b"desc" + bytes(4) + struct.pack(">I", 9) + b"House 4c\0"
    house = bytes(12) + b"prtrCMYK" + bytes(16) + b"acsp" + bytes(88)
    house += struct.pack(">I4sII", 1, b"desc", 144, len(tag)) + tag
    bound = bind(pages, blocks_of(BOOK), a_style(), say, replace(PRESS, profile=house))
    with pikepdf.open(io.BytesIO(bound)) as pdf:
        (intent,) = pdf.Root.OutputIntents
        assert intent.DestOutputProfile.read_bytes() == house
        assert intent.DestOutputProfile.N == 4
        assert str(intent.Info) == "House 4c"


def test_a_profile_that_knows_no_black_is_refused(pages: Pages) -> None:
    with pytest.raises(NotForPress, match="no ICC profile"):
        bind(pages, blocks_of(BOOK), a_style(), say, replace(PRESS, profile=b"nothing"))
