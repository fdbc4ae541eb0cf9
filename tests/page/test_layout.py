"""A whole book on its pages, as far as it can be seen before it is bound."""

from collections.abc import Callable
from dataclasses import replace
from typing import get_args

import pytest

from typeset.compose.book import Book, Text
from typeset.manuscript import values
from typeset.page import MissingCharacters, lay_out
from typeset.page.contents import contents
from typeset.page.layout import NUMBERED, PLAIN, Numbers
from typeset.page.leaf import Section, is_right
from typeset.page.marks import Words
from typeset.page.setting import Setting, points
from typeset.pdf import bind

from .made import a_book, a_chapter, a_setting, a_style, a_task, an_exercise, blocks_of, say


def some_chapters(count: int = 3, each: int = 9) -> list[object]:
    return [
        a_chapter(number, [an_exercise(f"{number}.{index}") for index in range(1, each + 1)])
        for number in range(1, count + 1)
    ]


def test_every_system_of_every_exercise_is_placed_once_beside_the_specimens() -> None:
    book = a_book(*some_chapters(), front=(), back=())  # type: ignore[arg-type]
    pages = lay_out(book, a_style(), blocks_of(book))
    systems = [system for exercise in book.exercises for system in exercise.systems]
    placed = [placement.engraving for placement in pages.placements if placement.scale == 1]
    assert len(placed) == len(systems)


def test_music_stays_inside_the_text_block_on_left_and_right_pages() -> None:
    book = a_book(*some_chapters())  # type: ignore[arg-type]
    style, blocks = a_style(), blocks_of(book)
    pages = lay_out(book, style, blocks)
    for placement in pages.placements:
        block = blocks[placement.engraving]
        left = placement.x + block.left * placement.scale
        right = placement.x + block.right * placement.scale
        inner = points(style.margins.inner)
        start = inner if is_right(placement.page + 1) else pages.width - inner - points(style.spacing.measure)
        assert start - 0.1 <= left and right <= start + points(style.spacing.measure) + 0.1
        assert points(style.margins.bottom) <= placement.y + block.bottom * placement.scale <= pages.height


def test_the_gutter_moves_the_text_block_and_resizes_nothing() -> None:
    book = a_book(*some_chapters())  # type: ignore[arg-type]
    thin = lay_out(book, a_style(), blocks_of(book))
    thick = lay_out(book, a_style(margins={"gutter": {"every": 1, "adds": 1, "most": 5}}), blocks_of(book))
    assert len(thin.labels) == len(thick.labels)
    for before, after in zip(thin.placements, thick.placements, strict=True):
        way = 1 if is_right(before.page + 1) else -1
        assert after.x - before.x == pytest.approx(way * points(5))
        assert (after.page, after.y) == (before.page, before.y)


def test_chapters_begin_on_a_right_hand_page_where_the_style_asks_and_blank_pages_are_blank() -> None:
    book = a_book(*some_chapters(4, 8), front=("title-page",), back=())  # type: ignore[arg-type]
    setting = a_setting(book, a_style(chapters={"begins": "right-hand-page"}))
    pages = lay_out(book, setting.style, setting.blocks)
    starts = [heading.page + 1 for heading in pages.headings if heading.depth == 0]
    assert all(is_right(page) for page in starts)
    assert starts[0] == 3


def test_parts_of_the_front_and_back_come_in_the_order_that_the_book_says() -> None:
    book = a_book(*some_chapters(1, 2), front=("care", "drum-key"), back=("index",))  # type: ignore[arg-type]
    words = [heading.words for heading in lay_out(book, a_style(), blocks_of(book)).headings]
    assert words[:3] == ["Take care of yourself", "Drum key", "1  First steps 1"]
    assert words[-1] == "Index"


def test_the_outline_has_chapters_and_their_exercises() -> None:
    book = a_book(*some_chapters(2, 2), front=(), back=())  # type: ignore[arg-type]
    headings = lay_out(book, a_style(), blocks_of(book)).headings
    assert [(heading.depth, heading.words.split()[0]) for heading in headings] == [
        (0, "1"),
        (1, "1.1"),
        (1, "1.2"),
        (0, "2"),
        (1, "2.1"),
        (1, "2.2"),
    ]


def test_page_numbers_in_the_contents_are_where_things_stand() -> None:
    book = a_book(*some_chapters(3, 12))  # type: ignore[arg-type]
    pages = lay_out(book, a_style(), blocks_of(book))
    setting = a_setting(book)
    stands = {heading.words.split()[0]: heading.page + 1 for heading in pages.headings if heading.depth == 1}
    section = contents(book, {f"no-{number}": page for number, page in stands.items()}, setting)
    rows = [[mark.words for mark in piece.marks if isinstance(mark, Words)] for piece in section.pieces]
    printed = {row[0]: int(row[-1]) for row in rows if row and row[0] in stands}
    assert printed == stands


def test_a_part_is_set_again_only_where_page_numbers_that_it_prints_have_changed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    set_: list[str] = []

    def counted(name: str, part: Callable[[Book, Numbers, Setting], Section]) -> object:
        def make(book: Book, numbers: Numbers, setting: Setting) -> Section:
            set_.append(name)
            return part(book, numbers, setting)

        return make

    for name, part in NUMBERED.items():
        monkeypatch.setitem(NUMBERED, name, counted(name, part))
    book = a_book(*some_chapters(2, 4), front=("contents",), back=("family", "index"))  # type: ignore[arg-type]
    lay_out(book, a_style(), blocks_of(book))
    assert set_ == ["contents", "family", "index", "contents"]


def test_same_book_same_bytes() -> None:
    book = a_book(*some_chapters(1, 3))  # type: ignore[arg-type]
    blocks = blocks_of(book)
    assert lay_out(book, a_style(), blocks) == lay_out(book, a_style(), blocks)


def test_a_book_without_exercises_has_pages() -> None:
    book = a_book(a_chapter(1, [Text("Nothing yet.")]), a_chapter(2, []))
    assert len(lay_out(book, a_style(), blocks_of(book)).labels) > 4


def test_a_chapter_may_open_with_more_text_than_a_page_holds() -> None:
    book = a_book(a_chapter(1, [an_exercise("1.1")], "Slow is a tempo too. " * 700), front=(), back=())
    assert len(lay_out(book, a_style(), blocks_of(book)).labels) > 2


HOSTILE = (
    "",
    "x" * 600,
    "Žluťoučký kůň, Ελλάς, Москва",
    "*" * 80,
    "[" * 80,
    "{right}" * 9,
    "- - -",
    "<para>&#0;</para>",
)


@pytest.mark.parametrize("words", HOSTILE, ids=range(len(HOSTILE)))
def test_words_of_any_kind_and_length_are_set_everywhere(words: str) -> None:
    exercise = an_exercise("1.1", title=words, instruction=(words,), said=True)
    book = a_book(
        replace(a_chapter(1, [exercise, Text(words)], words), title=words),
        title=words,
        subtitle=words,
        author=words,
        edition=words,
        date=words,
        back=("practice-log", "index", "family"),
    )
    pages = lay_out(book, a_style(), blocks_of(book))
    assert bind(pages, blocks_of(book), a_style(), say).startswith(b"%PDF-1.7")


@pytest.mark.parametrize("words", ["日本", "go 😀", "a\u202eb", "a\x00b", "a\ud800b", "so\u00adft"])
def test_a_character_that_the_faces_lack_is_refused_by_its_name_wherever_it_stands(words: str) -> None:
    exercise = an_exercise("1.1")
    book = a_book(a_chapter(1, [exercise]))
    chapter = book.chapters[0]
    task = a_task("write-the-count", [exercise], answer=(words,))
    for where, broken in {
        "the book's title": replace(book, title=words),
        "the book's author": replace(book, author=words),
        "the intro of chapter 1": replace(book, chapters=(replace(chapter, intro=words),)),
        "the title of exercise 1.1": a_book(a_chapter(1, [replace(exercise, title=words)])),
        "exercise 1.1": a_book(a_chapter(1, [replace(exercise, instruction=(words,))])),
        "a text in chapter 1": a_book(a_chapter(1, [Text(words)])),
        "task 1": a_book(a_chapter(1, [exercise, task])),
        "a note in chapter 1": a_book(a_chapter(1, [replace(exercise, note=words)]), for_teacher=True),
    }.items():
        with pytest.raises(MissingCharacters, match=f"^{where}.*cannot print .*U\\+") as error:
            lay_out(broken, a_style(), blocks_of(broken))
        assert error.value.characters and words in error.value.text


def test_a_style_s_own_letters_are_looked_at_too() -> None:
    book = a_book(a_chapter(1, [an_exercise("1.1")]))
    with pytest.raises(MissingCharacters, match=r"the style 'a4-workbook'.*HEAVY CHECK MARK"):
        lay_out(book, a_style(letters={"kick": "✔"}), blocks_of(book))


def test_a_style_cut_to_its_exercise_makes_a_page_no_larger_than_it() -> None:
    book = a_book(a_chapter(1, [an_exercise("1.1", bars=1, quarter=14.0)], ""), front=(), back=())
    book = replace(book, chapters=(replace(book.chapters[0], title=""),))
    style = a_style().shrunk()
    pages = lay_out(book, style, blocks_of(book))
    assert len(pages.labels) == 1
    assert pages.height < points(60)
    assert points(72) < pages.width < points(150)


def test_every_part_that_an_author_may_name_is_known() -> None:
    named = {*get_args(values._FrontPage), *get_args(values._BackPage)}
    assert named == {*PLAIN, *NUMBERED}
