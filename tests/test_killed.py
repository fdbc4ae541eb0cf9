"""Builds that are killed lose nothing: a slice of `tests/hard/kill.py`, which does this 200 times."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from tests.hard.kill import LOST, run

TIMES = 12


@pytest.mark.skipif(sys.platform != "linux", reason="what still runs is looked up in /proc")
def test_killed_at_random_moments_a_build_leaves_what_was_there_and_nothing_else(tmp_path: Path) -> None:
    found = run(tmp_path, TIMES, seed=12)
    assert {what: found[what] for what in LOST} == dict.fromkeys(LOST, 0)
    assert sum(count for what, count in found.items() if what.startswith("killed")) >= TIMES / 2
