"""Pairs of letters that stand nearer together than others."""

from __future__ import annotations

import io

import pdfplumber
import pytest

from typeset.page.faces import load, width_of
from typeset.page.families import CUTS
from typeset.page.kerning import kerning_of
from typeset.page.marks import Words

from .made import a_page_with

SERIF = "SourceSerifPro-Regular"
FONTS = [font for cuts in CUTS.values() for font in (cuts.light, cuts.regular, cuts.italic, cuts.strong)]


def page_of(words: str, font: str = SERIF, size: float = 20.0) -> pdfplumber.page.Page:
    return pdfplumber.open(io.BytesIO(a_page_with([Words(10, 50, words, font, size)], 400, 100))).pages[0]


@pytest.mark.parametrize("font", FONTS)
def test_every_shipped_face_draws_a_v_towards_an_a(font: str) -> None:
    assert sum(added for _, added in kerning_of("AV", font)) < 0
    assert width_of("AV", font, 10) < width_of("A", font, 10) + width_of("V", font, 10)


@pytest.mark.parametrize("words", ["Tomorrow", "AV To We Ty", "“Yard” P. V.", "Fünf Löwen, Öfen"])
def test_lines_are_broken_by_the_widths_that_are_drawn(words: str) -> None:
    chars = page_of(words).chars
    last = max(one["x1"] for one in chars if one["text"] != " ")
    assert last - 10 == pytest.approx(width_of(words, SERIF, 20), abs=0.05)


def test_words_are_as_long_together_as_one_by_one() -> None:
    space = width_of(" ", SERIF, 10)
    assert width_of("To AV", SERIF, 10) == pytest.approx(
        width_of("To", SERIF, 10) + space + width_of("AV", SERIF, 10)
    )


def test_kerned_words_are_read_as_they_were_written() -> None:
    assert page_of("AV Type, To. We’ll fly “Yonder”").extract_text() == "AV Type, To. We’ll fly “Yonder”"


def test_figures_stay_under_each_other() -> None:
    assert kerning_of("1074", "SourceSansPro-Regular") == ()


def test_an_accent_that_joins_its_letter_moves_nothing() -> None:
    assert kerning_of("Te\u0301", SERIF) == ()


def test_one_letter_has_nothing_to_stand_near() -> None:
    assert kerning_of("T", SERIF) == ()
    assert width_of("T", SERIF, 10) == load(SERIF).stringWidth("T", 10)
