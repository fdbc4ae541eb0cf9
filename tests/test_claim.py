"""What a running process works on is left alone; what a killed one left behind is cleared away."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from typeset import claim
from typeset.claim import LONG_AGO, claimed_folder, clear_left_behind, fresh_name
from typeset.whole import put_whole

HOLDS = """
import sys, time
from pathlib import Path
from typeset import claim
with claim.claimed_folder(Path(sys.argv[1])) as folder:
    (folder / "music").write_text("half")
    print(folder, flush=True)
    time.sleep(60)
"""


def holder(place: Path) -> subprocess.Popen[str]:
    return subprocess.Popen([sys.executable, "-c", HOLDS, str(place)], stdout=subprocess.PIPE, text=True)


def test_a_folder_is_empty_and_gone_afterwards(tmp_path: Path) -> None:
    with claimed_folder(tmp_path) as folder:
        assert list(folder.iterdir()) == []
        (folder / "music").write_text("")
    assert list(tmp_path.iterdir()) == []


def test_what_a_running_process_holds_stays_and_what_a_killed_one_held_goes(tmp_path: Path) -> None:
    with holder(tmp_path) as process:
        assert process.stdout is not None
        folder = Path(process.stdout.readline().strip())
        clear_left_behind(tmp_path)
        assert folder.is_dir()
        process.kill()
    assert folder.is_dir()
    clear_left_behind(tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_a_draft_of_a_killed_build_is_cleared_at_once_whatever_the_clock_says(tmp_path: Path) -> None:
    drafts = [tmp_path / fresh_name(".pdf") for _ in range(2)]
    for draft, shift in zip(drafts, (-LONG_AGO * 400, LONG_AGO * 400), strict=True):
        draft.write_bytes(b"%PDF-")
        os.utime(draft, (time.time() + shift,) * 2)
    clear_left_behind(tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_what_is_not_ours_stays(tmp_path: Path) -> None:
    (tmp_path / "book.pdf").write_bytes(b"")
    (tmp_path / ".hidden").write_bytes(b"")
    clear_left_behind(tmp_path)
    assert len(list(tmp_path.iterdir())) == 2


def test_a_link_is_not_followed(tmp_path: Path) -> None:
    (tmp_path / "kept").mkdir()
    (tmp_path / "kept" / "book.pdf").write_bytes(b"")
    (tmp_path / fresh_name()).symlink_to(tmp_path / "kept")
    clear_left_behind(tmp_path)
    assert (tmp_path / "kept" / "book.pdf").exists()


def test_many_at_once_neither_lose_their_folders_nor_leave_any(tmp_path: Path) -> None:
    def work(_: int) -> bool:
        clear_left_behind(tmp_path)
        with claimed_folder(tmp_path) as folder:
            clear_left_behind(tmp_path)
            put_whole(folder / "music", b"notes")
            put_whole(tmp_path / "book.pdf", b"pages")
            return (folder / "music").read_bytes() == b"notes"

    with ThreadPoolExecutor(8) as executor:
        assert all(executor.map(work, range(400)))
    assert [path.name for path in tmp_path.iterdir()] == ["book.pdf"]


def test_without_locks_only_what_is_a_day_old_goes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(claim, "fcntl", None)
    old, new = tmp_path / fresh_name(), tmp_path / fresh_name()
    for draft in (old, new):
        draft.write_bytes(b"")
    os.utime(old, (time.time() - 2 * LONG_AGO,) * 2)
    clear_left_behind(tmp_path)
    assert list(tmp_path.iterdir()) == [new]
