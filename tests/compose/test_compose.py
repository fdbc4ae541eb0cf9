from __future__ import annotations

from collections.abc import Callable

import pytest

from typeset.compose import Composition
from typeset.compose.book import Exercise, Task
from typeset.pattern.order import write_order

Compose = Callable[[str], Composition]

HEAD = "chapter: Steps\nsequences: {stairs: R L R K L}\nset: {meter: 2/4, grid: 8ths, tempo: 60-90}\nexercises:\n"
PLAIN = "  - {id: plain, start: stairs, steps: [{fit: 2}]}\n"


def exercise(composition: Composition, name: str) -> Exercise:
    return next(one for one in composition.book.exercises if one.id == name)


def line(one: Exercise) -> str:
    return " | ".join(write_order(bar.slots) for bar in one.pattern.bars)


def told(composition: Composition) -> list[tuple[int, int, str]]:
    return [(one.mark.line, one.mark.column, one.what) for one in composition.problems]


def test_an_exercise_starts_from_an_order_written_out(composed: Compose) -> None:
    made = composed(HEAD + "  - {id: one, start: R L L R}\n")
    assert line(exercise(made, "one")) == "R L L R"


def test_a_child_has_its_parent_s_meter_grid_and_tempo(composed: Compose) -> None:
    made = composed(HEAD + PLAIN + "  - {id: child, start: plain}\n")
    child = exercise(made, "child")
    assert str(child.tempo) == "60-90"
    assert (child.parent, child.parent_number) == ("plain", "1.1")
    assert child.pattern == exercise(made, "plain").pattern


def test_a_child_s_rotation_is_played_under_its_parent_s_steps(composed: Compose) -> None:
    made = composed(HEAD + PLAIN + "  - {id: child, start: plain, steps: [{rotate: 2}]}\n")
    assert line(exercise(made, "child")) == "R K L R | L R K L"


@pytest.mark.parametrize(("key", "value", "remedy"), [("meter", "3/4", "remeter"), ("grid", "16ths", "regrid")])
def test_a_child_that_says_meter_or_grid_is_pointed_to_the_step(
    composed: Compose, key: str, value: str, remedy: str
) -> None:
    made = composed(HEAD + PLAIN + f"  - id: child\n    start: plain\n    {key}: {value}\n")
    ((row, column, what),) = told(made)
    assert (row, column) == (8, 6 + len(key) + 1)
    assert f"use the step '{remedy}'" in what


def test_an_exercise_may_start_from_one_that_comes_later(composed: Compose) -> None:
    made = composed(HEAD + "  - {id: child, start: plain}\n" + PLAIN)
    assert exercise(made, "child").parent_number == "1.2"


def test_a_circle_is_shown(composed: Compose) -> None:
    made = composed(HEAD + "  - {id: a, start: b}\n  - {id: b, start: a}\n")
    ((_, _, what),) = told(made)
    assert "this goes in a circle: a → b → a" in what


def test_what_grows_out_of_a_broken_exercise_is_not_reported_again(composed: Compose) -> None:
    made = composed(
        HEAD + "  - {id: broken, start: stairs, steps: [{accent: 9}]}\n  - {id: child, start: broken}\n"
    )
    assert len(made.problems) == 1


def test_a_count_that_the_grid_lacks_is_told_where_it_stands(composed: Compose) -> None:
    made = composed(HEAD + "  - id: one\n    start: stairs\n    steps:\n      - accent: [1, 2e]\n")
    ((row, column, what),) = told(made)
    assert (row, column) == (8, 21)
    assert "this bar of 2/4 has 1 1& 2 2&" in what


def test_a_step_on_the_order_after_one_in_time_is_told(composed: Compose) -> None:
    made = composed(HEAD + "  - {id: one, start: stairs, steps: [{fit: 1}, {rotate: 1}]}\n")
    ((_, _, what),) = told(made)
    assert "'rotate' works on the order, and comes after a step in time" in what


def test_linear_refuses_two_strokes_together(composed: Compose) -> None:
    made = composed(HEAD + "  - {id: one, start: R L R+K L, linear: yes}\n")
    ((_, _, what),) = told(made)
    assert "R and K play together on 1|2" in what


def test_a_phrase_says_what_it_is_made_of(composed: Compose) -> None:
    made = composed(
        HEAD + PLAIN + "  - {id: four, phrase: [{use: plain, bars: 1, times: 3}, plain], steps: [{accent: 1}]}\n"
    )
    assert exercise(made, "four").instruction == (
        "Play the first bar of no. 1.1 three times, then no. 1.1.",
        "Accent the stroke on 1.",
    )


def test_an_author_s_words_stand_instead_of_the_steps(composed: Compose) -> None:
    made = composed(HEAD + "  - {id: one, start: stairs, say: Breathe., steps: [{fit: 1}]}\n")
    one = exercise(made, "one")
    assert one.instruction == ("Breathe.",)
    assert one.steps == ("Play as much of the order as fills one bar.",)


def test_the_slots_that_changed_are_known(composed: Compose) -> None:
    made = composed(HEAD + PLAIN + "  - {id: child, start: plain, steps: [{accent: 2|1}]}\n")
    assert exercise(made, "child").changed == (4,)


def test_where_nearly_everything_changed_nothing_is_marked(composed: Compose) -> None:
    made = composed(HEAD + PLAIN + "  - {id: child, start: plain, steps: [{rotate: 1}]}\n")
    assert exercise(made, "child").changed == ()


def test_a_task_asks_for_what_an_exercise_answers(composed: Compose) -> None:
    made = composed(HEAD + PLAIN + "  - {task: write-the-sticking, of: plain, new-page: yes}\n")
    (task,) = made.book.tasks
    assert isinstance(task, Task)
    assert task.new_page
    assert (task.number, task.title, task.shows_sticking) == (1, "Write the sticking", False)
    assert task.accepts


def test_a_task_prints_every_bar_in_full(composed: Compose) -> None:
    text = HEAD + PLAIN.replace("stairs", "R L") + "  - {task: write-the-sticking, of: plain}\n"
    (task,) = composed(text).book.tasks
    assert [system.same for system in task.of[0].systems] == [(1,)]
    assert [system.same for system in task.asked[0]] == [()]


def test_a_change_is_spotted_between_two(composed: Compose) -> None:
    made = composed(
        HEAD + PLAIN + "  - {id: child, start: plain, steps: [{accent: 2|1}]}\n"
        "  - {task: spot-the-change, of: [plain, child]}\n"
    )
    (task,) = made.book.tasks
    assert task.answer == (
        "1 in bar 2: left hand on the snare, plain, in the first; left hand on the snare, accented, in the second",
    )


@pytest.mark.parametrize(
    ("task", "part"),
    [
        ("{task: find-the-accents, of: plain}", "has no accents to find"),
        ("{task: spot-the-change, of: [plain, plain]}", "there is no change to spot"),
        ("{task: write-the-count, of: plane}", "did you mean 'plain'?"),
    ],
)
def test_a_task_with_nothing_to_do_is_refused(composed: Compose, task: str, part: str) -> None:
    ((_, _, what),) = told(composed(HEAD + PLAIN + f"  - {task}\n"))
    assert part in what


PICKED_UP = """
  - id: turn
    title: Turn
    start: R L R K L
    pickup: {pickup}
    steps:
      - voice: {{R: hi-hat, L: snare, K: kick}}
"""


def test_a_pickup_is_played_on_the_sounds_in_force(composed: Compose) -> None:
    (turn,) = composed(HEAD + PICKED_UP.format(pickup="R l")).book.exercises
    assert turn.pattern.pickup is not None
    assert [stroke.sound.name for slot in turn.pattern.pickup.slots for stroke in slot] == ["hi-hat", "snare"]
    assert turn.systems[0].pickup == turn.pattern.pickup
    assert all(system.pickup is None for system in turn.systems[1:])


def test_a_pickup_as_long_as_a_bar_is_refused_where_it_stands(composed: Compose) -> None:
    (problem,) = composed(HEAD + PICKED_UP.format(pickup="(R L)x8")).problems
    assert problem.mark.column == 13
    assert "a pickup is shorter than a bar" in problem.what


def test_a_pickup_counts_for_the_ceiling(composed: Compose) -> None:
    slow, hasty = (
        composed(HEAD + PICKED_UP.format(pickup=pickup)).book.exercises[0].ceiling for pickup in ("L", "R R R")
    )
    assert hasty < slow


def test_a_linear_exercise_has_a_linear_pickup(composed: Compose) -> None:
    text = HEAD + PICKED_UP.format(pickup="R+K L") + "    linear: yes\n"
    (problem,) = composed(text).problems
    assert "R and K play together on 2 of the pickup" in problem.what


def test_an_exercise_tells_the_order_that_it_starts_from(composed: Compose) -> None:
    one = exercise(composed(HEAD + "  - {id: one, start: R L k, steps: [{rotate: 1}]}\n"), "one")
    assert one.instruction == ("The order is R L k.", "Begin at the second stroke.")
    assert one.steps == ("Begin at the second stroke.",)


def test_a_long_order_is_left_to_its_letters(composed: Compose) -> None:
    one = exercise(composed(HEAD + "  - {id: one, start: (R L K R)x3}\n"), "one")
    assert one.instruction == ()


def test_a_phrase_may_use_a_member_of_a_series(composed: Compose) -> None:
    made = composed(
        HEAD
        + "  - {series: turned, start: R L K, each: {rotate: all}}\n  - {id: two, phrase: [turned/1, turned/2]}\n"
    )
    assert exercise(made, "two").instruction == ("Play no. 1.1, then no. 1.2.",)


ENDED = """
  - {id: one, start: R L, steps: [{fit: 2}]}
  - {id: two, start: L K, steps: [{fit: 1}]}
  - {id: tune, start: R K, endings: [{use: one, bars: 1}, two], steps: [{fit: 1}]}
"""


def test_endings_follow_an_exercise_and_are_said(composed: Compose) -> None:
    composition = composed(HEAD + ENDED)
    tune = exercise(composition, "tune")
    assert line(tune) == "R K R K | R L R L | L K L K"
    assert tune.pattern.endings == (1, 1)
    assert not tune.plays_on
    assert tune.instruction[-1] == "End the first time with the first bar of no. 1.1, the second time with no. 1.2."


def test_endings_taken_often_are_said_so(composed: Compose) -> None:
    tune = exercise(composed(HEAD + ENDED.replace("start: R K,", "start: R K, times: 4,")), "tune")
    assert tune.instruction[-1] == "End with the first bar of no. 1.1 until the last time, then with no. 1.2."
    assert tune.systems[0].voltas[0].label == "1.–3."


def test_what_grows_out_of_an_exercise_has_none_of_its_endings(composed: Compose) -> None:
    composition = composed(HEAD + ENDED + "  - {id: child, start: tune, steps: [{accent: 1}]}\n")
    assert line(exercise(composition, "child")) == "R! K R K"


@pytest.mark.parametrize(
    ("endings", "at", "part"),
    [
        ("[nowhere, two]", (8, 38), "no sequence or exercise 'nowhere'"),
        ("[{use: one, bars: 3}, two]", (8, 38), "'one' has 2 bars, and 3 are asked for"),
        ("[two, tune]", (8, 43), "this goes in a circle: tune → tune"),
    ],
)
def test_what_cannot_be_an_ending_is_told_where_it_stands(
    composed: Compose, endings: str, at: tuple[int, int], part: str
) -> None:
    ((row, column, what),) = told(composed(HEAD + ENDED.replace("[{use: one, bars: 1}, two]", endings)))
    assert (row, column) == at
    assert part in what


def test_both_endings_count_for_the_level_and_the_ceiling(composed: Compose) -> None:
    hard = ENDED.replace("start: L K", "start: R")
    easy, harder = (exercise(composed(HEAD + text), "tune") for text in (ENDED, hard))
    assert harder.ceiling < easy.ceiling


def test_a_task_calls_a_member_of_a_series_as_it_is_printed(composed: Compose) -> None:
    made = composed(
        HEAD + "  - {series: turned, title: 'Turn {n}', start: R L K, each: {rotate: all}}\n"
        "  - {task: write-the-count, of: turned/2}\n"
    )
    assert made.book.tasks[0].of[0].title == "Turn 2"


def test_sentences_speak_of_what_is_heard(composed: Compose) -> None:
    made = composed(
        HEAD + "  - {id: plain, start: R . L . K, meter: 5/8, grid: 8ths, steps: [{fit: {bars: 1, by: exactly}}, "
        "{voice: {R: ride, H: hi-hat-foot}}]}\n  - {id: child, start: plain, steps: [{rotate: 2}, {rotate: 1}]}\n"
    )
    assert exercise(made, "plain").instruction == (
        "The order is R – L – K.",
        "Play the order once; it fills one bar exactly.",
        "Right hand on the ride.",
    )
    assert exercise(made, "child").instruction == (
        "Begin at the second stroke.",
        "Begin with the silence before the second stroke.",
    )
