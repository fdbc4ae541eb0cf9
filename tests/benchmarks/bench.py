"""The benchmark: what a build costs beside the engraver's own work. `make bench` prints one table.

Every figure comes from the same run on the same machine, medians of `--rounds`; the ratios are what counts.

a) one Abjad score and one LilyPond process for each exercise, on 50 of them, scaled to all
b) one LilyPond run on all, LilyPond's default back end
c) LilyPond alone on all, cairo, one process for each core, nothing else
d) ours, cold: an empty store
e) ours, nothing changed
f) ours, one exercise changed
g) ours, only the margins changed
h) peak memory of d, all processes together
i) size of our PDF over that of b
"""

from __future__ import annotations

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from seeded_book import write_book

from typeset import pipeline
from typeset.compose.book import Exercise
from typeset.engrave import lilypond
from typeset.engrave.lilypond import Sheet, engraver, set_sheets
from typeset.engrave.sheet import sheet_of
from typeset.shipped import STORE_VARIABLE

SAMPLE = 50


def main() -> None:
    """Run the benchmark and print its table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--exercises", type=int, default=500)
    parser.add_argument("--rounds", type=int, default=3)
    parser.add_argument("--sizes", type=int, nargs="*", default=[], help="further sizes for d and e")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        book = write_book(folder / "book", options.exercises)
        measured = _measure(book, folder, options.rounds)
        _print_table(measured)
        for size in options.sizes:
            other = write_book(folder / f"book{size}", size)
            cold, warm = _cold(other, folder)[0], _build(other, folder)
            print(f"{size:>6} exercises: cold {cold:6.2f} s, nothing changed {warm:5.2f} s", flush=True)


def _measure(book: Path, folder: Path, rounds: int) -> dict[str, float]:
    checked = pipeline.check(book)
    exercises = checked.sound_book().exercises
    assert checked.style is not None
    staff = checked.style.staff
    sheets = [sheet_of(system, staff) for one in exercises for system in one.systems]
    found: dict[str, list[float]] = {}

    def note(name: str, seconds: float) -> None:
        found.setdefault(name, []).append(seconds)
        print(f"  {name}: {seconds:.2f}", flush=True)

    for number in range(rounds):
        print(f"round {number + 1}", flush=True)
        note("a", _one_by_one(exercises[:SAMPLE], staff) * len(exercises) / SAMPLE)
        seconds, size = _one_run(sheets, staff.height, folder)
        note("b", seconds)
        note("c", _timed(lambda: _alone(sheets, staff.height)))
        cold, memory = _cold(book, folder)
        note("d", cold)
        note("h", memory)
        note("e", _build(book, folder))
        note("f", _changed(book, folder, book / "001.yaml", "every: 2", "every: 3"))
        note("start", _timed(lambda: set_sheets(sheets[:1], staff.height)))
        note("g", _margins(book, folder))
        note("i", (folder / "out" / "book.pdf").stat().st_size / size)
    return {name: statistics.median(values) for name, values in found.items()}


def _timed(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def _one_by_one(exercises: Sequence[Exercise], staff: object) -> float:
    """What a teacher would do instead: a score and a process for each exercise, LilyPond as it comes."""

    def work() -> None:
        for exercise in exercises:
            _plain_run([sheet_of(system, staff) for system in exercise.systems], staff.height)  # type: ignore

    return _timed(work)


def _one_run(sheets: Sequence[Sheet], height: float, folder: Path) -> tuple[float, int]:
    """LilyPond's default back end on everything in one file: seconds, and the PDF's bytes."""
    start = time.perf_counter()
    size = _plain_run(sheets, height)
    return time.perf_counter() - start, size


def _plain_run(sheets: Sequence[Sheet], height: float) -> int:
    """One LilyPond process as it comes; gives the size of the PDF, all sheets as the scores of one book."""
    with tempfile.TemporaryDirectory() as name:
        scores = "\n".join(sheet.music for sheet in sheets)
        text = lilypond._header(height) + f"\\book {{\n{scores}\n}}\n"
        (Path(name) / "all.ly").write_text(text, encoding="utf-8")
        command = [str(engraver()), "--loglevel=ERROR", "all.ly"]
        subprocess.run(command, cwd=name, check=True, capture_output=True)
        return (Path(name) / "all.pdf").stat().st_size


def _alone(sheets: Sequence[Sheet], height: float) -> None:
    """LilyPond with our options and nothing of ours, a process for each core."""
    cores = os.cpu_count() or 1
    shares = [sheets[core::cores] for core in range(cores)]
    batches = [share[start : start + 32] for share in shares for start in range(0, len(share), 32)]
    with ThreadPoolExecutor(cores) as executor:
        list(executor.map(lambda batch: set_sheets(batch, height), batches))


def _build(book: Path, folder: Path) -> float:
    """Our command, as it is used."""
    command = [sys.executable, "-m", "typeset", "build", str(book), "--out", str(folder / "out")]
    environment = {**os.environ, STORE_VARIABLE: str(folder / "store")}
    return _timed(lambda: subprocess.run(command, check=True, capture_output=True, env=environment))


def _cold(book: Path, folder: Path) -> tuple[float, float]:
    """Our command on an empty store: seconds, and the peak of all its processes' memory in megabytes."""
    subprocess.run(["rm", "-rf", str(folder / "store")], check=True)
    done = threading.Event()
    peak = [0.0]
    watcher = threading.Thread(target=_watch_memory, args=(done, peak))
    watcher.start()
    seconds = _build(book, folder)
    done.set()
    watcher.join()
    return seconds, peak[0]


def _watch_memory(done: threading.Event, peak: list[float]) -> None:
    """Add up the resident memory of this process's descendants, many times a second."""
    while not done.wait(0.1):
        peak[0] = max(peak[0], sum(_resident(pid) for pid in _descendants(os.getpid())))


def _descendants(root: int) -> list[int]:
    children: dict[int, list[int]] = {}
    for entry in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = entry.read_text().rsplit(")", 1)[1].split()
        except OSError:
            continue
        children.setdefault(int(fields[1]), []).append(int(entry.parent.name))
    return _all_below(root, children)


def _all_below(root: int, children: dict[int, list[int]]) -> list[int]:
    below = children.get(root, [])
    return below + [deeper for child in below for deeper in _all_below(child, children)]


def _resident(pid: int) -> float:
    try:
        pages = int(Path(f"/proc/{pid}/statm").read_text().split()[1])
    except OSError:
        return 0.0
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


def _changed(book: Path, folder: Path, file: Path, old: str, new: str) -> float:
    """Our command after one exercise was changed."""
    before = file.read_text()
    file.write_text(before.replace(old, new, 1))
    try:
        return _build(book, folder)
    finally:
        file.write_text(before)


def _margins(book: Path, folder: Path) -> float:
    """Our command after nothing but the margins changed."""
    about = book / "book.yaml"
    before = about.read_text()
    (book / "wider.yaml").write_text(
        "based-on: a4-workbook\nmargins: {top: 24, bottom: 26, inner: 23, outer: 17}\n"
    )
    about.write_text(before + "style: wider\n")
    try:
        return _build(book, folder)
    finally:
        about.write_text(before)
        (book / "wider.yaml").unlink()


def _print_table(found: dict[str, float]) -> None:
    a, b, c, d, e, f, g = (found[name] for name in "abcdefg")
    rows = [
        ("a  one by one", f"{a:.1f} s", ""),
        ("b  one run, default back end", f"{b:.1f} s", ""),
        ("c  LilyPond alone, cairo", f"{c:.1f} s", ""),
        ("d  ours, cold", f"{d:.1f} s", f"{d / a:.3f} of a (≤ 0.07), {d / c:.2f} of c (≤ 1.15)"),
        ("e  ours, nothing changed", f"{e:.2f} s", f"{e / d:.3f} of d (≤ 0.04)"),
        ("f  ours, one changed", f"{f:.2f} s", f"e + {(f - e) / found['start']:.2f} starts (≤ 1.3)"),
        ("g  ours, margins changed", f"{g:.2f} s", f"{g / d:.3f} of d (≤ 0.06)"),
        ("h  peak memory of d", f"{found['h']:.0f} MB", "(≤ 700)"),
        ("i  size of the PDF over b's", f"{found['i']:.2f}", "(≤ 3)"),
    ]
    for row in rows:
        print(f"{row[0]:<32}{row[1]:>10}  {row[2]}")


if __name__ == "__main__":
    main()
