"""An engraver that has waited sets what one that starts does, and is neither lost nor left behind."""

from __future__ import annotations

import os
import signal
import tempfile
import time
from pathlib import Path

import pytest

from tests.notation.made import bar, system
from typeset.claim import MARK
from typeset.engrave import LocalThreads, waiting_lilypond
from typeset.engrave.running import Limits
from typeset.engrave.workers import engrave_batch
from typeset.pdf.forms import finish
from typeset.style.model import Staff

GROOVE = system(bar("4/4", "8ths", "hk h hs! h? hk h hs! h"))


@pytest.fixture(autouse=True)
def folders(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    return tmp_path


def left_in(folder: Path) -> list[Path]:
    return [entry for entry in folder.iterdir() if entry.name.startswith(MARK)]


def test_it_sets_the_very_block_that_another_sets(folders: Path) -> None:
    waiting = waiting_lilypond()
    waiting.start()
    assert len(left_in(folders)) == 1
    ((_, (block,)),) = LocalThreads(1, waiting=waiting).engrave([GROOVE], Staff(), finish)
    assert waiting.take(Limits(1, 1, 1)) is None
    assert left_in(folders) == []
    (usual,) = engrave_batch([GROOVE], Staff(), finish)
    assert block == usual


def test_one_that_has_died_is_passed_over(folders: Path) -> None:
    waiting = waiting_lilypond()
    waiting.start()
    assert waiting._taken is not None
    os.kill(waiting._taken.process._popen.pid, signal.SIGKILL)
    waiting._taken.process._popen.wait()
    ((_, (block,)),) = LocalThreads(1, waiting=waiting).engrave([GROOVE], Staff(), finish)
    assert block.slots  # type: ignore[union-attr]
    waiting.start()
    assert waiting._taken.process.is_alive
    waiting.stop()
    assert left_in(folders) == []


def test_it_is_not_taken_for_more_than_it_may_do() -> None:
    waiting = waiting_lilypond()
    waiting.start()
    assert waiting.take(Limits(1, 10**9, 1)) is None
    waiting.stop()
    assert waiting.take(Limits(1, 1, 1)) is None


def test_whoever_asks_for_a_pulse_can_break_off_while_an_engraver_runs() -> None:
    class Enough(Exception):
        pass

    def enough() -> None:
        raise Enough

    begun = time.monotonic()
    with pytest.raises(Enough):
        list(LocalThreads(1, pulse=enough).engrave([GROOVE] * 32, Staff(), finish))
    assert time.monotonic() - begun < 10
