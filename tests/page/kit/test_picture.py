"""The picture of the kit, in every style and with every kit that is shipped."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import combinations

import pytest

from typeset.compose.book import Book
from typeset.manuscript.figures import KITS, standard_figures
from typeset.page.faces import width_of
from typeset.page.kit.picture import kit_picture
from typeset.page.marks import Begins, Curve, Mark, Role, Words
from typeset.page.setting import Setting
from typeset.pattern.bar import Bar, Beat, Pattern
from typeset.pattern.limb import Limb
from typeset.pattern.meter import Meter
from typeset.pattern.mirror import mirrored
from typeset.pattern.sound import SOUNDS
from typeset.pattern.stroke import Stroke
from typeset.style import load_style
from typeset.style.load import style_names
from typeset.wording import wording

from ..made import a_book, a_chapter, a_style, an_exercise, blocks_of

Bounds = tuple[float, float, float, float]


def a_book_of(sounds: list[str], kit: str = "five-piece", *, for_left: bool = False) -> Book:
    """A book that plays some sounds, what hands play with the right one."""
    strokes = [Stroke(_limb(name), SOUNDS[name]) for name in sounds]
    bar = Bar(Meter(1, 4, (1,)), (Beat(Fraction(1, 4), tuple((stroke,) for stroke in strokes)),))
    exercise = replace(an_exercise("1.1"), pattern=Pattern((mirrored(bar) if for_left else bar,)))
    turned = standard_figures().kits[kit].mirrored() if for_left else standard_figures().kits[kit]
    return a_book(a_chapter(1, [exercise]), kit=turned, mirrored=for_left)


def _limb(name: str) -> Limb:
    if SOUNDS[name].by_hand:
        return Limb.RIGHT
    return Limb.KICK if name == "kick" else Limb.HAT


def marks_of(book: Book, style: str = "a4-workbook") -> tuple[Mark, ...]:
    setting = Setting(load_style(style), wording("en"), blocks_of(book), book.mirrored)
    return tuple(mark for piece in kit_picture(book, 1.9, setting) for mark in piece.marks)


def words_in(marks: tuple[Mark, ...]) -> list[str]:
    return [mark.words.strip("\u00a0") for mark in marks if isinstance(mark, Words)]


def bounds(mark: Words) -> Bounds:
    """The box of a run of words, a hair inside, for its neighbour in the same name begins where it ends."""
    return (
        mark.x + 0.1,
        mark.y - mark.size * 0.72,
        mark.x + width_of(mark.words, mark.font, mark.size) - 0.1,
        mark.y + 1,
    )


def overlap(one: Bounds, other: Bounds) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def keep_clear(book: Book, style: str, language: str = "en") -> None:
    """Names keep clear of each other and of the picture, and stay in the measure."""
    setting = Setting(load_style(style), wording(language), {}, book.mirrored)
    marks = tuple(mark for piece in kit_picture(book, 1.9, setting) for mark in piece.marks)
    seat = setting.words["pages.drum-key.seat"]
    names = [bounds(mark) for mark in marks if isinstance(mark, Words) and mark.words != seat]
    assert len(names) >= len(SOUNDS)
    assert not any(overlap(one, other) for one, other in combinations(names, 2))
    points = [point for mark in marks if isinstance(mark, Curve) for point in mark.points]
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    assert all(one[2] <= left or one[0] >= right for one in names)
    assert all(one[0] >= -0.01 and one[2] <= setting.measure + 0.01 for one in names)


@pytest.mark.parametrize("style", style_names())
@pytest.mark.parametrize("kit", KITS)
@pytest.mark.parametrize("for_left", [False, True])
def test_names_keep_clear_of_each_other_and_of_the_picture(style: str, kit: str, for_left: bool) -> None:
    keep_clear(a_book_of(list(SOUNDS), kit, for_left=for_left), style)


@pytest.mark.parametrize("style", ["a5-pocket", "a4-large"])
@pytest.mark.parametrize("language", ["de", "es", "fr", "pt"])
def test_names_keep_clear_in_every_language(style: str, language: str) -> None:
    keep_clear(a_book_of(list(SOUNDS)), style, language)


def test_each_sound_is_named_with_the_limbs_that_play_it() -> None:
    said = words_in(marks_of(a_book_of(["kick", "hi-hat", "hi-hat-foot"])))
    assert said == ["your seat", "bass drum", "K", "hi-hat, with the foot", "H", "hi-hat, closed", "R"]


def test_a_left_handed_copy_names_the_other_hand() -> None:
    assert words_in(marks_of(a_book_of(["hi-hat"], for_left=True)))[-1] == "L"


def test_the_kit_of_a_left_handed_copy_is_turned_over() -> None:
    right, left = (marks_of(a_book_of(["hi-hat", "snare"], for_left=turned)) for turned in (False, True))

    def side_of_the_cymbal(marks: tuple[Mark, ...]) -> bool:
        """True where the tinted disc lies left of the middle of all that is drawn."""
        curves = [mark for mark in marks if isinstance(mark, Curve)]
        xs = [x for curve in curves for x, _ in curve.points]
        cymbal = next(curve for curve in reversed(curves) if curve.fill == 7)
        return sum(x for x, _ in cymbal.points) / len(cymbal.points) < (min(xs) + max(xs)) / 2

    assert side_of_the_cymbal(right) and not side_of_the_cymbal(left)


def test_letters_that_the_style_does_not_print_are_left_out() -> None:
    book = a_book_of(["kick"])
    setting = Setting(a_style(lines={"sticking": "none"}), wording("en"), blocks_of(book))
    assert words_in(kit_picture(book, 1.9, setting)[0].marks) == ["your seat", "bass drum"]


def test_the_picture_is_read_out_as_a_picture_and_its_names_as_words() -> None:
    begins = [mark for mark in marks_of(a_book_of(["kick", "snare"])) if isinstance(mark, Begins)]
    assert begins[0].role is Role.FIGURE
    assert begins[0].says
    assert {one.role for one in begins[1:]} == {Role.TEXT}


def test_it_is_no_larger_than_asked_for() -> None:
    book = a_book_of(["kick", "snare"])
    setting = Setting(a_style(), wording("en"), blocks_of(book))
    heights = [kit_picture(book, largest, setting)[0].height for largest in (1.9, 1.0)]
    assert heights[0] > heights[1] * 1.4


def test_a_book_without_music_has_no_picture() -> None:
    assert kit_picture(a_book(), 1.9, Setting(a_style(), wording("en"), {})) == ()
