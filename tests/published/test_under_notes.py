"""Counts and sticking letters stand under their notes, read from the finished demo book by pdfplumber.

The note heads are LilyPond's own glyphs, told by the names in its font. The limit, 1 mm, is ours.
"""

from __future__ import annotations

import io
from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import lilypond
import pdfplumber
import pytest
from fontTools.ttLib import TTFont

from typeset import pipeline
from typeset.built import Run

DEMO = Path(__file__).parents[2] / "books" / "quiet-doors"
MM = 72 / 25.4
NEAR = 1 * MM
COUNTS = {"e", "&", "a", "trip", "let"}


@dataclass(frozen=True)
class Demo:
    """The demo book's chapters as they were printed, and the strokes that its exercises have."""

    pages: tuple[Any, ...]
    strokes: int
    sounding: int


@pytest.fixture(scope="module")
def demo() -> Iterator[Demo]:
    book = pipeline.check(DEMO).sound_book()
    (built,) = pipeline.make(DEMO, None, Run())
    with pdfplumber.open(io.BytesIO(built.pdf)) as pdf:
        texts = [page.extract_text() for page in pdf.pages]
        first = next(number for number, text in enumerate(texts) if "Chapter 1\n" in text)
        last = next(number for number, text in enumerate(texts) if text.startswith("Practice log"))
        yield Demo(
            pages=tuple(pdf.pages[first:last]),
            strokes=sum(len(list(one.pattern.strokes)) for one in book.exercises),
            sounding=sum(1 for one in book.exercises for slot in one.pattern.slots if slot),
        )


@cache
def head_codes() -> frozenset[str]:
    """The characters that are note heads in LilyPond's font."""
    folder = Path(lilypond.executable()).parents[1]
    font = TTFont(next(folder.rglob("emmentaler-18.otf")))
    names: dict[int, str] = font.getBestCmap()
    return frozenset(chr(code) for code, name in names.items() if name.startswith("noteheads."))


def middles(chars: list[Any]) -> list[float]:
    return sorted((char["x0"] + char["x1"]) / 2 for char in chars)


def stands_under(x: float, heads: list[float]) -> bool:
    place = bisect_left(heads, x)
    return any(abs(heads[index] - x) <= NEAR for index in (place - 1, place) if 0 <= index < len(heads))


def heads_over(page: Any, bottom: float) -> list[float]:
    """The note heads of the staff right above a line of letters that ends so far from the page's top."""
    height = page.height - bottom
    # A glyph's own place is its matrix; the box around it is as tall as the whole font.
    heads = [char for char in page.chars if char["text"] in head_codes()]
    return middles([head for head in heads if 0 < head["matrix"][5] - height < 26 * MM])


def letters_of(page: Any) -> list[Any]:
    """The sticking letters of a page: capitals of the letters' face that stand alone."""
    words = page.extract_words(extra_attrs=["fontname", "size"], x_tolerance=0.5)
    return [word for word in words if word["text"] in "RLKH" and "SansPro-Semibold" in word["fontname"]]


def counts_of(page: Any) -> list[Any]:
    """The counts of a page that are said on a stroke, and so are black."""
    words = page.extract_words(extra_attrs=["fontname", "size", "non_stroking_color"], x_tolerance=0.5)
    rows = {round(word["bottom"]) for word in words if word["text"] in COUNTS and "SansPro" in word["fontname"]}
    return [
        word
        for word in words
        if round(word["bottom"]) in rows
        and "SansPro" in word["fontname"]
        and (word["text"] in COUNTS or word["text"].isdigit())
        and word["non_stroking_color"] in ((0,), (0.0,), 0)
    ]


def test_every_stroke_has_its_letter_under_its_head(demo: Demo) -> None:
    seen = 0
    for page in demo.pages:
        for letter in letters_of(page):
            seen += 1
            x = (letter["x0"] + letter["x1"]) / 2
            assert stands_under(x, heads_over(page, letter["bottom"])), (page.page_number, letter)
    assert seen == demo.strokes


def test_every_count_that_is_played_stands_under_its_head(demo: Demo) -> None:
    seen = 0
    for page in demo.pages:
        for count in counts_of(page):
            seen += 1
            x = (count["x0"] + count["x1"]) / 2
            assert stands_under(x, heads_over(page, count["bottom"])), (page.page_number, count)
    assert seen >= 0.9 * demo.sounding
