"""How long it takes from saving a file to seeing the change: `shedbook watch` in a real Chromium.

    python tests/benchmarks/seen.py [--times 20] [--book books/quiet-doors]

Each time another accent is written into one exercise of a copy of the book, so that one line of music is engraved
anew; the clock runs from before the file is written until the browser has painted the page that has the exercise.
"""

from __future__ import annotations

import argparse
import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import combinations
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

CHAPTER, EXERCISE = "01-taking-turns.yaml", "hinge-groove"
WRITTEN = "- accent: [2, 4]"
PLACES = ("1", "1&", "2", "2&", "3", "3&", "4", "4&")

PAINTED = """([id, before]) => new Promise((done) => {
    const look = () => {
        const page = document.querySelector(`.rail [data-id=${id}]`)?.closest(".page");
        const image = page?.querySelector("img");
        if (page && page.dataset.key && page.dataset.key !== before && image.complete) {
            requestAnimationFrame(() => requestAnimationFrame(() => done(page.dataset.key)));
        } else setTimeout(look, 4);
    };
    look();
})"""


@contextmanager
def watched(book: Path) -> Iterator[str]:
    """The address at which a book is watched."""
    command = [sys.executable, "-m", "typeset", "watch", str(book), "--no-open"]
    environment = {**os.environ, "PYTHONUNBUFFERED": "1"}
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment)
    try:
        assert process.stdout is not None
        found = re.search(r"http://\S+/", process.stdout.readline())
        assert found
        yield found[0]
    finally:
        process.terminate()
        process.wait()


def seen(page: Page, chapter: Path, times: int) -> Iterator[float]:
    """Seconds from saving to seeing, so many times after one that warms everything up."""
    text = chapter.read_text(encoding="utf-8")
    assert WRITTEN in text, f"{chapter} has no {WRITTEN}"
    key = page.evaluate(PAINTED, [EXERCISE, ""])
    for number, places in enumerate([*combinations(PLACES, 3)][: times + 1]):
        time.sleep(1)
        begun = time.perf_counter()
        chapter.write_text(text.replace(WRITTEN, f"- accent: [{', '.join(places)}]", 1), encoding="utf-8")
        key = page.evaluate(PAINTED, [EXERCISE, key])
        if number:
            yield time.perf_counter() - begun


def main() -> None:
    """Measure and tell."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--times", type=int, default=20)
    options.add_argument("--book", type=Path, default=Path("books/quiet-doors"))
    asked = options.parse_args()
    chromium = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        book = Path(folder) / "book"
        shutil.copytree(asked.book, book)
        os.environ["SHEDBOOK_STORE"] = str(Path(folder) / "store")
        with watched(book) as address:
            browser = driver.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
            page = browser.new_page(viewport={"width": 1400, "height": 900})
            page.goto(address)
            page.wait_for_selector(f".row[data-id={EXERCISE}]", timeout=120_000)
            page.click(f".row[data-id={EXERCISE}] .go")
            measured = sorted(seen(page, book / CHAPTER, asked.times))
            browser.close()
    print(f"saved to seen, {len(measured)} times: median {statistics.median(measured):.3f} s, ", end="")
    print(
        f"fastest {measured[0]:.3f} s, slowest {measured[-1]:.3f} s; load {os.getloadavg()[0]:.1f} of {os.cpu_count()} cores"
    )


if __name__ == "__main__":
    main()
