"""`shedbook take`: where it writes, what it says, and how it ends."""

from __future__ import annotations

from pathlib import Path

from tests.taking.made import beat, midi
from tests.test_cli import shedbook

GROOVE = [*beat("x.x.x.x.x.x.x.x.", 42), *beat("....X.......X...", 38), (0.0, 39, 90)]


def test_a_chapter_is_printed_and_what_is_left_out_told(tmp_path: Path) -> None:
    (tmp_path / "groove.mid").write_bytes(midi(GROOVE))
    done = shedbook("take", "groove.mid", cwd=tmp_path)
    assert done.returncode == 0
    assert done.stdout.startswith("# Taken from groove.mid.")
    assert done.stderr == ("groove.mid:1:1: warning: no sound of ours stands for hand clap (key 39); left out\n")


def test_a_chapter_is_written_and_can_be_checked(tmp_path: Path) -> None:
    (tmp_path / "groove.mid").write_bytes(midi(GROOVE))
    done = shedbook("take", "groove.mid", "--out", "chapter.yaml", cwd=tmp_path)
    assert done.stdout == "chapter.yaml written, with 1 exercise\n"
    assert shedbook("check", "chapter.yaml", cwd=tmp_path).returncode == 0


def test_a_file_that_is_there_is_not_overwritten(tmp_path: Path) -> None:
    (tmp_path / "groove.mid").write_bytes(midi(GROOVE))
    (tmp_path / "chapter.yaml").write_text("mine")
    done = shedbook("take", "groove.mid", "--out", "chapter.yaml", cwd=tmp_path)
    assert done.returncode == 2
    assert (tmp_path / "chapter.yaml").read_text() == "mine"


def test_a_file_that_cannot_be_read_is_an_error_with_its_line(tmp_path: Path) -> None:
    (tmp_path / "broken.musicxml").write_text("<score-partwise>\n<part>")
    done = shedbook("take", "broken.musicxml", cwd=tmp_path)
    assert done.returncode == 1
    assert done.stderr == "broken.musicxml:2:1: this is no sound XML: no element found\n"


def test_no_file_is_a_wrong_use(tmp_path: Path) -> None:
    assert shedbook("take", "nothing.mid", cwd=tmp_path).returncode == 2
