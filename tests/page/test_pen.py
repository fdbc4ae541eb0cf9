"""Drawing: marks as operators of a page, with what those do not tell."""

from __future__ import annotations

from fractions import Fraction

from typeset.compose.engraving import NoteSpecimen
from typeset.page.marks import Anchor, Begins, Box, Dot, Drawn, Entry, Link, Music, Role, Rule, Words
from typeset.page.pen import drawn

FONT = "SourceSansPro-Regular"
WORDS = Words(3, 10, "RL", FONT, 9)


def test_marks_are_measured_down_and_pdf_measures_up() -> None:
    assert "3.00 -10.00 Td" in drawn([WORDS]).content


def test_a_section_begins_with_what_is_drawn_in_it_and_ends_before_the_next() -> None:
    marks = [Begins(Role.HEADING), Begins(Role.FIGURE), WORDS, Begins(Role.TEXT), Rule(0, 0, 5, 0, 1)]
    lines = drawn(marks).content.splitlines()
    assert [line for line in lines if "MC" in line] == [
        "/Figure <</MCID 0>> BDC",
        "EMC",
        "/P <</MCID 1>> BDC",
        "EMC",
    ]
    assert [one.role for one in drawn(marks).sections] == [Role.FIGURE, Role.TEXT]


def test_words_end_in_a_space_but_letters_under_a_staff_do_not() -> None:
    assert "(RL )" in drawn([WORDS]).content
    assert "(RL)" in drawn([Begins(Role.FIGURE), WORDS]).content
    assert "(RL)" in drawn([WORDS._replace(joined=True)]).content


def test_music_and_links_are_told_with_their_section() -> None:
    note = Music(1, 2, NoteSpecimen(Fraction(1, 4)))
    link = Link(0, 0, 1, 1, "chapter 1")
    one = drawn([WORDS, Begins(Role.FIGURE), note, link])
    assert one.music == ((note, 1),)
    assert one.links == ((link, 1),)


def test_places_are_told_and_draw_nothing() -> None:
    places = (Anchor(4, "e1"), Entry(4, 1, "One"))
    assert drawn(places) == Drawn("", places=places)


def test_the_characters_of_each_font_are_told() -> None:
    other = Words(0, 0, "ab", "Lato-Regular", 9)
    assert drawn([Begins(Role.FIGURE), WORDS, other, WORDS]).glyphs == (("Lato-Regular", "ab"), (FONT, "LR"))


def test_what_was_drawn_before_comes_first_and_sections_are_numbered_on() -> None:
    first, then = [WORDS, Anchor(1, "a")], [Begins(Role.FURNITURE), Box(0, 0, 5, 5, 1)]
    assert drawn(then, drawn(first)) == drawn([*first, *then])


def test_nothing_drawn_before_changes_nothing() -> None:
    assert drawn([Dot(1, 1, 1)], drawn([])) == drawn([Dot(1, 1, 1)])
