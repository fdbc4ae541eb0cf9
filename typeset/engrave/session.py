"""LilyPonds that are started once and set batch after batch, each batch as the pages of one PDF.

Starting LilyPond, and drawing all glyphs once so that font programs are alike, costs as much as setting twenty
systems. Whatever goes wrong ends a session; `recovery` then finds out what it was.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Sequence
from contextlib import ExitStack
from pathlib import Path

from ..problem import OutsideError
from .lilypond import Proof, Sheet, batch_text, limits_of, proofs_of, session_command, session_text
from .running import Engravers, Limits, Process, working_folder

_LOOK = 0.004
"""Seconds between two looks for what is done."""

_LIMITS = Limits(stall=0.0, seconds=1_000_000, memory=2_500_000_000)
"""What a session may take in all; how long each batch may take is counted apart."""

_PATIENCE_A_SHEET = 1.0
"""Seconds in which a sheet is done at the very latest, besides those for the longest of its batch."""

_MAIN = "session.ly"


class Session:
    """One LilyPond in a folder of its own."""

    def __init__(self, staff_height: float, engravers: Engravers) -> None:
        self._staff_height = staff_height
        self._engravers = engravers
        self._count = 0
        with ExitStack() as leave:
            self._folder: Path = leave.enter_context(working_folder())
            (self._folder / _MAIN).write_text(session_text(staff_height), encoding="utf-8")
            command, environment = session_command(_MAIN)
            self._process = Process(command, self._folder, environment, _LIMITS, waits=True)
            leave.callback(engravers.leave, self._process)
            engravers.keep(self._process)
            self._leave = leave.pop_all()

    @property
    def is_alive(self) -> bool:
        """Whether it can still be asked for anything."""
        return self._process.is_alive

    def set(self, sheets: Sequence[Sheet]) -> list[Proof] | None:
        """The proofs of a batch; None where there is any trouble, after which it can set nothing more.

        Raises Stopped.
        """
        self._engravers.go_on()
        name = f"batch{self._count}"
        self._count += 1
        patience = limits_of(sheets).stall + _PATIENCE_A_SHEET * len(sheets)
        try:
            (self._folder / f"{name}.ly").write_text(batch_text(name, sheets, self._staff_height), encoding="utf-8")
            if not self._process.say(name) or not self._is_done(name, patience):
                return None
            said = (self._folder.parent / "said").read_text("utf-8", "replace")
            return proofs_of(self._folder / f"{name}.pdf", name, sheets, self._staff_height, said)
        except OSError:
            return None  # such as a full disk, which whoever sets the batch instead will meet and tell

    def _is_done(self, name: str, seconds: float) -> bool:
        """Wait for a batch, so many seconds at most."""
        given_up = time.monotonic() + seconds
        done = self._folder / f"{name}.done"
        while not done.exists():
            self._engravers.go_on()
            if not self._process.is_alive or time.monotonic() > given_up:
                return done.exists()
            time.sleep(_LOOK)
        return True

    def close(self) -> None:
        """End it."""
        self._leave.close()


class Sessions:
    """So many sessions at most, which threads take in turn."""

    def __init__(self, most: int, staff_height: float, engravers: Engravers) -> None:
        self.staff_height = staff_height
        self._engravers = engravers
        self._free = threading.Semaphore(most)
        self._idle: list[Session] = []

    def set(self, sheets: Sequence[Sheet]) -> list[Proof] | None:
        """The proofs of a batch, by the session that is free first; None where there is any trouble."""
        with self._free:
            self._engravers.go_on()
            try:
                session = self._idle.pop() if self._idle else Session(self.staff_height, self._engravers)
            except (OSError, OutsideError):
                return None  # whoever sets the batch instead will tell why LilyPond cannot be started
            proofs = None
            try:
                proofs = session.set(sheets)
            finally:
                if proofs is None:
                    session.close()
                else:
                    self._idle.append(session)
            return proofs

    def start(self, count: int = 1) -> None:
        """Let so many start before there is music, where fewer wait; one that has died waits for nothing."""
        with self._free:
            while self._idle and not self._idle[-1].is_alive:
                self._idle.pop().close()
            while len(self._idle) < count:
                self._idle.append(Session(self.staff_height, self._engravers))

    def close(self) -> None:
        """End those that wait for more."""
        while self._idle:
            self._idle.pop().close()
