"""One LilyPond for many batches: its blocks are those of any other run, and its end is not the build's."""

from __future__ import annotations

import tempfile
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.engrave.shown import SHOWN
from tests.notation.made import bar, system
from typeset.engrave import LocalThreads, session
from typeset.engrave.block import Block
from typeset.engrave.lilypond import Sheet
from typeset.engrave.running import Engravers, Limits, Stopped
from typeset.engrave.session import Session, Sessions
from typeset.engrave.sheet import sheet_of
from typeset.engrave.workers import batches, engrave_batch, started_ahead
from typeset.pdf.forms import finish
from typeset.style.music import Staff

ENDLESS = Sheet("\\markup #(let loop () (loop))", 20.0)
BROKEN = Sheet('\\markup #(ly:error "no more")', 20.0)


HEIGHT = Staff().height
BUILD = Engravers()


@pytest.fixture
def sessions() -> Iterator[Sessions]:
    """One session at most."""
    engravers = Engravers()
    made = Sessions(1, engravers)
    yield made
    made.close()
    engravers.stop()


def test_blocks_are_byte_for_byte_those_of_a_run_of_their_own(sessions: Sessions) -> None:
    shown = SHOWN[::4]
    half = len(shown) // 2
    in_session = [
        block
        for batch in (shown[:half], shown[half:])
        for block in engrave_batch(batch, Staff(), finish, sessions=sessions)
    ]
    assert in_session == engrave_batch(shown, Staff(), finish)


def test_a_batch_that_ends_a_session_is_not_set_and_the_next_one_is(sessions: Sessions) -> None:
    good = sheet_of(system(bar("4/4", "8ths", "h")), Staff())
    assert sessions.set([good, BROKEN], HEIGHT, BUILD) is None
    proofs = sessions.set([good], HEIGHT, BUILD)
    assert proofs is not None
    assert [proof.page for proof in proofs] == [1]


def test_a_batch_at_which_a_session_comes_to_no_end_is_given_up_and_the_next_one_is_set(
    sessions: Sessions, monkeypatch: pytest.MonkeyPatch
) -> None:
    good = sheet_of(system(bar("4/4", "8ths", "h")), Staff())
    assert sessions.set([good], HEIGHT, BUILD) is not None
    monkeypatch.setattr(session, "limits_of", lambda sheets: Limits(0.5, 1, 1))
    assert sessions.set([ENDLESS], HEIGHT, BUILD) is None
    monkeypatch.undo()
    assert sessions.set([good], HEIGHT, BUILD) is not None


def test_nothing_of_a_session_is_left_behind(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    engravers = Engravers()
    sessions = Sessions(2, engravers)
    assert sessions.set([sheet_of(system(bar("4/4", "8ths", "h")), Staff())], HEIGHT, BUILD) is not None
    engravers.stop()
    with pytest.raises(Stopped):
        sessions.set([ENDLESS], HEIGHT, BUILD)
    sessions.close()
    assert list(tmp_path.iterdir()) == []


def test_a_session_of_a_build_that_is_stopped_sets_nothing_more() -> None:
    engravers = Engravers()
    stopped = Session(engravers)
    engravers.stop()
    with pytest.raises(Stopped):
        stopped.set([sheet_of(system(bar("4/4", "8ths", "h")), Staff())], HEIGHT, BUILD)
    stopped.close()


def test_batches_get_smaller_towards_the_end_so_that_all_engravers_end_together() -> None:
    cut = batches([system(bar("4/4", "8ths", "h"))] * 200, 2)
    sizes = [len(batch) for batch in cut]
    assert sum(sizes) == 200
    assert sizes == sorted(sizes, reverse=True)
    assert (sizes[0], sizes[-2]) == (24, 8)


def test_one_that_has_waited_sets_what_another_does_and_is_kept(sessions: Sessions) -> None:
    sessions.start()
    (waiting,) = sessions._idle
    here = LocalThreads(2, standing=sessions)
    ((_, blocks),) = here.engrave(SHOWN[:2], Staff(), finish)
    assert sessions._idle == [waiting]
    assert blocks == engrave_batch(SHOWN[:2], Staff(), finish)


def test_one_that_waits_for_no_staff_yet_sets_any(sessions: Sessions) -> None:
    sessions.start()
    (waiting,) = sessions._idle
    ((_, (block,)),) = LocalThreads(2, standing=sessions).engrave(SHOWN[:1], Staff(height=9.0), finish)
    assert isinstance(block, Block) and block.top - block.bottom == pytest.approx(9 * 72 / 25.4, abs=0.1)
    assert sessions._idle == [waiting]


def test_one_that_waits_for_another_staff_is_replaced(sessions: Sessions) -> None:
    sessions.start(1, HEIGHT)
    (waiting,) = sessions._idle
    ((_, (block,)),) = LocalThreads(2, standing=sessions).engrave(SHOWN[:1], Staff(height=9.0), finish)
    assert isinstance(block, Block) and block.top - block.bottom == pytest.approx(9 * 72 / 25.4, abs=0.1)
    assert sessions._idle != [waiting] and waiting._process.status != 0


def test_a_build_that_is_stopped_breaks_off_what_a_session_sets_for_it_and_no_other(sessions: Sessions) -> None:
    stopped = Engravers()
    threading.Timer(0.5, stopped.stop).start()
    began = time.monotonic()
    with pytest.raises(Stopped):
        sessions.set([ENDLESS], HEIGHT, stopped)
    assert time.monotonic() - began < 20  # it would be waited for half a minute
    assert sessions.set([sheet_of(system(bar("4/4", "8ths", "h")), Staff())], HEIGHT, BUILD) is not None


def test_a_batch_leaves_no_files_in_a_session_that_waits_for_more(sessions: Sessions) -> None:
    assert sessions.set([sheet_of(system(bar("4/4", "8ths", "h")), Staff())], HEIGHT, BUILD) is not None
    (waiting,) = sessions._idle
    assert [file.name for file in waiting._folder.iterdir()] == ["session.ly"]


def test_those_that_are_started_ahead_set_a_book_and_end_with_it() -> None:
    with started_ahead(2, 2) as here:
        assert here.ahead is not None
        waiting = list(here.ahead._idle)
        ((_, blocks),) = here.engrave(SHOWN[:2], Staff(), finish)
        assert here.ahead._idle == [] and all(session._process.status != 0 for session in waiting)
    assert blocks == engrave_batch(SHOWN[:2], Staff(), finish)


def test_one_that_was_started_ahead_in_vain_is_ended(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    with started_ahead(2, 1):
        (_,) = tmp_path.iterdir()
    assert list(tmp_path.iterdir()) == []


def test_one_that_died_while_it_waited_is_replaced(sessions: Sessions) -> None:
    sessions.start()
    sessions._idle[0]._process.kill()
    assert sessions._idle[0]._process.status != 0
    sessions.start()
    (waiting,) = sessions._idle
    assert waiting.fits(None)
    assert sessions.set([sheet_of(system(bar("4/4", "8ths", "h")), Staff())], HEIGHT, BUILD) is not None


def test_whoever_asks_for_a_pulse_can_break_off_while_an_engraver_runs() -> None:
    class Enough(Exception):
        pass

    def enough() -> None:
        raise Enough

    with pytest.raises(Enough):
        list(LocalThreads(1, pulse=enough).engrave(SHOWN[:2] * 32, Staff(), finish))
