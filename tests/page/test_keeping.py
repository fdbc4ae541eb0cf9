"""Chapters that are drawn once: found again while nothing changes that they depend on, and never otherwise."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import pytest

from typeset.compose.book import Book, Chapter
from typeset.page import lay_out
from typeset.page.keeping import Keep
from typeset.page.layout import set_chapter, setting_of
from typeset.page.setting import Setting
from typeset.pdf import bind
from typeset.style import Style

from .made import a_book, a_chapter, a_style, a_task, an_exercise, blocks_of, say


@dataclass
class Shelf:
    """A shelf in memory."""

    bodies: dict[str, bytes] = field(default_factory=dict)

    def get(self, key: str) -> bytes | None:
        return self.bodies.get(key)

    def put(self, key: str, body: bytes) -> None:
        self.bodies[key] = body


class Full(Shelf):
    """A shelf without room."""

    def put(self, key: str, body: bytes) -> None:
        raise OSError("no room")


def chapter(number: int, title: str = "On one surface") -> Chapter:
    first = an_exercise(f"{number}.1", title=title, recording="https://example.org/1")
    return a_chapter(number, [first, an_exercise(f"{number}.2"), a_task("write-the-count", [first])])


BOOK = a_book(chapter(1), chapter(2))


def setting(book: Book = BOOK, style: Style | None = None) -> Setting:
    return setting_of(book, style or a_style(), blocks_of(book)).anywhere


def pdf_of(book: Book, style: Style, keep: Keep | None) -> bytes:
    blocks = blocks_of(book)
    return bind(lay_out(book, style, blocks, keep), blocks, style, say)


def test_a_chapter_is_found_as_it_was_drawn() -> None:
    keep, one = Keep(Shelf(), "this program"), BOOK.chapters[0]
    assert keep.get(one, setting()) is None
    drawn = keep.put(one, setting(), set_chapter(one, setting()))
    assert keep.get(one, setting()) == drawn


def test_a_chapter_is_found_whatever_was_asked_of_it_before() -> None:
    keep, one, same = Keep(Shelf(), "this program"), chapter(1), chapter(1)
    keep.put(one, setting(), set_chapter(one, setting()))
    for exercise in same.exercises:
        assert exercise.pattern.barlines and exercise.pattern.bars[0].meter.bound
    assert keep.get(same, setting())


@pytest.mark.parametrize(
    "style",
    [
        a_style(type={"body": 11.0}),
        a_style(margins={"top": 30.0}),
        a_style(staff={"height": 6.0}),
        a_style(greys={"quiet": 50.0}),
        a_style(exercises={"level": True}),
    ],
)
def test_a_style_that_sets_chapters_otherwise_does_not_find_them(style: Style) -> None:
    keep, one = Keep(Shelf(), "this program"), BOOK.chapters[0]
    keep.put(one, setting(), set_chapter(one, setting()))
    assert keep.get(one, setting(style=style)) is None


def test_another_program_a_changed_chapter_and_a_left_handed_copy_do_not_find_it() -> None:
    shelf, one = Shelf(), BOOK.chapters[0]
    Keep(shelf, "this program").put(one, setting(), set_chapter(one, setting()))
    assert Keep(shelf, "the next").get(one, setting()) is None
    assert Keep(shelf, "this program").get(chapter(1, "Elsewhere"), setting()) is None
    assert Keep(shelf, "this program").get(one, replace(setting(), mirrored=True)) is None


def test_other_margins_around_the_same_text_block_draw_no_chapter_again() -> None:
    shelf = Shelf()
    keep = Keep(shelf, "this program")
    pdf_of(BOOK, a_style(), keep)
    before = set(shelf.bodies)
    wider = a_style(margins={"top": 24.0, "bottom": 26.0, "inner": 25.0, "outer": 15.0}, press={"bleed": 3.0})
    found = pdf_of(BOOK, wider, keep)
    assert set(shelf.bodies) == before
    assert found == pdf_of(BOOK, wider, None)


def test_a_book_of_chapters_that_were_found_is_the_same_book() -> None:
    keep = Keep(Shelf(), "this program")
    made, found = (pdf_of(BOOK, a_style(), keep) for _ in range(2))
    assert made == found == pdf_of(BOOK, a_style(), None)


def test_exercises_that_share_a_line_may_stand_without_a_gap() -> None:
    close = a_style(spacing={"gap": 0.0})
    keep = Keep(Shelf(), "this program")
    assert pdf_of(BOOK, close, keep) == pdf_of(BOOK, close, keep)


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"no chapter",
        b"\xff\xfe",
        b"[]\n",
        b"{}\n",
        b'{"right": false, "leaves": {}}\n',
        b'{"right": false, "leaves": [{"size": 3}]}\nq Q',
        b'{"right": false, "leaves": []}\nq Q',
    ],
)
def test_what_is_no_chapter_is_passed_over(body: bytes) -> None:
    shelf, one = Shelf(), BOOK.chapters[0]
    keep = Keep(shelf, "this program")
    drawn = keep.put(one, setting(), set_chapter(one, setting()))
    shelf.bodies = dict.fromkeys(shelf.bodies, body)
    assert keep.get(one, setting()) is None
    assert keep.put(one, setting(), set_chapter(one, setting())) == drawn == keep.get(one, setting())


def test_a_chapter_that_is_cut_off_or_goes_on_is_passed_over() -> None:
    shelf, one = Shelf(), BOOK.chapters[0]
    keep = Keep(shelf, "this program")
    keep.put(one, setting(), set_chapter(one, setting()))
    ((key, body),) = shelf.bodies.items()
    for other in (
        body[:-1],
        body + b"Q",
        body.replace(b'"P"', b'"Q"', 1),
        body.replace(b'"glyphs"', b'"glyph"', 1),
    ):
        shelf.bodies = {key: other}
        assert keep.get(one, setting()) is None


def test_a_fresh_build_draws_what_is_there_and_keeps_it_anew() -> None:
    shelf = Shelf()
    pdf_of(BOOK, a_style(), Keep(shelf, ""))
    kept = dict(shelf.bodies)
    shelf.bodies = dict.fromkeys(kept, b"damaged")
    assert pdf_of(BOOK, a_style(), Keep(shelf, "", fresh=True)) == pdf_of(BOOK, a_style(), None)
    assert shelf.bodies == kept


def test_what_cannot_be_kept_is_drawn_nevertheless() -> None:
    assert pdf_of(BOOK, a_style(), Keep(Full(), "")) == pdf_of(BOOK, a_style(), None)


def test_paper_that_fits_what_is_on_it_keeps_nothing() -> None:
    shelf = Shelf()
    fitted = a_style(paper={"fitted": True})
    assert pdf_of(BOOK, fitted, Keep(shelf, "")) == pdf_of(BOOK, fitted, None)
    assert not shelf.bodies
