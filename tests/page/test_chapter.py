"""A chapter's first page, and which of its items stand together."""

from typeset.page.breaking import break_pages
from typeset.page.chapter import chapter_section
from typeset.page.marks import Music, Words

from .made import a_book, a_chapter, a_setting, an_exercise

INTRO = "Slow is a tempo too, and it is the one in which most is heard. " * 12


def test_where_the_first_exercise_has_no_room_its_chapter_s_opening_text_is_not_parted() -> None:
    chapter = a_chapter(1, [an_exercise("1.1", systems=6)], INTRO)
    setting = a_setting(a_book(chapter))
    first, second = break_pages(chapter_section(chapter, setting).pieces, setting.depth)
    said = " ".join(mark.words for piece in first for mark in piece.marks if isinstance(mark, Words))
    assert said.endswith(INTRO.strip())
    assert any(isinstance(mark, Music) for mark in second[0].marks)
