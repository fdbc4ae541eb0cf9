"""The sticking line and the counting line: what stands under each slot, and that nothing collides."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import pytest

from typeset.page.lines import Letter, counting, counting_letters, sticking
from typeset.page.marks import Dot, Words
from typeset.page.setting import Setting, points
from typeset.pattern.bar import pickup_bar
from typeset.pattern.grid import SIXTEENTHS, Grid
from typeset.pattern.stroke import Ornament
from typeset.style import Style, load_style, style_names
from typeset.wording import wording

from .made import a_style, bars_of, system_of


def a_setting(**parts: object) -> Setting:
    return Setting(a_style(**parts), wording("en"), {})


def counted(meter: str, *grid: str, order: str = "R L", **parts: object) -> str:
    letters = counting_letters(bars_of(order, meter, grid), a_setting(**parts))
    return " ".join(letter.text for letter in letters)


@pytest.mark.parametrize(
    ("meter", "grid", "counts"),
    [
        ("4/4", ["quarters"], "1 2 3 4"),
        ("3/4", ["8ths"], "1 & 2 & 3 &"),
        ("2/4", ["16ths"], "1 e & a 2 e & a"),
        ("2/4", ["triplets"], "1 trip let 2 trip let"),
        ("2/4", ["quintuplets"], "1 2 3 4 5 2 2 3 4 5"),
        ("2/4", ["sextuplets"], "1 2 3 4 5 6 2 2 3 4 5 6"),
        ("2/4", ["septuplets"], "1 2 3 4 5 6 7 2 2 3 4 5 6 7"),
        ("2/4", ["32nds"], "1 . e . & . a . 2 . e . & . a ."),
        ("6/8", ["8ths"], "1 2 3 4 5 6"),
        ("3/8", ["16ths"], "1 & 2 & 3 &"),
        ("3/8", ["32nds"], "1 . & . 2 . & . 3 . & ."),
        ("2/2", ["quarters"], "1 & 2 &"),
        ("2/2", ["8ths"], "1 e & a 2 e & a"),
        ("2/4", ["16ths", "sextuplets"], "1 e & a 2 2 3 4 5 6"),
    ],
)
def test_each_grid_is_counted_as_players_count_it(meter: str, grid: list[str], counts: str) -> None:
    # Common practice, no source.
    assert counted(meter, *grid) == counts


def test_a_style_has_syllables_of_its_own() -> None:
    assert counted("2/4", "16ths", counts={"sixteenths": ("e", "+", "e")}) == "1 e + e 2 e + e"
    assert counted("6/8", "16ths", counts={"eighths": ("und",)}).startswith("1 und 2 und")
    assert counted("2/4", "quintuplets", counts={"quintuplets": ("ka", "di", "mi", "ta")}) == (
        "1 ka di mi ta 2 ka di mi ta"
    )


@pytest.mark.parametrize("style", [load_style(name) for name in style_names()], ids=lambda style: style.name)
def test_figures_between_numbers_are_lighter_and_hardly_smaller(style: Style) -> None:
    setting = Setting(style, wording("en"), {})
    number, figure = counting_letters(bars_of("R", "2/4", ["quintuplets"]), setting)[:2]
    assert (number.text, figure.text) == ("1", "2")
    assert 0.85 * number.size <= figure.size <= number.size
    assert (figure.font, number.font) == (setting.letters.regular, setting.letters.strong)


def test_a_dot_is_drawn() -> None:
    setting = a_setting()
    dot = counting_letters(bars_of("R", "2/4", ["32nds"]), setting)[1]
    assert isinstance(dot.mark(10, 20, 1), Dot)


def test_a_count_without_a_stroke_is_lighter() -> None:
    played, silent = counting_letters(bars_of("R .", "4/4", ["8ths"]), a_setting())[:2]
    assert silent.ink < played.ink


def test_the_sticking_line_has_a_letter_for_each_stroke_and_none_for_silence() -> None:
    (row,) = sticking(system_of(bars_of("R . K", "3/4", ["quarters"])), a_setting()).rows
    assert [(letter.slot, letter.text) for letter in row] == [(0, "R"), (2, "K")]


def test_letters_are_the_style_s() -> None:
    setting = a_setting(letters={"right": "D", "kick": "F"})
    (row,) = sticking(system_of(bars_of("R K", "2/4", ["quarters"])), setting).rows
    assert [letter.text for letter in row] == ["D", "F"]


def test_strokes_together_stand_over_one_another_hands_first() -> None:
    line = sticking(system_of(bars_of("R+K L", "2/4", ["quarters"])), a_setting())
    assert [[letter.text for letter in row] for row in line.rows] == [["R", "L"], ["K"]]
    upper, lower = (row[0].mark(0, 0, 1).y for row in line.rows)
    drawn = [mark for mark in line.marks([10, 40], 0, 1) if isinstance(mark, Words)]
    assert drawn[2].y - drawn[0].y > line.cap
    assert upper == lower


def test_strokes_together_may_be_joined() -> None:
    line = sticking(system_of(bars_of("R+K L", "2/4", ["quarters"])), a_setting(lines={"together": "joined"}))
    assert [[letter.text for letter in row] for row in line.rows] == [["RK", "L"]]


def test_a_letter_stands_in_the_middle_of_its_slot() -> None:
    letter = Letter(0, "R", "SourceSansPro-Semibold", 10, 100)
    mark = letter.mark(50, 0, 1)
    assert isinstance(mark, Words)
    assert mark.x + letter.width / 2 == pytest.approx(50)


def spans_of(middles: Sequence[float], letters: Sequence[Letter], scale: float) -> list[tuple[float, float]]:
    return [
        (middles[one.slot] - one.width * scale / 2, middles[one.slot] + one.width * scale / 2) for one in letters
    ]


@pytest.mark.parametrize("slot", [2.2, 3.0, 3.7, 5.0])
@pytest.mark.parametrize("grid", ["triplets", "16ths", "sextuplets", "32nds"])
def test_letters_shrink_rather_than_collide(slot: float, grid: str) -> None:
    setting = a_setting()
    system = system_of(bars_of("R+K L", "4/4", [grid]))
    middles = [points(slot * index) for index in range(len(system.bars[0].slots))]
    for line in (sticking(system, setting), counting(system, setting)):
        scale = line.scale(middles)
        assert 0 < scale <= 1
        for row in line.rows:
            for left, right in pairwise(spans_of(middles, row, scale)):
                assert right[0] - left[1] > 0.3


def test_letters_with_room_keep_their_size() -> None:
    setting = a_setting()
    system = system_of(bars_of("R L", "4/4", ["16ths"]))
    assert counting(system, setting).scale([points(4.6 * index) for index in range(16)]) == 1


def test_letters_and_counts_begin_with_those_of_the_pickup() -> None:
    (bar,) = bars_of("R L R R L", "4/4", ["16ths"])
    system = replace(system_of((bar,)), pickup=pickup_bar(bar.meter, SIXTEENTHS, bar.slots[:3]))
    setting = a_setting()
    letters, counts = sticking(system, setting).rows[0], counting(system, setting).rows[0]
    assert [(letter.slot, letter.text) for letter in letters[:5]] == [
        (0, "R"), (1, "L"), (2, "R"), (3, "R"), (4, "L"),
    ]  # fmt: skip
    assert " ".join(count.text for count in counts[:7]) == "e & a 1 e & a"


def test_nothing_stands_under_the_sign_for_a_repeated_bar() -> None:
    bars = bars_of("R L", "2/4", ["8ths"], bars=2)
    system = replace(
        system_of(bars), same=(1,), pickup=pickup_bar(bars[0].meter, Grid.of("8ths"), bars[0].slots[:1])
    )
    signs, notes = a_setting(staff={"repeated_bars": True}), a_setting()
    for line in (sticking, counting):
        assert [letter.slot for letter in line(system, signs).rows[0]] == [0, 1, 2, 3, 4]
        assert [letter.slot for letter in line(system, notes).rows[0]] == list(range(9))


def ornamented(ornament: Ornament, place: int = 4, **parts: object) -> tuple[Letter, ...]:
    """The row of a bar of sixteenths, R L and so on, with an ornament on one of its strokes."""
    (bar,) = bars_of("R L", "4/4", ["16ths"])
    slots = list(bar.slots)
    slots[place] = (replace(slots[place][0], ornament=ornament),)
    return sticking(system_of([bar.with_slots(slots)]), a_setting(**parts)).rows[0]


@pytest.mark.parametrize(
    ("ornament", "place", "texts"),
    [
        (Ornament.FLAM, 4, ["l", "R"]),
        (Ornament.FLAM, 5, ["r", "L"]),
        (Ornament.DRAG, 4, ["l", "l", "R"]),
        (Ornament.BUZZ, 4, ["R"]),
    ],
)
def test_grace_notes_have_small_letters_of_the_other_hand(ornament: Ornament, place: int, texts: list[str]) -> None:
    row = [letter for letter in ornamented(ornament, place) if letter.slot == place]
    assert [letter.text for letter in row] == texts
    assert all(letter.size < row[-1].size for letter in row[:-1])


def test_grace_notes_have_the_style_s_own_letters_in_small() -> None:
    row = ornamented(Ornament.FLAM, 4, letters={"left": "G"})
    assert [letter.text for letter in row if letter.slot == 4] == ["g", "R"]


@pytest.mark.parametrize("style", style_names())
def test_a_grace_note_s_letter_stands_under_it_and_touches_none(style: str) -> None:
    look = load_style(style)
    (bar,) = bars_of("R L", "4/4", ["8ths"])
    slots = [(replace(slot[0], ornament=Ornament.DRAG),) for slot in bar.slots]
    row = sticking(system_of([bar.with_slots(slots)]), Setting(look, wording("en"), {})).rows[0]
    first, second, own = row[:3]
    space = points(look.spacing.staff_space)
    assert second.left == pytest.approx(1.15 * space, abs=space)
    assert first.left - second.left >= (first.width + second.width) / 2
    assert second.left >= (second.width + own.width) / 2
    assert min(letter.size for letter in row) >= look.type.small


def test_letters_shrink_where_a_grace_note_s_would_touch_the_stroke_before_it() -> None:
    line = sticking(system_of([bars_of("R L", "4/4", ["16ths"])[0]]), a_setting())
    graced = replace(line, rows=(ornamented(Ornament.DRAG),))
    middles = [index * 12.0 for index in range(16)]
    assert graced.scale(middles) < line.scale(middles) == 1
