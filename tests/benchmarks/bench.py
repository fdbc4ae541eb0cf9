"""The benchmark: what a build costs beside the engraver's own work. `make bench` prints one table.

Every figure comes from the same run on the same machine, medians of `--rounds` (a and b are measured once, for
they take minutes); the ratios are what counts.

a) one Abjad score and one LilyPond process for each exercise, on 50 of them, scaled to all
b) one LilyPond run on all, LilyPond's default back end, as LilyPond comes
c) LilyPond alone on all, cairo, one process for each core, nothing else; with our switches, and as LilyPond comes
d) ours, cold: an empty store
e) ours, nothing changed
f) ours, one exercise changed
g) ours, only the margins changed
h) peak memory of d, all processes together
i) size of our PDF over that of b

Then how d and e grow with the size of a book, the sheets of a roster out of a warm store, and the start of commands.
"""

from __future__ import annotations

import argparse
import math
import os
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from seeded_book import write_book, write_roster

from typeset import pipeline
from typeset.compose.book import Exercise
from typeset.engrave import lilypond
from typeset.engrave.lilypond import Sheet, batch_text, engraver, session_command, set_sheets
from typeset.engrave.sheet import sheet_of
from typeset.shipped import STORE_VARIABLE
from typeset.style.music import Staff

SAMPLE = 50
STUDENTS = (50, 100, 200)
EACH = 10
"""Exercises on each student's sheet."""

_YAML = "import sys, yaml; [yaml.load(open(file), yaml.CSafeLoader) for file in sys.argv[1:]]"


def main() -> None:
    """Run the benchmark and print its tables."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--exercises", type=int, default=500)
    parser.add_argument("--rounds", type=int, default=3)
    parser.add_argument("--sizes", type=int, nargs="*", default=[], help="sizes of books for the growth of d and e")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        book = write_book(folder / "book", options.exercises)
        _print_table(_measure(book, folder, options.rounds))
        _print_roster(book, folder)
        _print_commands(book, folder, options.rounds)
        if options.sizes:
            _print_growth(folder, options.sizes)


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

    note("a", _one_by_one(exercises[:SAMPLE], staff) * len(exercises) / SAMPLE)
    seconds, size = _one_run(sheets, staff.height)
    note("b", seconds)
    note("as it comes", _timed(lambda: _alone(sheets, staff.height, collects=True)))
    for number in range(rounds):
        print(f"round {number + 1}", flush=True)
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


def _one_by_one(exercises: Sequence[Exercise], staff: Staff) -> float:
    """What a teacher would do instead: a score and a process for each exercise, LilyPond as it comes."""

    def work() -> None:
        for exercise in exercises:
            _plain_run([sheet_of(system, staff) for system in exercise.systems], staff.height)

    return _timed(work)


def _one_run(sheets: Sequence[Sheet], height: float) -> tuple[float, int]:
    """LilyPond's default back end on everything in one file: seconds, and the PDF's bytes."""
    start = time.perf_counter()
    size = _plain_run(sheets, height)
    return time.perf_counter() - start, size


def _plain_run(sheets: Sequence[Sheet], height: float) -> int:
    """One LilyPond process as it comes; gives the size of the PDF, all sheets as the scores of one book."""
    scores = "\n".join(sheet.music for sheet in sheets)
    text = lilypond._header(height) + f"\\book {{\n{scores}\n}}\n"
    return _lilypond([str(engraver()), "--loglevel=ERROR", "all.ly"], text, os.environ)


def _alone(sheets: Sequence[Sheet], height: float, *, collects: bool = False) -> None:
    """A LilyPond for each core, each with its share of the very text that we give it, and nothing of ours.

    With our switches it takes what memory it wants; as it comes, Guile's collector runs.
    """
    cores = os.cpu_count() or 1
    command, environment = session_command("all.ly")
    if collects:
        environment = {name: value for name, value in environment.items() if name != "GC_DONT_GC"}
    texts = [lilypond._header(height) + batch_text("all", sheets[core::cores], height) for core in range(cores)]
    with ThreadPoolExecutor(cores) as executor:
        list(executor.map(lambda text: _lilypond(command, text, environment), texts))


def _lilypond(command: Sequence[str], text: str, environment: Mapping[str, str]) -> int:
    """Run LilyPond on a text in a folder of its own; gives the size of the PDF."""
    with tempfile.TemporaryDirectory() as name:
        (Path(name) / "all.ly").write_text(text, encoding="utf-8")
        subprocess.run(command, cwd=name, check=True, capture_output=True, env=environment)
        return (Path(name) / "all.pdf").stat().st_size


def _build(book: Path, folder: Path) -> float:
    """Our command, as it is used."""
    return _shedbook(folder, "build", str(book), "--out", str(folder / "out"))


def _shedbook(folder: Path, *words: str) -> float:
    command = [sys.executable, "-m", "typeset", *words]
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


def _print_table(found: Mapping[str, float]) -> None:
    a, b, c, d, e, f, g = (found[name] for name in "abcdefg")
    comes = found["as it comes"]
    _print_rows(
        ("a  one by one", f"{a:.1f} s", ""),
        ("b  one run, default back end", f"{b:.1f} s", ""),
        ("c  LilyPond alone, our switches", f"{c:.1f} s", ""),
        ("   LilyPond alone, as it comes", f"{comes:.1f} s", ""),
        ("d  ours, cold", f"{d:.1f} s", f"{d / a:.3f} of a (≤ 0.07), {d / c:.2f} of c (≤ 1.15)"),
        ("", "", f"{d / comes:.2f} of LilyPond as it comes"),
        ("e  ours, nothing changed", f"{e:.2f} s", f"{e / d:.3f} of d (≤ 0.04)"),
        ("f  ours, one changed", f"{f:.2f} s", f"e + {(f - e) / found['start']:.2f} starts (≤ 1.3)"),
        ("g  ours, margins changed", f"{g:.2f} s", f"{g / d:.3f} of d (≤ 0.06)"),
        ("h  peak memory of d", f"{found['h']:.0f} MB", "(≤ 700)"),
        ("i  size of the PDF over b's", f"{found['i']:.2f}", "(≤ 3)"),
    )


def _print_roster(book: Path, folder: Path) -> None:
    """Sheets for more and more students out of a warm store; each page is printed alone and in the file of all."""
    pages, seconds = [], []
    # The first one fills the store, and is not counted.
    for number, students in enumerate((STUDENTS[-1], *STUDENTS)):
        roster = write_roster(folder / f"students{number}.csv", students, EACH, seed=number)
        out = folder / f"sheets{number}"
        taken = _shedbook(folder, "sheet", str(book), "--roster", str(roster), "--out", str(out))
        if number:
            pages.append(2 * _pages(out / "to-print.pdf"))
            seconds.append(taken)
    _print_rows(
        *(
            (f"{count} students, {EACH} exercises each", f"{taken:.1f} s", f"{made / taken:.0f} pages a second")
            for count, made, taken in zip(STUDENTS, pages, seconds, strict=True)
        ),
        ("   grows as a power of", f"{_power(STUDENTS, seconds):.2f}", ""),
    )


def _pages(pdf: Path) -> int:
    from pypdf import PdfReader

    return len(PdfReader(pdf).pages)


def _print_commands(book: Path, folder: Path, rounds: int) -> None:
    """The start of the command beside that of its library, and a list beside reading the YAML."""
    files = [str(file) for file in book.glob("*.yaml")]
    typer = statistics.median(_python("import typer") for _ in range(rounds))
    yaml = statistics.median(_python(_YAML, *files) for _ in range(rounds))
    help_ = statistics.median(_shedbook(folder, "--help") for _ in range(rounds))
    listed = statistics.median(_shedbook(folder, "list", str(book), "--json") for _ in range(rounds))
    _print_rows(
        ("--help", f"{help_:.2f} s", f"{help_ / typer:.2f} of importing typer (≤ 2)"),
        ("list --json", f"{listed:.2f} s", f"{listed / yaml:.2f} of reading its YAML (≤ 3)"),
    )


def _python(code: str, *words: str) -> float:
    return _timed(lambda: subprocess.run([sys.executable, "-c", code, *words], check=True))


def _print_growth(folder: Path, sizes: Sequence[int]) -> None:
    """The time of d and e by the number of exercises, and the power by which it grows."""
    cold, warm = [], []
    for size in sizes:
        book = write_book(folder / f"book{size}", size)
        seconds, memory = _cold(book, folder)
        cold.append(seconds)
        warm.append(statistics.median(_build(book, folder) for _ in range(3)))
        _print_rows((f"{size} exercises", f"{seconds:.1f} s", f"{warm[-1]:.2f} s again, {memory:.0f} MB at most"))
    powers = f"{_power(sizes, cold):.2f} cold, {_power(sizes, warm):.2f} nothing changed (≤ 1.05)"
    _print_rows(("   grows as a power of", "", powers))


def _power(sizes: Sequence[int], seconds: Sequence[float]) -> float:
    """The slope of time against size, both as logarithms: 1 where twice the size takes twice as long."""
    return statistics.linear_regression(list(map(math.log, sizes)), list(map(math.log, seconds))).slope


def _print_rows(*rows: tuple[str, str, str]) -> None:
    for row in rows:
        print(f"{row[0]:<36}{row[1]:>10}  {row[2]}", flush=True)


if __name__ == "__main__":
    main()
