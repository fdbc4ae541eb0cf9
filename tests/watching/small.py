"""A small book to be watched, and what serves it."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from http.client import HTTPConnection
from pathlib import Path
from typing import Any

BOOK = """\
title: Stairs & <i>Landings</i>
date: 2026-09-01
chapters: [01-stairs.yaml, 02-landings.yaml]
front: [contents]
back: []
"""

STAIRS = """\
chapter: Stairs
set: {meter: 4/4, grid: 8ths, tempo: 60-100}
exercises:
  - id: plain
    title: On one surface
    start: R L R L K L R L
  - id: groove
    title: As a groove
    start: plain
    steps:
      - voice: {R: hi-hat, L: snare, K: kick}
      - accent: [2]
  - id: long
    title: Four bars down
    start: (R L K)x8
    new-page: yes
    grid: 16ths
    steps:
      - fit: {bars: 4, by: trimming}
  - id: once
    title: <img src=x onerror=alert(1)>
    start: plain
    steps:
      - stop: 4
"""

LANDINGS = """\
chapter: Landings
set: {meter: 3/4, grid: triplets, tempo: 90}
exercises:
  - id: turning
    title: Turning in threes
    start: R K L
    steps:
      - fit: {bars: 2, by: exactly}
  - id: flams
    title: With a grace note
    start: turning
    new-page: yes
    steps:
      - ornament: {at: [1], as: flam}
  - id: open
    title: The door is open
    start: turning
    new-page: yes
    steps:
      - voice: {R: open-hi-hat, L: ride}
"""


def small_book(folder: Path) -> Path:
    """Write the book into a folder."""
    folder.mkdir()
    for name, text in (("book.yaml", BOOK), ("01-stairs.yaml", STAIRS), ("02-landings.yaml", LANDINGS)):
        (folder / name).write_text(text)
    return folder


@dataclass(frozen=True)
class Served:
    """A book that `shedbook watch` serves on a port, by a process of its own."""

    book: Path
    port: int
    process: subprocess.Popen[str]

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}/"

    def ask(
        self, path: str, method: str = "GET", body: bytes | None = None, **headers: str
    ) -> tuple[int, Any, bytes]:
        """What is answered: status, headers, body. The path goes out as it is; `Host_` etc. name headers."""
        connection = HTTPConnection("127.0.0.1", self.port, timeout=20)
        try:
            named = {name.replace("_", "-"): value for name, value in headers.items()}
            connection.putrequest(method, path, skip_host="Host" in named, skip_accept_encoding=True)
            for name, value in named.items():
                connection.putheader(name, value)
            if body is not None:
                connection.putheader("Content-Type", "application/x-www-form-urlencoded")
                connection.putheader("Content-Length", str(len(body)))
            connection.endheaders(body)
            answer = connection.getresponse()
            return answer.status, answer.headers, answer.read()
        finally:
            connection.close()

    def told(self) -> dict[str, Any]:
        """The state of the book as the page is told it."""
        return json.loads(self.ask("/book.json")[2])  # type: ignore[no-any-return]

    def until(self, holds: Callable[[dict[str, Any]], Any], seconds: float = 60) -> dict[str, Any]:
        """The first state of which something holds."""
        ends = time.monotonic() + seconds
        while time.monotonic() < ends:
            told = self.told()
            if holds(told):
                return told
            time.sleep(0.05)
        raise AssertionError(f"it never came: {self.told()}")

    def write(self, name: str, text: str) -> dict[str, Any]:
        """Save a file of the book, and wait until that has been seen."""
        before = self.told()["number"]
        (self.book / name).write_text(text)
        return self.until(lambda told: told["number"] > before)


def serve(book: Path, *more: str) -> Served:
    """Start the command and wait for its first state."""
    process = subprocess.Popen(
        [sys.executable, "-m", "typeset", "watch", str(book), "--no-open", *more],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    )
    assert process.stdout is not None and process.stderr is not None
    found = re.search(r"http://127\.0\.0\.1:(\d+)/", process.stdout.readline())
    assert found, process.stderr.read()
    served = Served(book, int(found[1]), process)
    served.until(lambda told: told["number"] > 0)
    return served
