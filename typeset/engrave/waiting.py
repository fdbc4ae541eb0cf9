"""An engraver that has started before there is music to set: starting takes longer than setting a line or two."""

from __future__ import annotations

import threading
from collections.abc import Mapping, Sequence
from contextlib import ExitStack, suppress
from dataclasses import dataclass, field
from pathlib import Path

from ..problem import OutsideError
from .running import Limits, Process, working_folder


@dataclass(frozen=True)
class Taken:
    """An engraver that waited, now somebody's; its folder goes when `leave` is closed."""

    process: Process
    folder: Path
    leave: ExitStack


@dataclass
class Waiting:
    """Keeps one engraver waiting for its music within limits. Any thread may take it."""

    command: Sequence[str]
    environment: Mapping[str, str]
    limits: Limits
    _taken: Taken | None = None
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def start(self) -> None:
        """Let one wait, if none does. Where that cannot be, whoever needs one will be told why."""
        with self._lock:
            if self._taken and self._taken.process.is_alive:
                return
            self._drop()
            with ExitStack() as leave, suppress(OSError, OutsideError):
                folder = leave.enter_context(working_folder())
                process = Process(self.command, folder, self.environment, self.limits, waits=True)
                leave.callback(process.kill)
                self._taken = Taken(process, folder, leave.pop_all())

    def take(self, limits: Limits) -> Taken | None:
        """The engraver that waits; None where there is none, or more may be needed than it has."""
        with self._lock:
            enough = limits.seconds <= self.limits.seconds and limits.memory <= self.limits.memory
            if not (self._taken and self._taken.process.is_alive and enough):
                return None
            taken, self._taken = self._taken, None
            return taken

    def stop(self) -> None:
        """Let none wait any more."""
        with self._lock:
            self._drop()

    def _drop(self) -> None:
        if self._taken:
            self._taken.leave.close()
            self._taken = None
