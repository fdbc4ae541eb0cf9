"""Every shipped style sets the demo books: nothing is too wide or too tall, and nothing leaves its page."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from io import BytesIO
from pathlib import Path

import pypdfium2
import pytest

from typeset.built import Run
from typeset.compose import compose
from typeset.compose.book import Book
from typeset.compose.engraving import Engraving, NoteSpecimen, System
from typeset.engrave.block import Block
from typeset.manuscript import Manuscript, read
from typeset.manuscript.figures import read_figures
from typeset.page import lay_out
from typeset.page.pages import Pages
from typeset.page.setting import points
from typeset.pipeline import at_work, engraved_in
from typeset.problem import errors_of
from typeset.style import Style, load_style, style_names

from .page.made import fake_block, without_music

BOOKS = Path(__file__).parent.parent / "books"
EDGE = 3.0
"""Millimetres at a page's edge that have to stay free."""


@cache
def manuscript(book: str) -> Manuscript:
    written = read(BOOKS / book).manuscript
    assert written is not None
    return written


def composed(book: str, style: Style) -> Book:
    made = compose(manuscript(book), style.spacing, read_figures(BOOKS / book))
    assert errors_of(made.problems) == ()
    return made.book


def tall_block(engraving: Engraving, style: Style) -> Block:
    """A fake that reaches as far from its staff as the farthest that was engraved for the demo books."""
    if isinstance(engraving, NoteSpecimen):
        return fake_block(engraving)
    staff = points(style.staff.height)
    over, under, width = 1.5 * staff, 0.3 * staff, 4 * staff
    slots = [width / 2]
    if isinstance(engraving, System):
        width = points(engraving.width)
        slots = [points(engraving.lead + engraving.quarter * start) for start in quarters(engraving)]
    height = over + staff + under
    box = (0.0, 0.0, width, height)
    return Block(b"", width, height, 0.0, width, under, under + staff, box, tuple(slots))


def quarters(system: System) -> Iterator[float]:
    """When each slot begins, in quarters from the first."""
    bar_starts = 0.0
    for bar in system.every_bar:
        yield from (bar_starts + float((onset - bar.onsets[0]) * 4) for onset in bar.onsets)
        bar_starts += float(bar.length * 4)


def off_the_page(pages: Pages) -> Iterator[tuple[int, str]]:
    """The characters, with their page, that stand nearer to a page's edge than they may."""
    edge = points(EDGE)
    with pypdfium2.PdfDocument(BytesIO(without_music(pages))) as pdf:
        for number, page in enumerate(pdf, start=1):
            text = page.get_textpage()
            for index in range(text.count_chars()):
                left, bottom, right, top = text.get_charbox(index)
                is_inside = (
                    edge < left and right < pages.width - edge and edge < bottom and top < pages.height - edge
                )
                if right > left and not is_inside:
                    yield number, text.get_text_range(index, 1)


@pytest.mark.parametrize("book", ["quiet-doors", "yard-handbook"])
@pytest.mark.parametrize("name", style_names())
def test_every_style_sets_every_demo_book(name: str, book: str) -> None:
    style = load_style(name)
    made = composed(book, style)
    pages = lay_out(made, style, {one: tall_block(one, style) for one in made.engravings})
    assert list(off_the_page(pages)) == []


@pytest.mark.parametrize("name", ["a4-large", "a5-pocket"])
def test_the_largest_and_the_narrowest_hold_what_is_engraved_for_them(name: str) -> None:
    style = load_style(name)
    book = composed("quiet-doors", style)
    run = Run(jobs=1)
    with at_work(run) as executor:
        blocks = engraved_in(style, book.engravings, run, executor).blocks
    pages = lay_out(book, style, blocks)
    assert list(off_the_page(pages)) == []
    for placed in pages.placements:
        block = blocks[placed.engraving]
        assert placed.x + block.right * placed.scale < pages.width - points(style.margins.outer) + 2
        assert placed.y + block.ink[1] * placed.scale > points(style.margins.bottom) - 2


@pytest.mark.parametrize("name", [name for name in style_names() if "large" in name])
def test_large_print_has_no_letter_below_18_point(name: str) -> None:
    style = load_style(name)
    book = composed("quiet-doors", style)
    pages = lay_out(book, style, {one: tall_block(one, style) for one in book.engravings})
    sizes: set[float] = set()
    with pypdfium2.PdfDocument(BytesIO(without_music(pages))) as pdf:
        for page in pdf:
            sizes |= {round(one.get_font_size(), 2) for one in page.get_objects(filter=[1])}
    assert min(sizes) >= 18
