"""The page on levels speaks of the demo books as they are."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from typeset import pipeline
from typeset.compose.book import Exercise
from typeset.judge.level import FEATURES, level
from typeset.manuscript.figures import standard_figures

TOP = Path(__file__).parents[1]
ROW = re.compile(
    r"^\| ([a-z ]+) \| ([a-z-]+) \| `([\w/-]+)` \*(.+?)\* \| `([\w/-]+)` \*(.+?)\* \| ([\d.]+) → ([\d.]+) \|", re.M
)
ROWS = ROW.findall((TOP / "docs" / "levels.md").read_text(encoding="utf-8"))


@cache
def exercises(book: str) -> dict[str, Exercise]:
    return {one.id: one for one in pipeline.check(TOP / "books" / book).sound_book().exercises}


def value(exercise: Exercise, feature: str) -> float:
    figures = standard_figures()
    judged = level(exercise.pattern, exercise.plays_on, figures.kit, figures.weights)
    return float(getattr(judged.features, feature))


def test_every_feature_has_its_example() -> None:
    assert [row[0].replace(" ", "_") for row in ROWS] == list(FEATURES)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row[0])
def test_an_example_is_as_the_book_has_it(row: tuple[str, ...]) -> None:
    feature, book, easier, easier_title, harder, harder_title, low, high = row
    first, second = exercises(book)[easier], exercises(book)[harder]
    assert (first.title, second.title) == (easier_title, harder_title)
    name = feature.replace(" ", "_")
    assert (f"{value(first, name):g}", f"{value(second, name):g}") == (low, high)
    assert float(high) > float(low)
