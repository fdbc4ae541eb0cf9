"""Run the command with every file, process and connection that it asks for written down: `watched.py LOG ARGS`."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

_WATCHED = (
    "open",
    "subprocess.Popen",
    "os.",
    "socket.",
    "shutil.",
    "exec",
    "pty.",
    "ctypes.dlopen",
    "urllib.Request",
)
_HARMLESS = ("os.listdir", "os.scandir", "os.putenv", "os.unsetenv", "os.walk", "os.fwalk")


def watch(log: Path) -> None:
    """Write down what is asked for from here on."""
    written = log.open("a", encoding="utf-8", errors="backslashreplace")

    def note(event: str, arguments: tuple[Any, ...]) -> None:
        if event.startswith(_WATCHED) and event not in (*_HARMLESS, "exec"):
            print(event, *map(repr, arguments), sep="\t", file=written, flush=True)

    sys.addaudithook(note)


if __name__ == "__main__":
    file, *arguments = sys.argv[1:]
    watch(Path(file))
    from typeset.cli import main

    sys.argv = ["shedbook", *arguments]
    main()
