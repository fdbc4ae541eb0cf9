"""Try thousands of mutated chapters: `python -m tests.fuzz --chapters 10000 --paper 300 --seed 7`.

Prints a table of what was tried and what was lost, and keeps every chapter that was lost in a folder. The same
seed makes the same chapters.
"""

from __future__ import annotations

import argparse
import os
import random
import sys
import tempfile
import time
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

from typeset.shipped import STORE_VARIABLE

from .mutation import chapter
from .trial import Outcome, built, tried


def main() -> int:
    """Run the trials; 1 where anything was lost."""
    asked = _asked()
    started = time.monotonic()
    with tempfile.TemporaryDirectory() as scratch:
        os.environ.setdefault(STORE_VARIABLE, f"{scratch}/store")
        with ProcessPoolExecutor(asked.jobs) as pool:
            numbers = range(asked.chapters)
            seeds = [asked.seed] * asked.chapters
            outcomes = list(pool.map(_try, seeds, numbers, [scratch] * asked.chapters, chunksize=20))
            read_in = time.monotonic() - started
            accepted = [number for number, outcome in enumerate(outcomes) if outcome.kind == "accepted"]
            chosen = accepted[:: max(1, len(accepted) // asked.paper)][: asked.paper] if asked.paper else []
            papers = list(pool.map(_build, seeds, chosen, [scratch] * len(chosen)))
    lost = [(number, outcome) for number, outcome in enumerate(outcomes) if outcome.kind == "lost"]
    lost += [(number, outcome) for number, outcome in zip(chosen, papers, strict=True) if outcome.kind == "lost"]
    _tell("read and composed", outcomes, read_in)
    _tell("to paper and handed on", papers, time.monotonic() - started - read_in)
    for number, outcome in lost:
        asked.keep.mkdir(parents=True, exist_ok=True)
        (asked.keep / f"{asked.seed}-{number}.yaml").write_bytes(_chapter(asked.seed, number))
        (asked.keep / f"{asked.seed}-{number}.txt").write_text(outcome.why)
        print(f"lost: {asked.keep}/{asked.seed}-{number}.yaml: {outcome.why.strip().splitlines()[-1]}")
    return 1 if lost else 0


def _asked() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    parser.add_argument("--chapters", type=int, default=10_000)
    parser.add_argument("--paper", type=int, default=300)
    parser.add_argument("--seed", type=int, default=7)
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--keep", type=Path, default=Path("build/fuzz"), help="where lost chapters go")
    return parser.parse_args()


def _chapter(seed: int, number: int) -> bytes:
    return chapter(random.Random(f"{seed}/{number}"))


def _try(seed: int, number: int, scratch: str) -> Outcome:
    return tried(_chapter(seed, number), _folder(scratch))


def _build(seed: int, number: int, scratch: str) -> Outcome:
    return built(_chapter(seed, number), _folder(scratch))


def _folder(scratch: str) -> Path:
    folder = Path(scratch) / str(os.getpid())
    folder.mkdir(exist_ok=True)
    return folder


def _tell(what: str, outcomes: list[Outcome], seconds: float) -> None:
    kinds = Counter(outcome.kind for outcome in outcomes)
    numbers = "  ".join(f"{kind} {kinds[kind]:>6,}" for kind in ("accepted", "refused", "lost"))
    print(f"{what:<24} {len(outcomes):>6,}  {numbers}  {seconds:7.1f} s")


if __name__ == "__main__":
    sys.exit(main())
