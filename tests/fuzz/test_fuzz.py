"""A short run of what `make fuzz` does at length: every mutated chapter builds, or has errors with their places."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from .mutation import chapter
from .trial import Outcome, built, tried

SEED = 11
CHAPTERS, PAPER = 400, 10


def _chapter(number: int) -> bytes:
    return chapter(random.Random(f"{SEED}/{number}"))


@pytest.mark.parametrize("part", range(8))
def test_every_mutated_chapter_is_accepted_or_refused_with_its_place(tmp_path: Path, part: int) -> None:
    outcomes = {number: tried(_chapter(number), tmp_path) for number in range(part, CHAPTERS, 8)}
    assert {number: outcome.why for number, outcome in outcomes.items() if outcome.kind == "lost"} == {}
    assert {outcome.kind for outcome in outcomes.values()} == {"accepted", "refused"}


@pytest.mark.parametrize("part", range(2))
def test_what_is_accepted_is_built(tmp_path: Path, part: int) -> None:
    accepted = (
        number for number in range(part, CHAPTERS, 2) if tried(_chapter(number), tmp_path).kind == "accepted"
    )
    for number, _ in zip(accepted, range(PAPER // 2), strict=False):
        assert built(_chapter(number), tmp_path) == Outcome("accepted"), number


def test_the_same_seed_makes_the_same_chapters() -> None:
    assert [_chapter(number) for number in range(20)] == [_chapter(number) for number in range(20)]
