"""Shared sequences wherever a sequence's name can stand."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from typeset.compose import Composition
from typeset.pattern.order import write_played

Compose = Callable[[str], Composition]

EXERCISE = "chapter: C\nexercises:\n  - id: a\n    start: {start}\n{more}"


def played(composition: Composition) -> list[str]:
    assert not composition.problems
    bars = [[write_played(bar.slots) for bar in one.pattern.bars] for one in composition.book.exercises]
    return [" | ".join(one) for one in bars]


def said(composition: Composition) -> list[str]:
    return [f"{one.mark.file.name}:{one.mark.line}:{one.mark.column}: {one.what}" for one in composition.problems]


def test_an_exercise_starts_from_a_rudiment(composed: Compose) -> None:
    made = composed(EXERCISE.format(start="rudiments/single-paradiddle", more="    meter: 2/4\n"))
    assert played(made) == ["R! L R R L! R L L"]


def test_its_flams_are_on_its_strokes_and_stay_when_hands_change(composed: Compose) -> None:
    more = "    meter: 2/4\n    steps:\n      - swap: {R: L, L: R}\n"
    made = composed(EXERCISE.format(start="rudiments/flam-accent", more=more))
    assert played(made) == ["L!(flam) R L R!(flam) L R"]


def test_it_is_set_as_is_usual_where_nobody_says_otherwise(composed: Compose) -> None:
    (exercise,) = composed(EXERCISE.format(start="rudiments/double-ratamacue", more="")).book.exercises
    assert [str(bar.meter) for bar in exercise.pattern.bars] == ["3/4", "3/4"]
    assert {len(beat.slots) for bar in exercise.pattern.bars for beat in bar.beats} == {3}


@pytest.mark.parametrize(("more", "slots"), [("    grid: 16ths\n", 16), ("    meter: 6/8\n", 12)])
def test_what_the_exercise_says_comes_first(more: str, slots: int, composed: Compose) -> None:
    (exercise,) = composed(EXERCISE.format(start="rudiments/flam-accent", more=more)).book.exercises
    assert len(exercise.pattern.bars[0].slots) == slots


def test_what_the_chapter_sets_comes_first(composed: Compose) -> None:
    text = EXERCISE.format(start="rudiments/flam-accent", more="").replace(
        "exercises:", "set: {grid: 8ths}\nexercises:"
    )
    (exercise,) = composed(text).book.exercises
    assert len(exercise.pattern.bars[0].slots) == 8


def test_steps_use_them_and_call_them_by_their_titles_or_strokes(composed: Compose) -> None:
    made = composed(
        "chapter: C\n"
        "exercises:\n"
        "  - id: a\n"
        "    start: K\n"
        "    meter: 2/4\n"
        "    steps:\n"
        "      - join: [linear/3-rlk, rudiments/swiss-army-triplet, R L]\n"
        "      - splice: {from: 2, use: rudiments/flam}\n"
        "      - layer: {sequence: ostinatos/hat-on-beats}\n"
    )
    assert played(made) == ["R+H L K R!(flam) R(flam)+H L(flam) R(flam) L(flam)"]
    assert made.book.exercises[0].steps == (
        "Play one after the other: R L K, the Swiss Army triplet, R L.",
        "From 2 to the end of the bar play the flam.",
        "Add the hi-hat foot on every beat under it, over and over.",
    )


def test_a_series_goes_through_them_each_as_is_usual_for_it(composed: Compose) -> None:
    made = composed(
        "chapter: C\n"
        "exercises:\n"
        "  - series: chart\n"
        "    meter: 2/4\n"
        "    title: '{what}'\n"
        "    each: {sequence: [rudiments/flam-accent, rudiments/drag, linear/4-rlrk]}\n"
    )
    assert [exercise.title for exercise in made.book.exercises] == ["Flam accent", "Drag", "R L R K"]
    assert played(made) == [
        "R!(flam) L R L!(flam) R L",
        "R(drag) L(drag) R(drag) L(drag)",
        "R L R K R L R K",
    ]


def test_a_series_own_grid_is_kept(composed: Compose) -> None:
    made = composed(
        "chapter: C\n"
        "exercises:\n"
        "  - series: chart\n"
        "    meter: 2/4\n"
        "    each: {grid: [8ths, 16ths], sequence: [rudiments/flam-accent]}\n"
    )
    assert [len(exercise.pattern.bars[0].slots) for exercise in made.book.exercises] == [4, 8]


@pytest.mark.parametrize(
    ("start", "remedy"),
    [
        ("rudiments/singel-paradiddle", "did you mean 'rudiments/single-paradiddle'?"),
        ("rudiment/flam-tap", "did you mean 'rudiments/flam-tap'?"),
        ("single-paradiddle", "did you mean 'rudiments/single-paradiddle'?"),
        ("flam", "did you mean 'rudiments/flam'?"),
        ("pie/apple", "groups of sequences that books share are linear, ostinatos, rudiments"),
        ("breakfast", "an order can also be written out, as R L R K L"),
    ],
)
def test_an_unknown_name_is_told_what_was_meant(start: str, remedy: str, composed: Compose) -> None:
    made = composed(EXERCISE.format(start=start, more=""))
    assert said(made) == [f"chapter.yaml:4:12: there is no sequence or exercise '{start}'; {remedy}"]


def test_an_unknown_name_in_a_series_is_told_at_its_place(composed: Compose) -> None:
    made = composed(
        "chapter: C\nexercises:\n  - series: a\n    each: {sequence: [rudiments/drag, rudiments/drug]}\n"
    )
    assert said(made) == [
        "chapter.yaml:4:39: there is no sequence or exercise 'rudiments/drug'; did you mean 'rudiments/drag'?"
    ]


def test_an_error_in_the_books_own_group_is_told_once_and_at_its_place(composed: Compose, tmp_path: Path) -> None:
    (tmp_path / "sequences").mkdir()
    (tmp_path / "sequences" / "ours.yaml").write_text("stairs: R L X\ngap: R K\n")
    made = composed(
        EXERCISE.format(start="ours/stairs", more="  - {id: b, start: ours/stairs}\n  - {id: c, start: ours/gap}\n")
    )
    assert [one.split("; ")[0] for one in said(made)] == ["ours.yaml:1:13: 'X' is no stroke"]
    assert [exercise.id for exercise in made.book.exercises] == ["c"]
