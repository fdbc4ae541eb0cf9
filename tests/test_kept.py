"""What is kept: checked when read, within its limit, the least recently used going first."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest

from typeset.claim import fresh_name
from typeset.kept import LIMIT_VARIABLE, MOST_BUILDS, Kind, Shelf, clear, kept_in, limit, sweep
from typeset.problem import OutsideError

HOUR = 3600.0
EVERYTHING = 10**12


def key(number: int) -> str:
    return f"{number:064x}"[::-1]


def put(store: Path, number: int, *, hours_ago: float, size: int = 1000, kind: Kind = "block") -> None:
    """Keep something that was last used so many hours ago; in the future below zero."""
    shelf = Shelf.under(store, kind)
    before = {one.path for one in kept_in(store)}
    shelf.put(key(number), bytes(size))
    (path,) = {one.path for one in kept_in(store)} - before
    os.utime(path, (time.time() - hours_ago * HOUR,) * 2)


def numbers(store: Path, kind: Kind = "block") -> list[int]:
    """What is there, by its number."""
    return [number for number in range(100) if Shelf.under(store, kind).get(key(number)) is not None]


@pytest.mark.parametrize("damage", ["a bit", "the end", "everything"])
def test_what_is_damaged_is_not_found(tmp_path: Path, damage: str) -> None:
    put(tmp_path, 1, hours_ago=1)
    file = Path(kept_in(tmp_path)[0].path)
    whole = file.read_bytes()
    flipped = whole[:500] + bytes([whole[500] ^ 1]) + whole[501:]
    file.write_bytes({"a bit": flipped, "the end": whole[:-1], "everything": b""}[damage])
    assert Shelf.under(tmp_path, "block").get(key(1)) is None


def test_the_least_recently_used_goes_first_until_the_rest_is_within_the_limit(tmp_path: Path) -> None:
    for number in range(5):
        put(tmp_path, number, hours_ago=10 - number)
    sweep(tmp_path, 2500, time.time())
    assert numbers(tmp_path) == [3, 4]


def test_what_is_found_counts_as_used(tmp_path: Path) -> None:
    for number in range(5):
        put(tmp_path, number, hours_ago=10 - number)
    assert Shelf.under(tmp_path, "block").get(key(0)) is not None
    sweep(tmp_path, 2500, time.time() + HOUR)
    assert numbers(tmp_path) == [0, 4]


def test_what_a_build_used_stays_even_where_it_is_more_than_the_limit(tmp_path: Path) -> None:
    put(tmp_path, 0, hours_ago=1)
    began = time.time()
    for number in range(1, 5):
        put(tmp_path, number, hours_ago=0)
    sweep(tmp_path, 2500, began)
    assert numbers(tmp_path) == [1, 2, 3, 4]


def test_times_yet_to_come_neither_keep_a_block_for_ever_nor_push_out_others(tmp_path: Path) -> None:
    put(tmp_path, 1, hours_ago=-24 * 365 * 30)
    put(tmp_path, 2, hours_ago=24 * 365 * 30)
    sweep(tmp_path, EVERYTHING, time.time())
    assert len(kept_in(tmp_path)) == 2
    assert max(one.used for one in kept_in(tmp_path)) <= time.time()
    sweep(tmp_path, 0, time.time() + 5)
    assert numbers(tmp_path) == []


def test_no_more_builds_are_kept_than_there_may_be(tmp_path: Path) -> None:
    for number in range(MOST_BUILDS + 3):
        put(tmp_path, number, hours_ago=100 - number, kind="build")
    put(tmp_path, 99, hours_ago=1000)
    sweep(tmp_path, EVERYTHING, time.time())
    assert numbers(tmp_path, "build") == list(range(3, MOST_BUILDS + 3))
    assert numbers(tmp_path) == [99]


def test_drafts_of_killed_builds_are_swept_away_and_nothing_else(tmp_path: Path) -> None:
    put(tmp_path, 1, hours_ago=1)
    folder = Path(kept_in(tmp_path)[0].path).parent
    (folder / fresh_name(".block")).write_bytes(b"half")
    for other in (tmp_path / "letter.txt", tmp_path / "blocks" / "notes.txt", folder / "mine.txt"):
        other.write_text("")
    sweep(tmp_path, 0, time.time() + 5)
    assert sorted(path.name for path in tmp_path.rglob("*") if path.is_file()) == [
        "letter.txt",
        "mine.txt",
        "notes.txt",
    ]


def test_clearing_removes_what_is_kept_and_tells_it(tmp_path: Path) -> None:
    put(tmp_path, 1, hours_ago=1)
    put(tmp_path, 2, hours_ago=1, kind="build")
    (tmp_path / "letter.txt").write_text("")
    assert sorted(one.kind for one in clear(tmp_path)) == ["block", "build"]
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == [tmp_path / "letter.txt"]


def test_a_store_that_is_not_there_is_empty(tmp_path: Path) -> None:
    sweep(tmp_path / "none", 0, 0.0)
    assert kept_in(tmp_path / "none") == []


def test_the_limit_is_megabytes(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(LIMIT_VARIABLE, "20")
    assert limit() == 20_000_000
    monkeypatch.delenv(LIMIT_VARIABLE)
    assert limit() == 500_000_000


@pytest.mark.parametrize("said", ["much", "-1", "1.5", "²"])
def test_a_limit_that_is_no_number_is_told(monkeypatch: pytest.MonkeyPatch, said: str) -> None:
    monkeypatch.setenv(LIMIT_VARIABLE, said)
    with pytest.raises(OutsideError, match=f"{LIMIT_VARIABLE} is a number of megabytes"):
        limit()
