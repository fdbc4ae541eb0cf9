"""Words as strings in a page's content."""

from __future__ import annotations

import io

import pdfplumber
import pytest

from typeset.page.marks import Dot, Words
from typeset.page.repertoire import characters_of

from .made import a_page_with

FONT = "SourceSerifPro-Regular"
LETTERS = "".join(
    letter for letter in map(chr, range(0x21, 0x460)) if letter in characters_of(FONT) - {"\xa0", "\xad"}
)
"""More than the 256 that one part of a font can have."""


def page_of(*marks: Words | Dot) -> pdfplumber.page.Page:
    return pdfplumber.open(io.BytesIO(a_page_with(marks, 6000, 100))).pages[0]


def test_words_are_copied_as_they_were_written_from_all_parts_of_a_font() -> None:
    assert "".join(char["text"] for char in page_of(Words(10, 50, LETTERS, FONT, 10)).chars).strip() == LETTERS


def test_letters_of_two_parts_stand_beside_each_other() -> None:
    chars = page_of(Words(10, 20, LETTERS, FONT, 10), Words(10, 50, "AяA", FONT, 10)).chars[-4:-1]
    assert [char["text"] for char in chars] == ["A", "я", "A"]
    assert chars[1]["x0"] == pytest.approx(chars[0]["x1"], abs=0.5)
    assert chars[2]["x0"] == pytest.approx(chars[1]["x1"], abs=0.5)


def test_the_same_words_in_another_size_and_ink_are_drawn_in_those() -> None:
    looks = [(10.0, 100.0), (12.0, 100.0), (12.0, 40.0)]
    chars = page_of(*(Words(10, 50, "T", FONT, size, ink) for size, ink in looks)).chars
    found = [(char["size"], char["non_stroking_color"]) for char in chars if char["text"] == "T"]
    assert found == [(10, (0,)), (12, (0,)), (12, (0.6,))]


def test_a_dot_is_round() -> None:
    (dot,) = page_of(Dot(50, 50, 10)).curves
    assert (dot["x0"], dot["x1"], dot["top"], dot["bottom"]) == pytest.approx((40, 60, 40, 60))
    assert all((x - 50) ** 2 + (y - 50) ** 2 == pytest.approx(100) for x, y in dot["pts"])
