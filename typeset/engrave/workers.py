"""Engraving many pieces: in batches, several batches at once, here or wherever an executor does its work."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ThreadPoolExecutor, wait
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from threading import Lock
from typing import Protocol, TypeVar

from ..compose.engraving import Engraving
from ..problem import OutsideError
from ..style.music import Staff
from .block import Block, Finish
from .lilypond import Proof, Sheet
from .recovery import Unset, set_each
from .running import Engravers
from .session import MANY, Sessions
from .sheet import block_of, sheet_of

# A batch costs as much as setting two systems (docs/speed.md). Larger ones would show no progress and take
# memory; towards the end they are smaller, so that all engravers end together.
_LARGEST, _SMALLEST = 24, 8
_SHARE = 4
"""A batch is at most this part of what each engraver still has to do."""

_PULSE = 0.1
"""Seconds."""

_PARTING = 0.5
"""Seconds that a stopped build gives its threads to put their folders away."""

Made = TypeVar("Made")
Batch = Sequence[Engraving]

# Abjad does not say that it may be used in several threads at once; waiting costs nothing, for Python
# runs one of them at a time anyway, and LilyPond runs beside it.
_abjad = Lock()


Results = Sequence[Block | Unset]


class Executor(Protocol):
    """Where engravings are made: in threads here, or on other machines."""

    def engrave(
        self, engravings: Sequence[Engraving], staff: Staff, finish: Finish
    ) -> Iterator[tuple[Batch, Results]]:
        """Engrave everything in batches as `engrave_batch` does, and give each out when it is done, in any order.

        Raises OutsideError; what has been given out by then is good.
        """


def engrave_batch(
    batch: Batch,
    staff: Staff,
    finish: Finish,
    engravers: Engravers | None = None,
    sessions: Sessions | None = None,
    after: int = MANY,
) -> list[Block | Unset]:
    """Engrave a batch by a session, else in one run of LilyPond, in more where that fails.

    Each session will be asked for so many engravings `after` it. Raises OutsideError and Stopped.
    """
    engravers = engravers or Engravers()
    sheets = [_sheet(engraving, staff, engravers) for engraving in batch]
    good = [sheet for sheet in sheets if isinstance(sheet, Sheet)]
    in_session = sessions.set(good, staff.height, engravers, after) if sessions and good else None
    proofs = iter(in_session or set_each(good, staff.height, engravers))
    return [
        _block(engraving, staff, sheet if isinstance(sheet, Unset) else next(proofs), finish)
        for engraving, sheet in zip(batch, sheets, strict=True)
    ]


def _sheet(engraving: Engraving, staff: Staff, engravers: Engravers) -> Sheet | Unset:
    engravers.go_on()
    try:
        with _abjad:
            return sheet_of(engraving, staff)
    except Exception as error:
        return _mistake(error)


def _block(engraving: Engraving, staff: Staff, proof: Proof | Unset, finish: Finish) -> Block | Unset:
    if isinstance(proof, Unset):
        return proof
    try:
        return block_of(engraving, staff, proof, finish)
    except Exception as error:
        return _mistake(error)


def _mistake(error: Exception) -> Unset:
    """A mistake of ours is told with the exercise that brought it to light; raised where it is looked for."""
    if os.environ.get("SHEDBOOK_DEBUG"):
        raise error
    return Unset(f"this is a mistake in shedbook itself ({type(error).__name__}: {error})")


@dataclass(frozen=True)
class LocalThreads:
    """Batches are engraved on this machine, so many at once.

    `pulse` is called several times a second meanwhile; where it raises, everything is broken off. Where there are
    `standing` sessions, which outlive this, they set the batches; where there are some that were started `ahead`,
    they do, and end with the last batch.
    """

    side_by_side: int
    pulse: Callable[[], None] | None = None
    standing: Sessions | None = None
    ahead: Sessions | None = None

    def engrave(
        self, engravings: Sequence[Engraving], staff: Staff, finish: Finish
    ) -> Iterator[tuple[Batch, Results]]:
        """Engrave everything as an Executor does; whoever stops listening stops the engravers."""
        engravers = Engravers()
        cut = batches(engravings, self.side_by_side)
        own = None if self.standing else self.ahead or Sessions(self.side_by_side, engravers)
        sessions = self.standing or own
        assert sessions is not None
        # Twice as many threads as engravers: some write the next batches down meanwhile, and finish those before.
        executor = ThreadPoolExecutor(2 * self.side_by_side)
        running: dict[Future[list[Block | Unset]], Batch] = {}
        try:
            # They read their own files while the first batches are written down. A thread tells why one cannot.
            with suppress(OSError, OutsideError):
                sessions.start(min(self.side_by_side, len(cut)), staff.height)
            after = len(engravings)
            for batch in cut:
                after -= len(batch)
                share = MANY if self.standing else after // self.side_by_side
                running[executor.submit(engrave_batch, batch, staff, finish, engravers, sessions, share)] = batch
            for done in _as_done(running, self.pulse):
                yield running[done], done.result()
        finally:
            executor.shutdown(wait=False, cancel_futures=True)
            engravers.stop()
            wait(running, timeout=_PARTING)
            if own:
                own.close()


@contextmanager
def started_ahead(side_by_side: int, count: int) -> Iterator[LocalThreads]:
    """Threads here, for which so many LilyPonds start before there is anything to engrave; none outlives it.

    Where one cannot be started, that is told when there is something to engrave.
    """
    engravers = Engravers()
    sessions = Sessions(side_by_side, engravers)
    try:
        with suppress(OSError, OutsideError):
            sessions.start(count)
        yield LocalThreads(side_by_side, ahead=sessions)
    finally:
        engravers.stop()
        sessions.close()


def _as_done(running: Iterable[Future[Made]], pulse: Callable[[], None] | None) -> Iterator[Future[Made]]:
    left = set(running)
    while left:
        # Never without a timeout: a Ctrl-C that comes just before the wait is seen only after it.
        done, left = wait(left, timeout=_PULSE, return_when=FIRST_COMPLETED)
        if pulse:
            pulse()
        yield from done


def batches(engravings: Sequence[Engraving], side_by_side: int) -> list[Batch]:
    """Engravings in batches, for so many engravers side by side."""
    cut: list[Batch] = []
    left = engravings
    while left:
        share = -(-len(left) // (_SHARE * max(side_by_side, 1)))
        size = min(max(share, _SMALLEST), _LARGEST)
        cut.append(left[:size])
        left = left[size:]
    return cut
