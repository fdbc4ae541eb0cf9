"""An engraver that fails at one piece fails that piece; the others are set. With a real LilyPond that is made to fail."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.engrave.failing import failing_lilypond
from tests.notation.made import bar, system
from typeset.compose.engraving import Engraving
from typeset.engrave import LocalThreads, NotEngraved, Store, engrave, lilypond, recovery
from typeset.engrave.block import Block
from typeset.engrave.lilypond import Sheet
from typeset.engrave.recovery import Unset
from typeset.engrave.running import Engravers, Limits
from typeset.engrave.workers import engrave_batch
from typeset.problem import OutsideError
from typeset.style.music import Staff

BATCH: Sequence[Engraving] = [system(bar("4/4", "8ths", strokes)) for strokes in ("h w s", "k s", "s w", "k k s h")]
COWBELLS = [0, 2]


def as_it_is(pdf: bytes, page: int, size: tuple[float, float]) -> bytes:
    return pdf


@pytest.fixture
def made_to(monkeypatch: pytest.MonkeyPatch, tmp_path: Path):  # type: ignore[no-untyped-def]
    """A LilyPond that is made to fail in some way, given little time and memory."""

    def make(how: str, stall: float = 60.0, memory: int = 1_000_000_000) -> None:
        def limits(sheets: Sequence[Sheet]) -> Limits:
            fails = any("cowbell" in sheet.music for sheet in sheets)
            return Limits(stall if fails else 60.0, 60, memory)

        program = failing_lilypond(tmp_path, how)
        monkeypatch.setattr(lilypond, "engraver", lambda: program)
        monkeypatch.setattr(lilypond, "limits_of", limits)

    return make


def outcome(*batch: Engraving) -> list[Block | Unset]:
    return engrave_batch(batch, Staff(), as_it_is, Engravers(is_sound=True))


@pytest.mark.parametrize("how", ["fails", "half"])
def test_only_the_pieces_that_it_fails_at_are_left_out(made_to, how: str) -> None:  # type: ignore[no-untyped-def]
    made_to(how)
    results = outcome(BATCH[3], BATCH[0], BATCH[1])
    assert [type(one) for one in results] == [Block, Unset, Block]
    assert results[1].why.startswith("its last words: cannot set this")  # type: ignore[union-attr]


@pytest.mark.parametrize("how", ["hangs", "spins"])
def test_a_piece_at_which_it_comes_to_no_end_is_given_up(made_to, how: str) -> None:  # type: ignore[no-untyped-def]
    made_to(how, stall=1.5)
    results = outcome(BATCH[0], BATCH[1])
    assert [type(one) for one in results] == [Unset, Block]
    assert "came to no end" in results[0].why  # type: ignore[union-attr]


def test_what_it_started_itself_goes_with_it(made_to) -> None:  # type: ignore[no-untyped-def]
    made_to("leaves a child", stall=1.5)
    outcome(BATCH[0])
    assert "sleep 601" not in subprocess.run(["ps", "-eo", "args"], capture_output=True, text=True).stdout


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux is known to keep a process within its memory")
def test_a_piece_that_eats_memory_fails_alone(made_to) -> None:  # type: ignore[no-untyped-def]
    made_to("eats", memory=600_000_000)
    results = outcome(BATCH[0], BATCH[1])
    assert [type(one) for one in results] == [Unset, Block]
    assert results[0].why == "it needs more than the 600 MB of memory that it may take"  # type: ignore[union-attr]


def test_a_piece_that_fills_the_disk_fails_alone(made_to) -> None:  # type: ignore[no-untyped-def]
    made_to("fills")
    assert [type(one) for one in outcome(BATCH[0], BATCH[1])] == [Unset, Block]


def test_after_some_that_hang_no_further_one_is_waited_for(  # type: ignore[no-untyped-def]
    made_to, monkeypatch: pytest.MonkeyPatch
) -> None:
    made_to("hangs", stall=1.5)
    monkeypatch.setattr(recovery, "MOST_HUNG", 1)
    results = outcome(BATCH[0], BATCH[2], BATCH[2])
    assert [("not tried" in one.why) for one in results if isinstance(one, Unset)] == [False, True, True]


def test_an_engraver_that_can_set_nothing_is_no_fault_of_the_book(made_to, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    made_to("fails")
    (tmp_path / "lilypond").write_text("#!/bin/sh\necho no fonts >&2\nexit 1\n")
    with pytest.raises(OutsideError, match="no fonts"):
        engrave_batch(BATCH[:1], Staff(), as_it_is)


def test_the_others_are_kept_and_all_failures_are_told_at_once(made_to, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    made_to("fails")
    store = Store(tmp_path / "store")
    with pytest.raises(NotEngraved) as caught:
        engrave(BATCH, Staff(), store=store, executor=LocalThreads(2), finish=as_it_is)
    assert list(caught.value.failed) == [BATCH[index] for index in COWBELLS]
    again = engrave([BATCH[1], BATCH[3]], Staff(), store=store, executor=LocalThreads(2), finish=as_it_is)
    assert (again.engraved, again.stored) == (0, 2)
