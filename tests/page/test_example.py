"""The example of how to read: its lines are named beside it, on the page, whatever its margin."""

from __future__ import annotations

import pytest

from typeset.page.example import example
from typeset.page.faces import width_of
from typeset.page.marks import Music, Words
from typeset.page.setting import Setting, points
from typeset.style import load_style, style_names

from .made import a_book, a_chapter, a_setting, a_style, an_exercise

BOOK = a_book(a_chapter(1, [an_exercise("1.1", bars=1), an_exercise("1.2")]))
NAMES = ("staff", "sticking", "count")


def named(setting: Setting) -> dict[str, Words]:
    (piece,) = example(BOOK, setting)
    return {mark.words: mark for mark in piece.marks if isinstance(mark, Words) and mark.words in NAMES}


def music(setting: Setting) -> Music:
    (piece,) = example(BOOK, setting)
    (one,) = (mark for mark in piece.marks if isinstance(mark, Music))
    return one


def test_names_hang_in_a_wide_margin_beside_the_first_long_line() -> None:
    setting = a_setting(BOOK, a_style(margins={"inner": 28, "outer": 12}))
    assert all(mark.x < 0 for mark in named(setting).values())
    assert music(setting).engraving == BOOK.exercises[1].systems[0]
    assert music(setting).scale == 1


def test_in_a_narrow_margin_a_shorter_line_moves_in() -> None:
    setting = a_setting(BOOK, a_style(margins={"inner": 14}))
    assert all(mark.x >= 0 for mark in named(setting).values())
    assert music(setting).engraving == BOOK.exercises[0].systems[0]
    assert music(setting).scale == 1


def test_where_there_is_no_shorter_one_it_keeps_its_size_and_is_named_from_the_top() -> None:
    book = a_book(a_chapter(1, [an_exercise("1.1")]))
    setting = a_setting(book, a_style(margins={"inner": 14}))
    (piece,) = example(book, setting)
    (one,) = (mark for mark in piece.marks if isinstance(mark, Music))
    assert one.scale == 1
    block = setting.blocks[one.engraving]
    assert one.x + block.right <= setting.measure + 0.01
    assert "From the top: staff, sticking, count." in [
        mark.words for mark in piece.marks if isinstance(mark, Words)
    ]


@pytest.mark.parametrize("style", style_names())
def test_no_name_leaves_the_page_in_any_style(style: str) -> None:
    loaded = load_style(style)
    setting = a_setting(BOOK, loaded.model_copy(update={"spacing": a_style().spacing}))
    assert set(named(setting)) == set(NAMES)
    assert all(mark.x > -points(loaded.margins.inner - 4) for mark in named(setting).values())
    assert all(
        mark.x + width_of(mark.words, mark.font, mark.size) < setting.measure for mark in named(setting).values()
    )
