"""A book in every language: what it prints, and what is read aloud of it, is in that language alone.

The author of this book writes figures and no words, so every word on its pages is the program's own, and has to
stand in the catalogues of its language.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Iterator
from functools import cache, partial
from pathlib import Path
from typing import Any

import pikepdf
import pypdfium2
import pytest
import yaml

import typeset.wording
from typeset.compose import compose
from typeset.compose.book import Book
from typeset.compose.sheet import sheet_of
from typeset.curricula import check_curriculum
from typeset.exchange.hand_on import hand_on
from typeset.exchange.spoken import spoken
from typeset.manuscript import read
from typeset.manuscript.figures import standard_figures
from typeset.page import lay_out, lay_out_curriculum, lay_out_sheets
from typeset.page.families import CUTS
from typeset.page.pages import Pages
from typeset.pattern.steps import STEPS
from typeset.pdf import bind
from typeset.problem import errors_of
from typeset.style import Style
from typeset.wording.catalogue import languages

from .page.made import a_style, blocks_of, fake_block, without_music

SHELF = Path(typeset.wording.__file__).parent
SHARED = SHELF.parents[1] / "shared" / "sequences"

NAMES = {word.casefold() for cuts in CUTS.values() for word in cuts.name.split()} | {"example", "https", "opus"}
"""Proper names of typefaces, and the address of the recordings."""

LETTERS = re.compile(r"[rlkh]+|e|a|trip|let")
"""Letters of limbs and syllables of counts, which are the style's."""

BOOK = """\
title: "1"
language: {language}
recordings: https://example.example/{{number}}.opus
chapters: [first.yaml, second.yaml]
front: [title-page, imprint, contents, how-to-read, drum-key, care]
back: [answers, practice-log, index, family]
"""

CHAPTER = """\
chapter: "1"
intro: "1 {right} {left}"
sequences: {five: R L R L K}
set: {tempo: 60-100}
exercises:
  - {id: a, title: "1", start: five, note: "1", pickup: R L}
  - id: b
    title: "2"
    start: a
    feel: swing-16ths
    times: 4
    steps:
      - rotate: 2
      - reverse: yes
      - swap: {R: L, L: R}
      - lead: R
      - replace: {limb: L, with: K, every: 2}
      - double: {limb: R}
      - repeat: 2
      - join: [rudiments/single-paradiddle, five, R K]
      - fit: {bars: 2, by: restarting, from: 2}
      - displace: 1
      - voice: {R: hi-hat, L: snare, K: kick}
      - accent: {run: 1, in-bars: [1, 2]}
      - plain: {limb: [R, L], dynamic: accent}
      - ghost: {every: 3, limb: L}
      - swell: {from: 1|3, way: softer}
      - move: {at: [3&, 3a], to: [high-tom, mid-tom, floor-tom]}
      - ornament: {limb: R, every: 5, as: flam}
      - omit: {limb: K, in-bars: 2}
  - id: c
    title: "3"
    start: five
    tempo: 180
    feel: swing-8ths
    play: once
    steps:
      - fit: {bars: 2}
      - spread: {over: [ride, ride-bell, crash, splash, china, cowbell, cross-stick, rim-shot, open-hi-hat]}
      - accent: [1, 3]
      - ghost: {sound: crash}
      - travel: 1
      - layer: {limb: H, at: beats}
      - ornament: {limb: R, every: 5, as: drag}
      - ornament: {limb: L, every: 4, as: buzz}
      - ornament: {limb: K, every: 5, as: diddle}
      - splice: {from: 2|3, use: R L L, grid: sextuplets}
      - stop: 2|4
  - {id: d, title: "4", start: a, steps: [regrid: triplets, remeter: 3/4, answer: hands]}
  - {id: e, title: "5", start: a, steps: [thin: {limb: [R, L]}, layer: {sequence: ostinatos/samba}, land: {R: crash}]}
  - {id: f, title: "6", phrase: [{use: a, bars: 1, times: 3}, c], endings: [a, {use: b, bars: 1}]}
  - {id: g, title: "7", start: five, meter: 2/2, grid: 32nds, tempo: 50}
  - {id: h, title: "8", start: five, meter: 7/8 (3+2+2), grid: 8ths, tempo: 120-180}
  - series: i
    start: five
    each: {rotate: all, displace: [0, 1]}
    limit: 4
  - series: j
    start: five
    each:
      grid: [8ths, [16ths, sextuplets], quintuplets, septuplets]
      voice: [{R: ride}, {R: snare, L: snare}]
      accents: {choose: 2, among: {limb: R}}
    limit: 16
  - {series: k, each: {sequence: [rudiments/flam-accent, ostinatos/march]}}
  - {task: write-the-sticking, of: a}
  - {task: write-the-count, of: a}
  - {task: write-the-notes, of: a}
  - {task: find-the-accents, of: c}
  - {task: spot-the-change, of: [a, l]}
  - {id: l, title: "9", start: a, steps: [ghost: [1, 3], accent: 2]}
"""

SECOND = """\
chapter: "2"
exercises: [{id: m, title: "1", start: R L R R}]
"""

CURRICULUM = """\
title: "1"
language: {language}
books: [b]
terms:
  - {{term: "1", weeks: 4, minutes: 5, days: 1, chapters: [b: 1]}}
  - {{term: "2", weeks: 1, minutes: 30, days: 3, chapters: [b: 2]}}
"""


@pytest.fixture(scope="module", params=languages())
def language(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(scope="module")
def folder(language: str, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp(language)
    (folder / "b").mkdir()
    (folder / "b" / "book.yaml").write_text(BOOK.format(language=language))
    (folder / "b" / "first.yaml").write_text(CHAPTER)
    (folder / "b" / "second.yaml").write_text(SECOND)
    (folder / "year.yaml").write_text(CURRICULUM.format(language=language))
    return folder


@pytest.fixture(scope="module")
def book(folder: Path) -> Book:
    written = read(folder / "b").manuscript
    assert written is not None
    made = compose(written, style().spacing, standard_figures())
    assert errors_of(made.problems) == ()
    return made.book


@cache
def style() -> Style:
    """Everything printed that can be, and no word parted."""
    return a_style(type={"hyphens": False}, exercises={"level": True, "recordings": True})


@cache
def vocabulary(language: str) -> frozenset[str]:
    """Every word of a language's catalogues."""
    files = (SHELF / f"{language}.yaml", SHELF / "sentences" / f"{language}.yaml")
    read = [yaml.load(file.read_text(encoding="utf-8"), Loader=yaml.BaseLoader) for file in files]
    if language == "en":
        read += [list(step.says.values()) for step in STEPS.values()]
        read += [yaml.load(file.read_text(), Loader=yaml.BaseLoader) for file in SHARED.glob("*.yaml")]
    phrases = " ".join(phrase for tree in read for phrase in leaves(tree))
    return frozenset(words_in(re.sub(r"\{[^{}]*\}", " ", phrases)))


def leaves(tree: Any) -> Iterator[str]:
    if isinstance(tree, str):
        yield tree
    else:
        for value in tree.values() if isinstance(tree, dict) else tree:
            yield from leaves(value)


def words_in(text: str) -> set[str]:
    return set(re.findall(r"[^\W\d_]+", text.casefold()))


def foreign(text: Iterable[str], language: str) -> set[str]:
    """Words that the catalogues of a language do not have."""
    words = {word for word in words_in("\n".join(text)) if not LETTERS.fullmatch(word)}
    return words - vocabulary(language) - NAMES


def printed(pages: Pages) -> Iterator[str]:
    """What stands on the pages, and what their outline says."""
    yield from (heading.words for heading in pages.headings)
    with pypdfium2.PdfDocument(io.BytesIO(without_music(pages))) as pdf:
        for page in pdf:
            yield page.get_textpage().get_text_bounded()


def read_aloud(pdf: bytes) -> Iterator[str]:
    """What stands in for everything that is no text."""
    with pikepdf.open(io.BytesIO(pdf)) as read:
        for each in read.objects:
            if isinstance(each, pikepdf.Dictionary) and "/Alt" in each:
                yield str(each["/Alt"])


def test_a_book_is_in_its_language_alone_on_paper_and_aloud(book: Book, language: str) -> None:
    pages = lay_out(book, style(), blocks_of(book))
    pdf = bind(pages, blocks_of(book), style(), partial(spoken, language))
    heard = list(read_aloud(pdf))
    assert foreign(printed(pages), language) == set()
    assert len(heard) > 40
    assert foreign(heard, language) == set()
    with pikepdf.open(io.BytesIO(pdf)) as said:
        assert said.Root.Lang == language


def test_an_exercise_as_text_is_in_its_book_s_language(book: Book, language: str) -> None:
    said = [hand_on(book, exercise, "text").decode() for exercise in book.exercises]
    assert foreign(said, language) == set()


def test_a_handout_is_in_its_book_s_language(book: Book, language: str) -> None:
    sheets = [sheet_of(book, book.exercises[:9], "1", None, style().spacing)]
    pages = lay_out_sheets(sheets, style(), {one: fake_block(one) for one in sheets[0].engravings})
    assert foreign(printed(pages), language) == set()


def test_a_curriculum_is_in_its_language(folder: Path, language: str) -> None:
    checked = check_curriculum(folder / "year.yaml")
    assert checked.style is not None
    pages = lay_out_curriculum(checked.sound_curriculum(), checked.style)
    assert foreign(printed(pages), language) == set()


@pytest.mark.parametrize("other", [language for language in languages() if language != "en"])
def test_english_is_seen_where_it_is_left(other: str) -> None:
    english = vocabulary("en")
    assert len(foreign([" ".join(english)], other)) > 0.8 * len(english)
