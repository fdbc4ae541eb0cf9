"""Pages one at a time are the pages of the book."""

from __future__ import annotations

from dataclasses import replace

from typeset.page import lay_out
from typeset.page.single import Typesetter
from typeset.pdf import bind
from typeset.pdf.picture import picture_of

from .made import a_book, a_chapter, a_style, an_exercise, blocks_of, say


def chapters(count: int, title: str = "On one surface"):  # type: ignore[no-untyped-def]
    return [
        a_chapter(number, [an_exercise(f"{number}.{one}", title=title) for one in range(1, 8)])
        for number in range(1, count + 1)
    ]


def test_a_page_drawn_alone_looks_as_it_does_in_the_book() -> None:
    book, style = a_book(*chapters(2)), a_style()
    blocks = blocks_of(book)
    whole = bind(lay_out(book, style, blocks), blocks, style, say)
    pages = Typesetter().pages(book, style, blocks)
    for number in (0, 2, 4, 5, len(pages.keys) - 1):
        alone = bind(pages.draw(number), blocks, style, say)
        assert picture_of(alone, dots=60) == picture_of(whole, number, dots=60)


def test_a_change_in_one_chapter_changes_the_keys_of_its_pages_alone() -> None:
    first, second = chapters(2)
    before, after = a_book(first, second), a_book(first, replace(second, intro="Slow is the only tempo."))
    setter, style = Typesetter(), a_style()
    then = setter.pages(before, style, blocks_of(before)).keys
    now = setter.pages(after, style, blocks_of(after)).keys
    changed = [number for number, (old, new) in enumerate(zip(then, now, strict=True)) if old != new]
    assert len(changed) == 1
    assert now == Typesetter().pages(after, style, blocks_of(after)).keys


def test_another_style_changes_the_keys_of_all_pages() -> None:
    book = a_book(*chapters(1))
    setter = Typesetter()
    thin = setter.pages(book, a_style(), blocks_of(book)).keys
    tall = setter.pages(book, a_style(staff={"height": 6.0}), blocks_of(book)).keys
    assert not set(thin) & set(tall)


def test_another_program_changes_the_keys_of_all_pages() -> None:
    book, style = a_book(*chapters(1)), a_style()
    old, new = (Typesetter(program).pages(book, style, blocks_of(book)).keys for program in ("old", "new"))
    assert not set(old) & set(new)


def test_paper_that_grows_with_its_fullest_page_changes_the_keys_of_all_pages() -> None:
    setter, fitted = Typesetter(), a_style(paper={"fitted": True})
    short = a_chapter(1, [an_exercise("1.1", bars=1)])
    more = a_chapter(2, [an_exercise("2.1")])
    before, after = a_book(short, front=(), back=()), a_book(short, more, front=(), back=())
    small = setter.pages(before, fitted, blocks_of(before))
    large = setter.pages(after, fitted, blocks_of(after))
    assert small.width < large.width
    assert not set(small.keys) & set(large.keys)


def test_what_follows_is_moved_when_a_chapter_grows() -> None:
    first, second = chapters(2)
    longer = a_chapter(1, [*first.items, *(an_exercise(f"1.{n}") for n in range(8, 20))])
    setter, style = Typesetter(), a_style()
    short, long = a_book(first, second, front=()), a_book(longer, second, front=())
    setter.pages(short, style, blocks_of(short))
    kept = setter.pages(long, style, blocks_of(long))
    fresh = Typesetter().pages(long, style, blocks_of(long))
    assert (kept.keys, kept.heads, kept.systems) == (fresh.keys, fresh.heads, fresh.systems)
