"""Exercises as pieces: heads, systems, two on a line, and what does not fit."""

from dataclasses import replace

import pytest

from typeset.compose.book import Exercise
from typeset.page.breaking import break_pages
from typeset.page.exercise import can_share, exercise_pieces
from typeset.page.faces import cap_height, width_of
from typeset.page.lines import sticking
from typeset.page.marks import Anchor, Link, Mark, Music, Words
from typeset.page.refusals import DoesNotFit
from typeset.page.setting import Setting, points
from typeset.pattern.limb import Limb
from typeset.pattern.sound import SOUNDS
from typeset.pattern.stroke import Stroke, slot_of

from .made import a_book, a_chapter, a_setting, a_style, an_exercise, system_of

HALF = {"bars": 1, "quarter": 14.0}


def set_for(*exercises: Exercise, **parts: object) -> Setting:
    return a_setting(a_book(a_chapter(1, exercises)), a_style(**parts))


def words_of(marks: tuple[Mark, ...]) -> list[str]:
    return [mark.words for mark in marks if isinstance(mark, Words)]


def find(marks: tuple[Mark, ...], words: str) -> Words:
    return next(mark for mark in marks if isinstance(mark, Words) and mark.words == words)


def test_the_number_hangs_in_the_margin_and_the_title_is_flush_with_the_staff() -> None:
    exercise = an_exercise("1.1", title="As a groove")
    (piece,) = exercise_pieces([exercise], set_for(exercise))
    number, title = find(piece.marks, "1.1"), find(piece.marks, "As a groove")
    music = next(mark for mark in piece.marks if isinstance(mark, Music) and mark.scale == 1)
    assert number.x < 0 and number.y == title.y
    assert title.x == 0
    assert music.x == pytest.approx(-4.0)  # the fake block's staff begins 4 points in


def test_the_number_may_stand_before_the_title() -> None:
    exercise = an_exercise("1.1", title="As a groove")
    (piece,) = exercise_pieces([exercise], set_for(exercise, exercises={"number": "inline"}))
    assert find(piece.marks, "1.1").x == 0 < find(piece.marks, "As a groove").x


def test_tempo_feel_and_times_end_where_the_staff_ends() -> None:
    exercise = an_exercise("1.1", feel="swing-8ths", times=4)
    setting = set_for(exercise)
    (piece,) = exercise_pieces([exercise], setting)
    words = words_of(piece.marks)
    assert {"60–100", "swung eighths", "play 4 times"} <= set(words)


def test_under_a_title_that_would_take_many_lines_beside_it_the_tempo_has_a_line_of_its_own() -> None:
    long = "As slowly as the last of the neighbours closes the door"
    left, right = an_exercise("1.1", title="Left", **HALF), an_exercise("1.2", title=long, times=4, **HALF)
    (piece,) = exercise_pieces([left, right], set_for(left, right))
    times = find(piece.marks, "play 4 times")
    title = [mark for mark in piece.marks if isinstance(mark, Words) and mark.words in long and " " in mark.words]
    assert len(title) == 2
    assert times.y > max(line.y for line in title)
    assert find(piece.marks, "1.2").y == title[0].y


def test_one_tempo_is_one_number_and_a_style_may_leave_it_out() -> None:
    exercise = an_exercise("1.1")
    exercise = replace(exercise, tempo=replace(exercise.tempo, goal=60))  # type: ignore[type-var]
    assert "60" in words_of(exercise_pieces([exercise], set_for(exercise))[0].marks)
    without = exercise_pieces([exercise], set_for(exercise, exercises={"tempo": False}))
    assert "60" not in words_of(without[0].marks)


def test_an_exercise_names_the_one_it_grew_out_of_and_leads_there() -> None:
    exercise = an_exercise("1.2", parent="no-1.1", parent_number="1.1")
    (piece,) = exercise_pieces([exercise], set_for(exercise))
    assert "from 1.1" in words_of(piece.marks)
    assert "no-1.1" in [mark.to for mark in piece.marks if isinstance(mark, Link)]
    assert Anchor(pytest.approx(0, abs=10), "no-1.2") in piece.marks  # type: ignore[arg-type]


def test_the_author_s_words_have_marks_and_the_steps_sentences_have_none() -> None:
    said = an_exercise("1.1", instruction=("Play it *softly*, {left} hand first.",), said=True)
    plain = an_exercise("1.1", instruction=("Accent *1*.",))
    assert "softly" in words_of(exercise_pieces([said], set_for(said))[0].marks)
    assert ", left hand first." in "".join(words_of(exercise_pieces([said], set_for(said))[0].marks))
    assert "Accent *1*." in words_of(exercise_pieces([plain], set_for(plain))[0].marks)


def test_a_mirrored_copy_exchanges_the_words_for_right_and_left() -> None:
    exercise = an_exercise("1.1", instruction=("The {left} hand.",), said=True)
    setting = replace(set_for(exercise), mirrored=True)
    assert "The right hand." in words_of(exercise_pieces([exercise], setting)[0].marks)


def test_the_level_is_printed_where_the_style_asks() -> None:
    exercise = an_exercise("1.1", level=4)
    assert "level 4" not in words_of(exercise_pieces([exercise], set_for(exercise))[0].marks)
    for number in ("hanging", "inline"):
        setting = set_for(exercise, exercises={"level": True, "number": number})
        assert "level 4" in words_of(exercise_pieces([exercise], setting)[0].marks)


def test_two_exercises_of_half_a_measure_share_a_line() -> None:
    left, right = an_exercise("1.1", **HALF), an_exercise("1.2", **HALF)
    assert can_share(left, right, set_for(left, right))


@pytest.mark.parametrize(
    "other",
    [
        an_exercise("1.2", bars=2),
        an_exercise("1.2", bars=1, quarter=16.0),
        an_exercise("1.2", systems=2, **HALF),
        an_exercise("1.2", new_page=True, **HALF),
    ],
    ids=["two bars", "a wide bar", "two systems", "a new page"],
)
def test_others_do_not_share_a_line(other: Exercise) -> None:
    left = an_exercise("1.1", **HALF)
    assert not can_share(left, other, set_for(left, other))


def test_a_sentence_that_fits_its_column_stays_on_one_line_whatever_its_neighbour_needs() -> None:
    left = an_exercise("1.1", instruction=("Both hands on the hi-hat, 2 and 4 on the snare.",), **HALF)
    right = an_exercise("1.2", instruction=("A sentence so long that it breaks twice. " * 3,), **HALF)
    (piece,) = exercise_pieces([left, right], set_for(left, right))
    assert find(piece.marks, "Both hands on the hi-hat, 2 and 4 on the snare.").x == 0


def test_the_words_over_a_short_staff_run_on_to_the_width_of_text() -> None:
    words = "Move the strokes on 3& and 3a to the toms, and 4& to the snare, and 4a too."
    exercise = an_exercise("1.1", bars=1, quarter=16.0, instruction=(words,))
    (piece,) = exercise_pieces([exercise], set_for(exercise))
    line = find(piece.marks, words)
    assert points(exercise.systems[0].width) < width_of(words, line.font, line.size) <= set_for(exercise).text_width


def test_half_a_line_alone_has_its_words_in_the_other_half_beside_the_staff() -> None:
    exercise = an_exercise("1.1", instruction=("Both hands.",), **HALF)
    setting = set_for(exercise)
    (piece,) = exercise_pieces([exercise], setting)
    words = find(piece.marks, "Both hands.")
    staff = next(mark for mark in piece.marks if isinstance(mark, Music) and mark.scale == 1)
    block = setting.blocks[exercise.systems[0]]
    assert words.x == pytest.approx((setting.measure + points(setting.style.spacing.gap)) / 2)
    assert staff.y - block.top < words.y < staff.y
    assert find(piece.marks, "On one surface").y < staff.y - block.top
    assert piece.marks.index(words) < piece.marks.index(staff)  # so that it is read first


def test_more_words_than_the_staff_is_tall_begin_beside_the_title_and_make_the_row_taller() -> None:
    exercise = an_exercise("1.1", instruction=("A sentence of some length. " * 20,), **HALF)
    (piece,) = exercise_pieces([exercise], set_for(exercise))
    first = min(mark.y for mark in piece.marks if isinstance(mark, Words) and "sentence" in mark.words)
    assert first == pytest.approx(find(piece.marks, "On one surface").y, abs=4)
    assert max(mark.y for mark in piece.marks if isinstance(mark, Words)) < piece.height


def test_half_a_line_has_its_words_over_it_where_a_column_would_hold_too_few() -> None:
    exercise = an_exercise("1.1", instruction=("Both hands.",), **HALF)
    for parts in ({"type": {"instruction": 19}}, {"paper": {"fitted": True}}):
        (piece,) = exercise_pieces([exercise], set_for(exercise, **parts))
        assert find(piece.marks, "Both hands.").x == 0


def test_exercises_that_share_a_line_have_their_staffs_and_titles_level() -> None:
    left = an_exercise("1.1", title="Left", **HALF)
    right = an_exercise("1.2", title="Right", instruction=("A sentence so long that it breaks. " * 4,), **HALF)
    (piece,) = exercise_pieces([left, right], set_for(left, right))
    first, second = (mark for mark in piece.marks if isinstance(mark, Music) and mark.scale == 1)
    assert first.y == second.y
    assert find(piece.marks, "Left").y == find(piece.marks, "Right").y


def test_no_number_hangs_in_the_white_between_two_columns() -> None:
    left, right = an_exercise("1.1", title="Left", **HALF), an_exercise("1.2", title="Right", **HALF)
    (piece,) = exercise_pieces([left, right], set_for(left, right))
    _, staff = (mark for mark in piece.marks if isinstance(mark, Music) and mark.scale == 1)
    assert find(piece.marks, "1.1").x < 0
    assert staff.x <= find(piece.marks, "1.2").x < find(piece.marks, "Right").x


def test_an_exercise_of_some_systems_is_parted_between_pages_before_it_and_not_inside() -> None:
    exercises = [an_exercise(f"1.{number}", systems=4) for number in range(1, 9)]
    setting = set_for(*exercises)
    pieces = [piece for one in exercises for piece in exercise_pieces([one], setting)]
    for page in break_pages(pieces, setting.depth):
        assert any(isinstance(mark, Anchor) for mark in page[0].marks)


def test_an_exercise_taller_than_a_page_breaks_between_its_systems() -> None:
    exercise = an_exercise("1.1", systems=12)
    setting = set_for(exercise)
    pages = break_pages(exercise_pieces([exercise], setting), setting.depth)
    assert len(pages) == 2
    assert sum(map(len, pages)) == 12


def test_the_white_between_systems_grows_a_little_where_a_page_is_filled() -> None:
    exercise = an_exercise("1.1", systems=2)
    first, last = exercise_pieces([exercise], set_for(exercise))
    assert first.after == points(5)
    assert 0 < first.stretch < last.stretch


def test_strokes_keep_their_rows_when_the_hands_change() -> None:
    def letters(order: str) -> dict[str, float]:
        right, left = Limb.RIGHT, Limb.LEFT
        high, low = (right, left) if order == "R over L" else (left, right)
        bar = an_exercise("1.1", bars=1).pattern.bars[0]
        both = slot_of([Stroke(high, SOUNDS["hi-hat"]), Stroke(low, SOUNDS["snare"])])
        system = system_of([bar.with_slots([both, *bar.slots[1:]])])
        rows = sticking(system, set_for()).rows
        return {row[0].text: index for index, row in enumerate(rows)}

    assert letters("R over L") == {"R": 0, "L": 1}
    assert letters("L over R") == {"L": 0, "R": 1}


def test_a_staff_longer_than_the_measure_is_an_error_that_names_the_exercise() -> None:
    exercise = an_exercise("1.1", quarter=30.0)
    with pytest.raises(DoesNotFit, match=r"exercise 1\.1 .*256\.0 mm long, its frame only 164\.0 mm"):
        exercise_pieces([exercise], set_for(exercise))


@pytest.mark.parametrize(("sticking", "counting"), [("below", "below"), ("above", "below"), ("none", "above")])
def test_lines_stand_where_the_style_puts_them(sticking: str, counting: str) -> None:
    exercise = an_exercise("1.1", order="R L", title="", instruction=(), tempo=None)
    setting = set_for(exercise, lines={"sticking": sticking, "counting": counting})
    (piece,) = exercise_pieces([exercise], setting)
    block = setting.blocks[exercise.systems[0]]
    music = next(mark for mark in piece.marks if isinstance(mark, Music))
    staff_top, staff_foot = music.y - block.top, music.y - block.bottom
    for letters, where in ((("R", "L"), sticking), (("e", "&", "a"), counting)):
        found = [mark.y for mark in piece.marks if isinstance(mark, Words) and mark.words in letters]
        if where == "none":
            assert not found
        elif where == "below":
            assert min(found) > staff_foot
        else:
            assert max(found) < staff_top


def test_an_exercise_without_title_and_words_is_set_all_the_same() -> None:
    exercise = an_exercise("1.1", title="", instruction=(), tempo=None)
    assert "1.1" in words_of(exercise_pieces([exercise], set_for(exercise))[0].marks)


def test_letters_keep_clear_of_notes_that_reach_below_the_staff() -> None:
    exercise = an_exercise("1.1", order="R L", title="", instruction=(), tempo=None)
    setting = set_for(exercise, lines={"distance": 0, "counting": "none"})
    block = setting.blocks[exercise.systems[0]]
    (piece,) = exercise_pieces([exercise], setting)
    music = next(mark for mark in piece.marks if isinstance(mark, Music))
    letter = find(piece.marks, "R")
    ink = music.y - block.ink[1]
    assert letter.y - letter.size * cap_height(letter.font) > ink + 1


def test_letters_stand_as_far_from_the_staff_as_the_style_says() -> None:
    exercise = an_exercise("1.1", order="R L", title="", instruction=(), tempo=None)
    setting = set_for(exercise, lines={"distance": 9, "counting": "none"})
    block = setting.blocks[exercise.systems[0]]
    (piece,) = exercise_pieces([exercise], setting)
    music = next(mark for mark in piece.marks if isinstance(mark, Music))
    letter = find(piece.marks, "R")
    staff_foot = music.y - block.bottom
    assert letter.y - letter.size * cap_height(letter.font) == pytest.approx(staff_foot + points(9))


def test_more_words_than_a_page_holds_are_an_error_that_names_the_exercise() -> None:
    exercise = an_exercise("1.1", instruction=("Slower than that. " * 600,))
    with pytest.raises(DoesNotFit, match=r"exercise 1\.1 .*taller than a page"):
        exercise_pieces([exercise], set_for(exercise))
