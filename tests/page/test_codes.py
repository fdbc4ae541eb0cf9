"""Codes of characters: the same in every book, with nothing in a font that its book does not print."""

from __future__ import annotations

import io

import pytest
from fontTools.ttLib import TTFont
from pypdf import PdfReader

from typeset.page.codes import codes_of, name_of
from typeset.page.families import CUTS
from typeset.page.marks import Words
from typeset.page.repertoire import characters_of

from .made import a_page_with

SERIF = "SourceSerifPro-Regular"
FONTS = [font for cuts in CUTS.values() for font in (cuts.light, cuts.regular, cuts.italic, cuts.strong)]


def printed(words: str) -> PdfReader:
    return PdfReader(io.BytesIO(a_page_with([Words(10, 50, words, SERIF, 20.0)], 400, 100)))


@pytest.mark.parametrize("font", FONTS)
def test_every_character_of_a_font_has_a_code_of_its_own(font: str) -> None:
    codes = {one: code for one, code in codes_of(font).items() if not one.isspace()}
    assert {one for one in characters_of(font) if not one.isspace()} <= codes.keys()
    assert len(set(codes.values())) == len(codes)
    assert not any(code.byte in (0, 32) for code in codes.values())


def test_latin_letters_stand_under_their_own_numbers() -> None:
    """Unicode's first 256 are those of ISO 8859-1."""
    codes = codes_of(SERIF)
    assert [codes[one] for one in "Aé"] == [(0, 0x41), (0, 0xE9)]


def test_quotation_marks_and_dashes_need_no_second_part_of_a_font() -> None:
    assert {codes_of(SERIF)[one].part for one in "“”‘’–—…•"} == {0}


def test_parts_of_different_fonts_have_different_names() -> None:
    assert len({name_of(font, part) for font in FONTS for part in (0, 1)}) == 2 * len(FONTS)


@pytest.mark.parametrize("words", ["Right left", "Grüße – “Löwen” 90°", "Łódź Čapek ﬁ"])
def test_what_is_printed_can_be_copied(words: str) -> None:
    assert printed(words).pages[0].extract_text().strip() == words


def test_a_font_holds_the_glyphs_that_are_printed_and_no_others() -> None:
    fonts = printed("RLK").pages[0]["/Resources"]["/Font"]
    (font,) = (one.get_object() for one in fonts.values())
    program = font["/FontDescriptor"]["/FontFile2"].get_data()
    assert TTFont(io.BytesIO(program))["maxp"].numGlyphs == len({".notdef", " ", "R", "L", "K"})
