"""Handouts on paper: the head, the exercises, and notes in what is left."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from itertools import pairwise

import pdfplumber
import pytest

from typeset.compose.book import Exercise
from typeset.compose.sheet import Sheet
from typeset.compose.specimens import specimens_of
from typeset.page import lay_out_roster, lay_out_sheets, sheet
from typeset.page.breaking import Piece
from typeset.page.exercise import exercise_pieces
from typeset.page.pages import Pages, Place
from typeset.page.setting import Setting, points
from typeset.style import load_style

from .made import an_exercise, fake_block, without_music

STYLE = load_style("a4-handout")


def a_sheet(exercises: Sequence[Exercise], name: str | None = "Mira Okafor", *, mirrored: bool = False) -> Sheet:
    author = "Lantern Yard Studio"
    shown = specimens_of(exercises)
    source = f"Quiet Doors, {author}"
    return Sheet("Practice sheet", name, tuple(exercises), source, author, "en", None, mirrored, shown)


def some(count: int) -> list[Exercise]:
    return [an_exercise(f"1.{number}") for number in range(1, count + 1)]


def laid_out(*sheets: Sheet, two_sided: bool = False) -> Pages:
    blocks = {one: fake_block(one) for sheet in sheets for one in sheet.engravings}
    return lay_out_sheets(sheets, STYLE, blocks, two_sided)


def texts(pages: Pages) -> list[str]:
    with pdfplumber.open(BytesIO(without_music(pages))) as pdf:
        return [page.extract_text() for page in pdf.pages]


def ruled(pages: Pages) -> list[float]:
    """How far down the last page the rules across the whole measure stand, in points."""
    with pdfplumber.open(BytesIO(without_music(pages))) as pdf:
        page = pdf.pages[-1]
        across = points(STYLE.spacing.measure)
        return sorted(float(line["top"]) for line in page.lines if abs(line["width"] - across) < 1)


def test_a_sheet_has_a_title_a_name_and_room_for_date_goal_and_notes() -> None:
    (text,) = texts(laid_out(a_sheet(some(2))))
    lines = text.splitlines()
    assert lines[0] == "Practice sheet"
    assert lines[1] == "Name Mira Okafor Date"
    assert lines[2] == "Goal"
    assert "Notes" in lines
    assert lines[-1] == "From Quiet Doors, Lantern Yard Studio"


def test_a_sheet_for_nobody_leaves_the_name_to_be_written() -> None:
    (text,) = texts(laid_out(a_sheet(some(1), None)))
    assert text.splitlines()[1] == "Name Date"


def test_a_left_handed_sheet_says_so_beside_the_name() -> None:
    (text,) = texts(laid_out(a_sheet(some(1), mirrored=True)))
    assert text.splitlines()[1] == "Name Mira Okafor left-handed copy Date"


def test_notes_fill_what_is_left_with_even_lines() -> None:
    few, more = ruled(laid_out(a_sheet(some(2)))), ruled(laid_out(a_sheet(some(3))))
    assert len(few) > len(more) > 1
    gaps = {round(below - above, 2) for above, below in pairwise(few)}
    assert len(gaps) == 1
    foot = points(STYLE.paper.height - STYLE.margins.bottom)
    assert few[-1] == more[-1]
    assert foot - points(20) < few[-1] < foot - points(6)


def test_a_key_of_signs_stands_at_the_foot_of_the_last_page(monkeypatch: pytest.MonkeyPatch) -> None:
    sheets = [laid_out(a_sheet(some(count))) for count in (2, 7)]
    for pages in sheets:
        *before, last = texts(pages)
        assert last.splitlines()[-2].startswith("Key R right hand L left hand K kick foot")
        assert not any("Key" in text for text in before)
    monkeypatch.setattr("typeset.page.sheet.sign_key", lambda *_: None)
    without = [laid_out(a_sheet(some(count))) for count in (2, 7)]
    assert [len(texts(pages)) for pages in sheets] == [len(texts(pages)) for pages in without] == [1, 2]


def test_exercises_move_closer_where_that_saves_a_page(monkeypatch: pytest.MonkeyPatch) -> None:
    assert len(texts(laid_out(a_sheet(some(5))))) == 1
    monkeypatch.setattr("typeset.page.sheet._CLOSER", 1.0)
    assert len(texts(laid_out(a_sheet(some(5))))) == 2


def test_a_second_page_says_whose_it_is_and_only_the_last_has_notes() -> None:
    first, *_, last = texts(laid_out(a_sheet(some(9))))
    assert last.splitlines()[0] == "Practice sheet, Mira Okafor"
    assert last.splitlines()[-1].startswith("From Quiet Doors, Lantern Yard Studio 2 of ")
    assert "Notes" not in first


def test_sheets_follow_one_another_each_on_its_own_page() -> None:
    pages = laid_out(a_sheet(some(1)), a_sheet(some(1), "Teo"))
    assert [text.splitlines()[1] for text in texts(pages)] == ["Name Mira Okafor Date", "Name Teo Date"]
    assert [heading.words for heading in pages.headings if heading.depth == 0] == ["Mira Okafor", "Teo"]


def test_printed_on_two_sides_nobody_shares_paper() -> None:
    pages = laid_out(a_sheet(some(1)), a_sheet(some(1), "Teo"), two_sided=True)
    assert [bool(text) for text in texts(pages)] == [True, False, True]


def test_a_link_stays_on_its_own_sheet() -> None:
    family = [an_exercise("1.1"), an_exercise("1.2", parent="no-1.1", parent_number="1.1")]
    pages = laid_out(a_sheet(family), a_sheet(family, "Teo"))
    assert [(link.page, link.to.page) for link in pages.links if isinstance(link.to, Place)] == [(0, 0), (1, 1)]


def test_a_roster_has_everyones_pages_as_they_are_alone_and_last_all_of_them() -> None:
    sheets = [a_sheet(some(2), "Mira Okafor"), a_sheet(some(5), "Oskar Fennimoor", mirrored=True)]
    blocks = {one: fake_block(one) for sheet in sheets for one in sheet.engravings}
    first, second, both = lay_out_roster(sheets, STYLE, blocks, two_sided=True)
    assert (first, second) == (laid_out(sheets[0]), laid_out(sheets[1]))
    assert both == laid_out(*sheets, two_sided=True)


def test_an_exercise_on_several_sheets_of_a_roster_is_set_once(monkeypatch: pytest.MonkeyPatch) -> None:
    set_: list[str] = []

    def counted(exercises: Sequence[Exercise], setting: Setting) -> tuple[Piece, ...]:
        set_.extend(one.number for one in exercises)
        return exercise_pieces(exercises, setting)

    monkeypatch.setattr(sheet, "exercise_pieces", counted)
    sheets = [a_sheet(some(3)), a_sheet(some(4), "Oskar Fennimoor")]
    lay_out_roster(sheets, STYLE, {one: fake_block(one) for sheet in sheets for one in sheet.engravings})
    assert sorted(set_) == ["1.1", "1.2", "1.3", "1.4"]
