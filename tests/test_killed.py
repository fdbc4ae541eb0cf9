"""Builds that are killed lose nothing: a slice of `tests/hard/kill.py`, which does this 200 times."""

from __future__ import annotations

import random
import signal
import sys
import time
from pathlib import Path

import pytest

from tests.hard.kill import LOST, Trial, processes_of, run

TIMES = 12


@pytest.mark.skipif(sys.platform != "linux", reason="what still runs is looked up in /proc")
def test_killed_at_random_moments_a_build_leaves_what_was_there_and_nothing_else(tmp_path: Path) -> None:
    found = run(tmp_path, TIMES, seed=12)
    assert {what: found[what] for what in LOST} == dict.fromkeys(LOST, 0)
    assert sum(count for what, count in found.items() if what.startswith("killed")) >= TIMES / 2


@pytest.mark.skipif(sys.platform != "linux", reason="what still runs is looked up in /proc")
def test_ctrl_c_is_answered_within_a_second_or_so_and_ends_the_engravers(tmp_path: Path) -> None:
    trial = Trial(tmp_path, random.Random(1))
    trial.write("first")
    with trial.start() as process:
        while not any("lilypond" in command for command in processes_of(str(trial.place / "temporary"))):
            assert process.poll() is None
            time.sleep(0.02)
        began = time.monotonic()
        process.send_signal(signal.SIGINT)
        _, words = process.communicate(timeout=30)
    assert time.monotonic() - began < 2
    assert (process.returncode, words) == (130, b"shedbook: stopped; what was built before is as it was\n")
    assert trial.still_running() == []
    assert not trial.pdf.exists()
