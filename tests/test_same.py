"""Same in, same out: the same files make the same bytes, in whatever folder, at whatever time, by however many."""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from typeset.shipped import STORE_VARIABLE

TOP = Path(__file__).parents[1]
DEMO = TOP / "books" / "small-rooms"

HERE = {"HOME": "/", "LANG": "C", "TZ": "UTC", "PYTHONHASHSEED": "1", "UMASK": "022"}
THERE = {
    "HOME": "/nonexistent",
    "LANG": "de_DE.UTF-8",
    "LC_ALL": "C.UTF-8",
    "TZ": "Asia/Kolkata",
    "PYTHONHASHSEED": "77",
    "UMASK": "077",
    "COLUMNS": "40",
    "FAKETIME": "2001-01-01",
}


def made(folder: Path, machine: dict[str, str], jobs: int, *commands: tuple[str, ...]) -> dict[str, str]:
    """What commands make of the demo book on one machine: each file's name and the hash of its bytes."""
    folder.mkdir()
    book, out = folder / "book", folder / "out"
    shutil.copytree(DEMO, book)
    out.mkdir()
    for file in book.iterdir():
        os.utime(file, (jobs * 1e8, jobs * 1e8))
    environment = {"PATH": os.environ["PATH"], STORE_VARIABLE: str(folder / "store"), **machine}
    for command in commands:
        words = [word.format(book=book, out=out, jobs=jobs) for word in command]
        subprocess.run([sys.executable, "-m", "typeset", *words], cwd=TOP, env=environment, check=True, timeout=300)
    return {
        file.relative_to(out).as_posix(): hashlib.sha256(file.read_bytes()).hexdigest()
        for file in sorted(out.rglob("*"))
        if file.is_file()
    }


BUILDS = (
    ("build", "{book}", "--edition", "all", "--out", "{out}", "--jobs", "{jobs}"),
    ("build", "{book}", "--press", "--out", "{out}/press", "--jobs", "{jobs}"),
    ("build", "{book}", "--booklet", "--out", "{out}/booklet"),
    ("sheet", "{book}", "1.1", "1.2", "--for", "Ada", "--out", "{out}/sheet.pdf"),
    *(
        ("show", "{book}", "1.1", "--as", form, "--out", f"{{out}}/one.{form}")
        for form in ("midi", "svg", "png", "pdf", "json")
    ),
    ("show", "{book}", "--as", "mxl", "--out", "{out}/book.mxl"),
    ("show", "{book}", "--as", "musicxml", "--out", "{out}/book.musicxml"),
)


def test_two_builds_on_two_machines_are_byte_for_byte_the_same(tmp_path: Path) -> None:
    one = made(tmp_path / "one", HERE, 1, *BUILDS)
    other = made(tmp_path / "a folder elsewhere", THERE, 3, *BUILDS)
    assert len(one) >= 11
    assert one == other


@pytest.mark.parametrize("form", ["opus", "wav"])
def test_a_recording_is_the_same_twice(tmp_path: Path, form: str) -> None:
    command = ("show", "{book}", "1.1", "--as", form, "--out", f"{{out}}/one.{form}")
    assert made(tmp_path / "one", HERE, 1, command) == made(tmp_path / "other", THERE, 2, command)
