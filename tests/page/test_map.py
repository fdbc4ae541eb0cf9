"""The map of a curriculum: dots on the height of their levels, families joined, chapters and terms underneath."""

from collections.abc import Sequence

import pytest

from typeset.compose.book import Exercise
from typeset.compose.curriculum import Curriculum, Term, Volume
from typeset.page.leaf import pageful_of
from typeset.page.map import curriculum_map
from typeset.page.marks import Dot, Mark, Rule, Words
from typeset.page.setting import Setting
from typeset.page.spots import RADIUS, Plot, Spot, columns_of, levels_of, spots_of
from typeset.wording import wording

from .made import a_book, a_chapter, a_style, an_exercise


def a_volume(name: str, chapters: Sequence[Sequence[int]], terms: Sequence[int | None]) -> Volume:
    """A book whose exercises have these levels; the second of a chapter grows out of the first."""
    made = [
        a_chapter(number, [exercise(number, place, level) for place, level in enumerate(levels, start=1)])
        for number, levels in enumerate(chapters, start=1)
    ]
    return Volume(name, a_book(*made, title=name), tuple(terms))


def exercise(chapter: int, place: int, level: int) -> Exercise:
    parent = f"no-{chapter}.1" if place == 2 else None
    return an_exercise(f"{chapter}.{place}", level=level, parent=parent, bars=1)


def a_curriculum(*volumes: Volume) -> Curriculum:
    terms = (Term("Autumn", "", 20, 5, (), ()), Term("Spring", "", 20, 5, (), ()))
    return Curriculum("A Year", "Two books", None, None, "en", volumes, terms)


def a_setting() -> Setting:
    return Setting(a_style(), wording("en"), {})


def marks_of(curriculum: Curriculum) -> tuple[Mark, ...]:
    (piece,) = curriculum_map(curriculum, a_setting()).pieces
    return piece.marks


def words(marks: Sequence[Mark]) -> list[str]:
    return [mark.words for mark in marks if isinstance(mark, Words)]


TWO = (a_volume("Rooms", [[1, 2, 2], [3, 3]], [1, None]), a_volume("Doors", [[2, 4, 6]], [2]))


def spots(volume: Volume, plot: Plot) -> tuple[Spot, ...]:
    (column,) = columns_of([volume], a_setting())
    return spots_of(column, plot, a_setting())


def test_exercises_go_from_left_to_right_and_harder_ones_are_higher() -> None:
    placed = spots(a_volume("Rooms", [[1, 2], [4]], [1, 1]), Plot(100, 500, 4))
    xs, ys = [spot.x for spot in placed], [spot.y for spot in placed]
    assert xs == sorted(xs) and ys == sorted(ys, reverse=True)
    assert xs[2] - xs[1] == pytest.approx(2 * (xs[1] - xs[0]))  # a chapter is set off
    assert 100 < ys[2] < 200 and 300 < ys[1] < 400 < ys[0] < 500


@pytest.mark.parametrize("count", [3, 30, 90])
def test_dots_and_numbers_do_not_touch(count: int) -> None:
    placed = spots(a_volume("Rooms", [[3] * count], [1]), Plot(50, 650, 4))
    for index, one in enumerate(placed):
        for other in placed[index + 1 :]:
            assert (one.x - other.x) ** 2 + (one.y - other.y) ** 2 >= (2 * RADIUS) ** 2
    if count == 3:
        assert all(spot.label == 6.5 for spot in placed)


def test_a_crowd_is_numbered_only_where_there_is_room() -> None:
    placed = spots(a_volume("Rooms", [[3] * 200 + [1]], [1]), Plot(50, 450, 8))
    assert placed[-1].label and not all(spot.label for spot in placed)


def test_every_exercise_stays_in_its_level_however_many_there_are() -> None:
    plot = Plot(50, 650, 6)
    for spot in spots(a_volume("Rooms", [[3] * 400], [1]), plot):
        assert abs(spot.y - plot.middle(3)) <= plot.band / 2


def test_a_map_goes_up_to_the_hardest_exercise() -> None:
    assert levels_of(TWO) == 6
    assert levels_of([a_volume("Rooms", [[1, 2]], [1])]) == 4
    assert [word for word in words(marks_of(a_curriculum(*TWO))) if word.isdigit()].count("6") == 1


def test_columns_are_as_wide_as_their_books_are_long_and_fill_the_measure() -> None:
    setting = a_setting()
    short, long = columns_of([a_volume("S", [[1]], [1]), a_volume("L", [[1] * 50], [1])], setting)
    assert long.width > 2 * short.width > 60
    assert long.left + long.width == pytest.approx(setting.measure)


def test_books_chapters_and_terms_are_named() -> None:
    found = words(marks_of(a_curriculum(*TWO)))
    assert {"A Year", "Rooms", "Doors", "Autumn", "Spring"} <= set(found)
    assert {"1.1", "1.2", "1.3", "2.1", "2.2"} <= set(found)


def test_a_term_s_title_that_has_no_room_gives_way_to_its_number() -> None:
    tiny = a_volume("Doors", [[1], [1] * 60], [2, None])
    found = words(marks_of(a_curriculum(tiny)))
    assert "Spring" not in found and found.count("2") >= 2


def test_what_no_term_takes_up_is_hollow() -> None:
    marks = [mark for mark in marks_of(a_curriculum(*TWO)) if isinstance(mark, Dot)]
    hollow = [mark for mark in marks if mark.ink == 0 and mark.radius < RADIUS]
    assert len(hollow) == 2 + 1  # the two of chapter 2, and the one in the legend
    assert "one that no term takes up" in words(marks_of(a_curriculum(*TWO)))
    assert "one that no term takes up" not in words(marks_of(a_curriculum(TWO[1])))


def test_a_curve_leads_from_an_exercise_to_the_one_that_grew_out_of_it() -> None:
    curriculum = a_curriculum(a_volume("Doors", [[1, 4]], [1]))
    marks = marks_of(curriculum)
    dots = [mark for mark in marks if isinstance(mark, Dot) and mark.radius == RADIUS and mark.ink == 100]
    lines = {((mark.x0, mark.y0), (mark.x1, mark.y1)) for mark in marks if isinstance(mark, Rule)}
    ends = {end for line in lines for end in line}
    parent, child = dots[:2]
    assert (parent.x, parent.y) in ends and (child.x, child.y) in ends


def test_it_is_all_on_one_page_and_inside_the_measure() -> None:
    many = [a_volume(f"A Book of Rooms {level}", [[1 + level % 8] * 40] * 3, [1, 2, None]) for level in range(12)]
    setting = a_setting()
    section = curriculum_map(a_curriculum(*many), setting)
    assert len(pageful_of(section, setting).leaves) == 1
    for mark in section.pieces[0].marks:
        if isinstance(mark, Words | Dot):
            assert -6 <= mark.x <= setting.measure + 6 and 0 <= mark.y <= setting.depth
