"""Kills builds at random moments, for real, and looks at what is left: `python tests/hard/kill.py --times 200`.

A small book is built again and again, its chapter changing between two versions, with a cold store, with one that
has every block, and with one that has the whole build. Each build is killed with signal 9 at a random
moment of its time. After each kill the former PDF must be whole, everything in the store sound, and no
process left; after the next build that is let through, no file may be left that does not belong there.
"""

from __future__ import annotations

import argparse
import hashlib
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

PROGRAM = Path(__file__).parents[2]

CHAPTER = """\
chapter: First steps
sequences: {{stairs: R L R K L}}
exercises:
  - id: plain
    start: stairs
    tempo: {tempo}
    steps: [{{accent: [{accent}]}}]
  - series: turns
    start: stairs
    each: {{rotate: all, grid: [8ths, 16ths, triplets]}}
    steps: [{{voice: {{R: hi-hat, L: snare, K: kick}}}}]
"""
VERSIONS = {
    "first": CHAPTER.format(tempo=80, accent="1, 3"),
    "second": CHAPTER.format(tempo=90, accent="2, 4"),
}

LET_THROUGH = 10
"""After so many kills a build is let through."""

# What the store has when a build begins, and how often that is so of ten times.
STORES = {"cold": 6, "every block": 2, "the whole build": 2}


@dataclass
class Trial:
    """A place of its own to build and kill in; `found` counts what was done and what was wrong."""

    place: Path
    chance: random.Random
    found: Counter[str] = field(default_factory=Counter)
    wanted: dict[str, bytes] = field(default_factory=dict)
    took: dict[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for name in ("temporary", "out"):
            (self.place / name).mkdir()
        self.environment = {
            **os.environ,
            "PYTHONPATH": str(PROGRAM),
            "SHEDBOOK_STORE": str(self.place / "store"),
            "TMPDIR": str(self.place / "temporary"),
        }

    @property
    def pdf(self) -> Path:
        return self.place / "out" / "steps.pdf"

    def start(self) -> subprocess.Popen[bytes]:
        command = [sys.executable, "-m", "typeset", "build", "steps.yaml", "--out", "out", "--jobs", "2"]
        return subprocess.Popen(
            command,
            cwd=self.place,
            env=self.environment,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            start_new_session=True,
        )

    def build(self) -> float:
        """A build that is let through: how long it took."""
        began = time.monotonic()
        with self.start() as process:
            _, words = process.communicate(timeout=300)
        if process.returncode:
            raise SystemExit(f"a build failed: {words.decode()}")
        return time.monotonic() - began

    def write(self, version: str) -> None:
        (self.place / "steps.yaml").write_text(VERSIONS[version])

    def stock(self, kind: str) -> None:
        """Make the store what it is to be when a build begins."""
        store = self.place / "store"
        if kind == "cold":
            shutil.rmtree(store, ignore_errors=True)
        elif kind == "every block":
            shutil.rmtree(store / "builds", ignore_errors=True)

    def measure(self) -> None:
        """Build both versions without killing, and see how long each kind of build takes."""
        for version in VERSIONS:
            self.write(version)
            for kind in STORES:
                self.stock(kind)
                self.took[kind] = min(self.build(), self.took.get(kind, 1000.0))
            self.wanted[version] = self.pdf.read_bytes()
        assert len(set(self.wanted.values())) == 2

    def kill_one(self) -> None:
        """Start a build, kill it at a random moment, and look at what it leaves."""
        kind = self.chance.choices(list(STORES), list(STORES.values()))[0]
        if kind == "the whole build":
            self.build()
        self.write(self.chance.choice(list(VERSIONS)))
        self.stock(kind)
        with self.start() as process:
            time.sleep(self.chance.uniform(0, self.took[kind]))
            finished = process.poll() is not None
            process.send_signal(signal.SIGKILL)
        self.found["had finished" if finished else f"killed, {kind}"] += 1
        self.look()

    def look(self) -> None:
        """Count what a kill has lost or left running."""
        self.found["former PDF not whole"] += self.pdf.read_bytes() not in self.wanted.values()
        self.found["damaged in the store"] += sum(not is_sound(file) for file in self.kept())
        self.found["files left by kills"] += len(self.left_behind())
        left = self.still_running()
        self.found["processes left"] += len(left)
        if left:
            print("still running:", *left, file=sys.stderr)

    def still_running(self) -> list[str]:
        """What still runs of a build that has ended, two seconds later at most."""
        for _ in range(40):
            left = list(processes_of(str(self.place / "temporary")))
            if not left:
                break
            time.sleep(0.05)
        return left

    def let_through(self) -> None:
        """Build without killing: the PDF is what it should be, and nothing is left lying about."""
        version = self.chance.choice(list(VERSIONS))
        self.write(version)
        shutil.rmtree(self.place / "store" / "builds", ignore_errors=True)
        self.build()
        self.found["let through"] += 1
        self.found["not what it should be"] += self.pdf.read_bytes() != self.wanted[version]
        left = self.left_behind()
        self.found["files left after a build"] += len(left)
        if left:
            print("left:", *left, file=sys.stderr)

    def kept(self) -> Iterator[Path]:
        kinds = ("block", "chapter", "build")
        return (file for kind in kinds for file in (self.place / "store").glob(f"*/??/[!.]*.{kind}"))

    def left_behind(self) -> list[Path]:
        """Whatever is neither a PDF, nor in the store by its right name."""
        everything = {path for name in ("store", "out", "temporary") for path in (self.place / name).rglob("*")}
        folders = {path for path in everything if path.is_dir() and self.place / "store" in path.parents}
        return sorted(everything - folders - set(self.kept()) - {self.pdf})


def is_sound(file: Path) -> bool:
    """Whether a kept file is as its check sum says."""
    head, _, rest = file.read_bytes().partition(b"\n")
    return head.startswith(b"shedbook ") and hashlib.sha256(rest[32:]).digest() == rest[:32]


def processes_of(temporary: str) -> Iterator[str]:
    """Processes that work in a folder or were told of it: builds, engravers, and what guards these."""
    for process in Path("/proc").glob("[0-9]*"):
        try:
            told = (process / "environ").read_bytes() + (process / "cwd").readlink().as_posix().encode()
            if temporary.encode() in told and process.name != str(os.getpid()):
                yield (process / "cmdline").read_bytes().replace(b"\0", b" ").decode()
        except OSError:
            continue  # it has just ended


def run(place: Path, times: int, seed: int) -> Counter[str]:
    """Kill so many builds; what was done, and what was lost."""
    trial = Trial(place, random.Random(seed))
    trial.measure()
    for number in range(1, times + 1):
        trial.kill_one()
        if number % LET_THROUGH == 0 or number == times:
            trial.let_through()
            print(f"{number} killed: {dict(trial.found)}", file=sys.stderr, flush=True)
    return trial.found


LOST = (
    "former PDF not whole",
    "damaged in the store",
    "processes left",
    "not what it should be",
    "files left after a build",
)
"""What must have happened no time at all."""


def main() -> None:
    """Run it and print a table; the exit status says whether anything was lost."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--times", type=int, default=200)
    parser.add_argument("--seed", type=int, default=7)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as name:
        found = run(Path(name), options.times, options.seed)
    for what, count in sorted(found.items()):
        print(f"{what:<28}{count:>6}{'  LOST' if what in LOST and count else ''}")
    sys.exit(any(found[what] for what in LOST))


if __name__ == "__main__":
    main()
