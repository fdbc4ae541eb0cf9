"""Running the engraver: each run in a folder of its own, within limits, and never outliving the build."""

from __future__ import annotations

import os
import queue
import re
import shutil
import signal
import subprocess
import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path

from ..claim import claimed_folder, clear_left_behind, working_place
from ..problem import OutsideError

# What the engraver is told of the user's surroundings: where programs, fonts and their caches are.
_PASSED_ON = ("PATH", "HOME", "XDG_CACHE_HOME", "SYSTEMROOT", "USERPROFILE", "LOCALAPPDATA")

# How often a run is looked at, in seconds, and how much of what it says is read, in bytes.
_LOOK = 0.5
_MOST_READ = 1_000_000

# The files for what it prints and for its complaints.
_SAID, _WORDS = "said", "words"

# The limits that a system lacks, or that are narrower already, are passed over.
_LIMITED = '{ ulimit -c 0; ulimit -t "$1"; ulimit -v "$2"; ulimit -f "$3"; } 2>/dev/null; shift 3; exec "$@"'

# It leads a group of processes that the engraver joins. When the build ends in whatever way, its end of the pipe
# is closed by the system, and the guard takes the group with it.
_GUARD = ("/bin/sh", "-c", "read _; kill -s KILL 0")

# How LilyPond, its collector and its libraries say that there is no memory left.
_OUT_OF_MEMORY = re.compile(r"out.of.memory|memoryerror|bad_alloc|cannot allocate", re.IGNORECASE)

_IS_POSIX = os.name == "posix"


@dataclass(frozen=True, slots=True)
class Limits:
    """What a run may take: `stall` seconds without another file, `seconds` of one core, and bytes of memory."""

    stall: float
    seconds: int
    memory: int

    LARGEST_FILE = 64_000_000
    """Bytes that a single file may have which it writes."""


@dataclass(frozen=True, slots=True)
class Ended:
    """How a run ended: `fault` says in a few words what went wrong, and is empty where nothing did.

    `said` is what it printed. It `hung` where it was given up.
    """

    said: str
    fault: str = ""
    hung: bool = False


class Stopped(Exception):
    """The build was stopped, and its engravers with it."""


@dataclass(eq=False)
class Engravers:
    """All engravers of a build, which can be stopped at once, and what is known of them.

    It `is_sound` once one was seen to work, and so many `hung`.
    """

    is_sound: bool = False
    hung: int = 0
    _running: set[Process] = field(default_factory=set)
    _lock: threading.Lock = field(default_factory=threading.Lock)
    _is_stopped: bool = False

    def stop(self) -> None:
        """Kill those that run; no other starts."""
        with self._lock:
            self._is_stopped = True
            for process in self._running:
                process.kill()

    def go_on(self) -> None:
        """Raises Stopped where the build was stopped."""
        if self._is_stopped:
            raise Stopped

    def keep(self, process: Process) -> None:
        """Stop it with the others from now on. Raises Stopped."""
        with self._lock:
            if self._is_stopped:
                process.kill()
                raise Stopped
            self._running.add(process)

    def leave(self, process: Process) -> None:
        """End it, and know it no more."""
        with self._lock:
            self._running.discard(process)
            process.kill()

    def run(self, command: Sequence[str], folder: Path, environment: Mapping[str, str], limits: Limits) -> Ended:
        """Run an engraver in a folder until it ends, or has written no other file for too long.

        What it prints goes into files beside the folder. Raises Stopped, and OSError where it cannot be started.
        """
        with self._lock:
            self.go_on()
            process = Process(command, folder, environment, limits)
            self._running.add(process)
        return self._until_ended(process, folder, limits)

    def _until_ended(self, process: Process, folder: Path, limits: Limits) -> Ended:
        try:
            hung = not process.wait(limits.stall, lambda: sum(1 for _ in folder.iterdir()))
        finally:
            self.leave(process)
        self.go_on()
        said, words = _beginning(folder.parent / _SAID), _end(folder.parent / _WORDS)
        return Ended(said, _fault(process.status, hung, limits, words), hung)


class Process:
    """One run, and on POSIX systems its guard. One that `waits` is told what to do, and heard, line by line."""

    def __init__(
        self,
        command: Sequence[str],
        folder: Path,
        environment: Mapping[str, str],
        limits: Limits,
        *,
        waits: bool = False,
    ) -> None:
        self._guard = (
            subprocess.Popen(
                _GUARD,
                stdin=subprocess.PIPE,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
                cwd="/",
                process_group=0,
            )
            if _IS_POSIX
            else None
        )
        try:
            with (folder.parent / _SAID).open("wb") as out, (folder.parent / _WORDS).open("wb") as err:
                self._popen = subprocess.Popen(
                    _limited(command, limits) if _IS_POSIX else list(command),
                    cwd=folder,
                    env=environment,
                    stdin=subprocess.PIPE if waits else subprocess.DEVNULL,
                    stdout=subprocess.PIPE if waits else out,
                    stderr=err,
                    process_group=self._guard.pid if self._guard else None,
                )
        except BaseException:
            self._end_guard()
            raise
        self._ended = threading.Thread(target=self._popen.wait, daemon=True)
        self._ended.start()
        self._heard: queue.SimpleQueue[str | None] = queue.SimpleQueue()
        if waits:
            threading.Thread(target=self._listen, daemon=True).start()

    @property
    def is_alive(self) -> bool:
        """Whether it has not ended yet."""
        return self._popen.poll() is None

    def say(self, line: str) -> bool:
        """Tell a line to one that waits for such; False where it has died."""
        assert self._popen.stdin is not None  # only one that waits is told
        try:
            self._popen.stdin.write(f"{line}\n".encode())
            self._popen.stdin.flush()
        except (OSError, ValueError):
            with suppress(OSError):
                self._popen.stdin.close()  # what could not be told would be tried again
            return False
        return True

    def hear(self, seconds: float) -> str | None:
        """The next line of one that waits; '' where none comes in so many seconds, None where it has died."""
        try:
            return self._heard.get(timeout=seconds)
        except queue.Empty:
            return ""

    def _listen(self) -> None:
        assert self._popen.stdout is not None  # one that waits has a pipe
        with self._popen.stdout as said:
            for line in said:
                self._heard.put(line.decode("utf-8", "replace"))
        self._heard.put(None)

    @property
    def status(self) -> int:
        """Its exit status once it has ended; below zero it is the signal that ended it."""
        return self._popen.wait()

    def wait(self, stall: float, progress: Callable[[], int]) -> bool:
        """Wait until it has ended; False where its progress stood still for `stall` seconds."""
        done, still = progress(), 0.0
        while self._ended.is_alive():
            self._ended.join(_LOOK)
            if (now := progress()) > done:
                done, still = now, 0.0
            elif (still := still + _LOOK) > stall and self._ended.is_alive():
                return False
        return True

    def kill(self) -> None:
        """End it, whatever it started, and the guard; nothing where it has ended."""
        self._end_guard()
        if self._popen.poll() is None:
            with suppress(ProcessLookupError):
                self._popen.kill()
            if not _IS_POSIX:
                self._popen.wait()  # Windows removes no folder that a process works in

    def _end_guard(self) -> None:
        if self._guard is None or self._guard.poll() is not None:
            return
        with suppress(ProcessLookupError, PermissionError):
            os.killpg(self._guard.pid, signal.SIGKILL)
        assert self._guard.stdin is not None  # a pipe was asked for
        self._guard.stdin.close()
        self._guard.wait()


def _limited(command: Sequence[str], limits: Limits) -> list[str]:
    """A command that takes limits upon itself before it becomes the engraver."""
    kilobytes, blocks = limits.memory // 1024, Limits.LARGEST_FILE // 512
    return ["/bin/sh", "-c", _LIMITED, "sh", str(limits.seconds), str(kilobytes), str(blocks), *command]


@contextmanager
def working_folder() -> Iterator[Path]:
    """An empty folder to run in, which is removed afterwards, and so are those of builds that were killed.

    Raises OutsideError where there is no room for it.
    """
    place = working_place()
    clear_left_behind(place)
    try:
        with claimed_folder(place) as folder:
            work = folder / "work"
            work.mkdir()
            yield work
    except OSError as error:
        raise OutsideError(
            f"the engraver's files in {place} could not be written or read ({error.strerror}); "
            "make room there, or name another folder in TMPDIR"
        ) from error


def minimal_environment(**added: str) -> dict[str, str]:
    """What an engraver is told of its surroundings, and nothing else."""
    return {name: os.environ[name] for name in _PASSED_ON if name in os.environ} | added


def has_room(folder: Path) -> bool:
    """Whether anything can be written into a folder."""
    free = shutil.disk_usage(folder).free
    return free > 1_000_000


def _fault(status: int, hung: bool, limits: Limits, words: str) -> str:
    if hung:
        return f"it came to no end within {limits.stall:.0f} seconds"
    if status == 0:
        return ""
    if _IS_POSIX and status == -signal.SIGXCPU:
        return f"it came to no end within {limits.seconds} seconds of computing"
    if _OUT_OF_MEMORY.search(words):
        return f"it needs more than the {limits.memory // 1_000_000} MB of memory that it may take"
    return f"its last words: {words}" if words else f"it ended without a word (status {status})"


def _beginning(file: Path) -> str:
    with file.open("rb") as opened:
        return opened.read(_MOST_READ).decode("utf-8", "replace")


def _end(file: Path) -> str:
    with file.open("rb") as opened:
        opened.seek(max(0, file.stat().st_size - 500))
        return " ".join(opened.read().decode("utf-8", "replace").split())
