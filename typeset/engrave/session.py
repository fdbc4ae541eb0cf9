"""LilyPonds that are started once and set batch after batch, each batch as the pages of one PDF.

Starting LilyPond, and drawing all glyphs once so that font programs are alike, costs as much as setting twenty
systems. One that is started before there is music, or a style, reads its own files meanwhile. Whatever goes wrong
ends a session; `recovery` then finds out what it was.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Sequence
from contextlib import ExitStack
from pathlib import Path

from ..problem import OutsideError
from .lilypond import Proof, Sheet, batch_text, limits_of, proofs_of, session_command, session_size, session_text
from .running import Engravers, Limits, Process, working_folder

_LOOK = 0.05
"""Seconds after which one that waits for LilyPond looks whether it shall go on."""

_LIMITS = Limits(stall=0.0, seconds=1_000_000, memory=2_500_000_000)
"""What a session may take in all; how long each batch may take is counted apart."""

_PATIENCE_A_SHEET = 1.0
"""Seconds in which a sheet is done at the very latest, besides those for the longest of its batch."""

_MAIN = "session.ly"

MANY = 1_000_000
"""The sheets that come after a batch where nobody knows how many will."""


class Session:
    """One LilyPond in a folder of its own, for staves of one height, that of the first batch at the latest."""

    def __init__(self, engravers: Engravers, staff_height: float | None = None) -> None:
        self._staff_height: float | None = None
        self._engravers = engravers
        self._count = 0
        with ExitStack() as leave:
            self._folder: Path = leave.enter_context(working_folder())
            (self._folder / _MAIN).write_text(session_text(), encoding="utf-8")
            command, environment = session_command(_MAIN)
            self._process = Process(command, self._folder, environment, _LIMITS, waits=True)
            leave.callback(engravers.leave, self._process)
            engravers.keep(self._process)
            self._leave = leave.pop_all()
        if staff_height is not None:
            self._take_height(staff_height)

    def fits(self, staff_height: float | None) -> bool:
        """Whether it can still be asked for staves of this height, or for None of any."""
        is_other = None not in (staff_height, self._staff_height) and staff_height != self._staff_height
        return not is_other and self._process.is_alive

    def set(
        self, sheets: Sequence[Sheet], staff_height: float, asking: Engravers, after: int = MANY
    ) -> list[Proof] | None:
        """The proofs of a batch; None where there is any trouble, after which it can set nothing more.

        So many sheets may come `after` it. Raises Stopped, where the build that is `asking` was stopped too.
        """
        self._go_on(asking)
        name = f"batch{self._count}"
        self._count += 1
        text, pdf = (self._folder / f"{name}{ending}" for ending in (".ly", ".pdf"))
        patience = limits_of(sheets).stall + _PATIENCE_A_SHEET * len(sheets)
        try:
            text.write_text(batch_text(name, sheets, staff_height), encoding="utf-8")
            ready = self._take_height(staff_height) and self._process.say(f"{name} {after}")
            said = self._said(name, patience, asking) if ready else None
            return None if said is None else proofs_of(pdf, name, sheets, staff_height, said)
        except OSError:
            return None  # such as a full disk, which whoever sets the batch instead will meet and tell
        finally:
            text.unlink(missing_ok=True)
            pdf.unlink(missing_ok=True)

    def _take_height(self, staff_height: float) -> bool:
        """Let it read what depends on the height of a staff; False where it has died."""
        if self._staff_height is None:
            self._staff_height = staff_height
            return self._process.say(session_size(staff_height))
        return True

    def _said(self, name: str, seconds: float, asking: Engravers) -> str | None:
        """What is printed until a batch is set, within so many seconds. None where it comes to no end."""
        given_up = time.monotonic() + seconds
        said: list[str] = []
        while time.monotonic() < given_up:
            self._go_on(asking)
            line = self._process.hear(_LOOK)
            if line is None:
                break
            if line == f"done {name}\n":
                return "".join(said)
            said.append(line)
        return None

    def _go_on(self, asking: Engravers) -> None:
        """Raises Stopped where that build was stopped, or all sessions."""
        self._engravers.go_on()
        asking.go_on()

    def close(self) -> None:
        """End it."""
        self._leave.close()


class Sessions:
    """So many sessions at most, which threads take in turn."""

    def __init__(self, most: int, engravers: Engravers) -> None:
        self._engravers = engravers
        self._free = threading.Semaphore(most)
        self._lock = threading.Lock()
        self._idle: list[Session] = []

    def set(
        self, sheets: Sequence[Sheet], staff_height: float, asking: Engravers, after: int = MANY
    ) -> list[Proof] | None:
        """The proofs of a batch, by the session that is free first; None where there is any trouble.

        So many sheets may come `after` it: before the last ones LilyPond does not collect what it used. Raises
        Stopped, where the build that is `asking` was stopped too; others go on.
        """
        with self._free:
            self._engravers.go_on()
            try:
                session = self._taken(staff_height)
            except (OSError, OutsideError):
                return None  # whoever sets the batch instead will tell why LilyPond cannot be started
            proofs = None
            try:
                proofs = session.set(sheets, staff_height, asking, after)
            finally:
                if proofs is None:
                    session.close()
                else:
                    with self._lock:
                        self._idle.append(session)
            return proofs

    def start(self, count: int = 1, staff_height: float | None = None) -> None:
        """Let so many wait for music, for staves of a height where that is known: start some, or end others.

        Raises OSError and OutsideError.
        """
        with self._lock:
            self._end_others(staff_height)
            while len(self._idle) > count:
                self._idle.pop().close()
            while len(self._idle) < count:
                self._idle.append(Session(self._engravers, staff_height))

    def _taken(self, staff_height: float) -> Session:
        with self._lock:
            self._end_others(staff_height)
            if self._idle:
                return self._idle.pop()
        return Session(self._engravers, staff_height)

    def _end_others(self, staff_height: float | None) -> None:
        """End those that have died, or wait for staves of another height."""
        fitting = [session for session in self._idle if session.fits(staff_height)]
        for session in set(self._idle).difference(fitting):
            session.close()
        self._idle[:] = fitting

    def close(self) -> None:
        """End those that wait for more."""
        with self._lock:
            while self._idle:
                self._idle.pop().close()
