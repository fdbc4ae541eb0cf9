"""Following a book: a thread that sets it again when its files have been saved, and only the newest state."""

from __future__ import annotations

import gc
import os
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from threading import Event, Thread

from .files import Stamps, stamps_of
from .state import Desk, State

PAUSE = 0.05
"""Seconds between two looks at the files."""

SETTLED = 0.03
"""Seconds for which the files have to be as they are: an editor may empty a file before it writes it."""

_MOST_UNSETTLED = 40


class _Stale(Exception):
    """The files have changed while they were being set."""


class Follower:
    """Looks at a book's files and tells each new state, from a thread of its own.

    `tell` gets every state, `progress` how many of how many engravings are done; both are called in that thread.
    """

    def __init__(self, path: Path, tell: Callable[[State], None], progress: Callable[[int, int], None]) -> None:
        self._path = path
        self._tell = tell
        self._ended = Event()
        self._state = State()
        self._stamps: Stamps | None = None
        self._desk = Desk(path, progress, self._go_on)
        self._thread = Thread(target=self._follow, name="following the book", daemon=True)

    def start(self) -> None:
        """Begin; the first state is told as soon as it is there."""
        self._thread.start()

    def stop(self) -> None:
        """Set nothing more. What is being engraved is broken off; waits no longer than a second for that."""
        self._ended.set()
        self._thread.join(1)

    def _follow(self) -> None:
        try:
            self._look_again_and_again()
        finally:
            self._desk.end()

    def _look_again_and_again(self) -> None:
        while not self._ended.is_set():
            if self._look() == self._stamps:
                self._ended.wait(PAUSE)
                continue
            self._stamps = self._settled()
            try:
                self._state = self._next()
            except _Stale:
                continue
            self._tell(self._state)
            self._desk.prepare(self._state)
            if self._state.number == 1:
                # What stands now stands for long: going through all of it again and again would cost a tenth of a
                # second in the middle of every few states.
                gc.collect()
                gc.freeze()

    def _look(self) -> Stamps:
        return stamps_of(self._path, self._state.files)

    def _settled(self) -> Stamps:
        """The files as they are once nobody is writing them; or after a while as they are then."""
        seen = self._look()
        for _ in range(_MOST_UNSETTLED if self._stamps is not None else 0):
            self._ended.wait(SETTLED)
            now = self._look()
            if now == seen:
                break
            seen = now
        return seen

    def _next(self) -> State:
        try:
            return self._desk.after(self._state)
        except _Stale:
            raise
        except Exception as error:
            if os.environ.get("SHEDBOOK_DEBUG"):
                raise
            trouble = (
                f"this is a mistake in shedbook itself ({type(error).__name__}: {error}); "
                "please report it with the book that caused it"
            )
            return replace(self._state, number=self._state.number + 1, is_earlier=True, trouble=trouble)

    def _go_on(self) -> None:
        """Break off what nobody will see: the book was saved again, or is watched no longer."""
        if self._ended.is_set() or self._look() != self._stamps:
            raise _Stale
