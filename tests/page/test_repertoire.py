"""Which characters can be printed, held to what the typesetting library reads from the same files."""

import json
import subprocess
import sys

import pytest

from typeset.page.faces import load
from typeset.page.families import CUTS
from typeset.page.marks import Words
from typeset.page.paragraph import Look
from typeset.page.pen import drawn
from typeset.page.refusals import MissingCharacters
from typeset.page.repertoire import characters_of, described, missing_characters
from typeset.wording import wording
from typeset.wording.catalogue import languages
from typeset.wording.markup import Span
from typeset.wording.values import words_of

from .made import a_style

FONTS = [
    font
    for cuts in CUTS.values()
    for font in (cuts.light, cuts.regular, cuts.italic, cuts.strong, cuts.strong_italic)
]


@pytest.mark.parametrize("font", FONTS)
def test_the_characters_of_a_font_are_those_that_reportlab_finds_in_it(font: str) -> None:
    theirs = {chr(code) for code in load(font).face.charToGlyph}
    assert characters_of(font) ^ theirs <= {"\uffff"}  # which is no character, and ends a table in format 4


@pytest.mark.parametrize(
    ("text", "missing"),
    [
        ("Quiet Doors", ()),
        ("‘Über’ – “ça”…\n\tñ", ()),
        ("Žluťoučký kůň", ()),
        ("e\u0301", ()),
        ("日本 日", ("日", "本")),
        ("stop\u200b 😀", ("\u200b", "😀")),
        ("\x07\ud800\ue000", ("\x07", "\ud800", "\ue000")),
    ],
)
def test_what_cannot_be_printed_is_listed_once_and_in_order(text: str, missing: tuple[str, ...]) -> None:
    assert missing_characters(text, a_style()) == missing


def test_faces_with_fewer_characters_print_fewer() -> None:
    assert missing_characters("Москва", a_style()) == ()
    assert missing_characters("Москва", a_style(type={"letters": "lato"}))[0] == "М"


def test_a_character_is_described_so_that_it_can_be_found() -> None:
    assert described("日") == "日 (CJK UNIFIED IDEOGRAPH-65E5, U+65E5)"
    assert described("\u202e") == "RIGHT-TO-LEFT OVERRIDE, U+202E"
    assert described("\x00") == "a control character (U+0000)"
    assert described("\ud800") == "no character (U+D800)"


def test_what_an_italic_lacks_is_set_upright() -> None:
    look = Look(CUTS["source-serif"], 10, 12)
    assert look.font(Span("slow", emphasis=True)) == "SourceSerifPro-It"
    assert look.font(Span("Москва", emphasis=True)) == "SourceSerifPro-Regular"


@pytest.mark.parametrize("language", languages())
@pytest.mark.parametrize("family", CUTS)
def test_every_phrase_of_ours_can_be_printed_in_every_face(language: str, family: str) -> None:
    style = a_style(type={"text": family, "letters": family})
    assert not missing_characters("\n".join(wording(language).phrases.values()), style)
    assert not missing_characters(json.dumps(words_of(language).entries, ensure_ascii=False), style)


def test_nothing_is_drawn_that_its_font_has_no_glyph_for() -> None:
    drawn([Words(0, 0, "ça va", "Lato-Regular", 10)])
    with pytest.raises(
        MissingCharacters, match=r"'Привет': Lato-Regular cannot print П \(CYRILLIC CAPITAL LETTER PE"
    ):
        drawn([Words(0, 0, "Привет", "Lato-Regular", 10)])


def test_asking_does_not_load_the_typesetting_library() -> None:
    code = (
        "import sys; from typeset.page import missing_characters; from typeset.style import load_style; "
        "missing_characters('a', load_style('a4-workbook')); sys.exit('reportlab' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
