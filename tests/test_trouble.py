"""Full and read-only disks, stores of others, flipped bits, several builds at once, wrong clocks: for real, nothing is lost."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from typeset.claim import fresh_name
from typeset.kept import kept_in

PROGRAM = Path(__file__).parents[1]

CHAPTER = """\
chapter: First steps
sequences: {stairs: R L R K L}
exercises:
  - id: plain
    start: stairs
    tempo: 80
"""
OTHER = CHAPTER.replace("80", "90").replace("R L R K L", "R R L K")

WITHOUT_PRIVILEGES = ("setpriv", "--bounding-set=-dac_override,-dac_read_search,-fowner")
"""Root, bound by the modes of files like anyone else."""


class Desk:
    """A teacher's folder: a chapter, an output folder, a store, a folder for what is temporary."""

    def __init__(self, place: Path) -> None:
        self.place = place
        self.out, self.store, self.temporary = (place / name for name in ("out", "store", "temporary"))
        self.temporary.mkdir()
        self.write(CHAPTER)

    @property
    def pdf(self) -> Path:
        return self.out / "steps.pdf"

    def write(self, chapter: str) -> None:
        (self.place / "steps.yaml").write_text(chapter)

    def start(self, *before: str, **environment: str) -> subprocess.Popen[str]:
        command = [*before, sys.executable, "-m", "typeset", "build", "steps.yaml", "--out", str(self.out)]
        told = {
            **os.environ,
            "PYTHONPATH": str(PROGRAM),
            "SHEDBOOK_STORE": str(self.store),
            "TMPDIR": str(self.temporary),
            **environment,
        }
        return subprocess.Popen(
            command, cwd=self.place, env=told, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
        )

    def build(self, *before: str, **environment: str) -> tuple[int, str, str]:
        """The status of a build, what it said, and what it complained of."""
        with self.start(*before, **environment) as process:
            said, complaint = process.communicate(timeout=120)
        return process.returncode, said, complaint


@pytest.fixture(scope="module")
def finished(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    """A desk with both versions in its store."""
    desk = Desk(tmp_path_factory.mktemp("finished"))
    desk.write(OTHER)
    assert desk.build()[0] == 0
    shutil.copy(desk.pdf, desk.place / "other.pdf")
    desk.write(CHAPTER)
    assert desk.build()[0] == 0
    return desk


@pytest.fixture
def desk(finished: Desk, tmp_path: Path) -> Desk:
    """A copy of the finished desk, to spoil."""
    shutil.copytree(finished.place, tmp_path / "desk", symlinks=True)
    copied = Desk.__new__(Desk)
    copied.place = tmp_path / "desk"
    copied.out, copied.store, copied.temporary = (copied.place / name for name in ("out", "store", "temporary"))
    return copied


@pytest.fixture
def mounted() -> Iterator[Callable[..., None]]:
    """Puts what is in a folder on a small disk of its own, which may be full or read-only."""
    disks: list[Path] = []

    def mount(folder: Path, kilobytes: int = 4096, *, full: bool = False, read_only: bool = False) -> None:
        content = folder.parent / f"{folder.name}-content"
        shutil.copytree(folder, content)
        asked = ["mount", "-t", "tmpfs", "-o", f"size={kilobytes}k", "tmpfs", str(folder)]
        if sys.platform != "linux" or subprocess.run(asked, capture_output=True).returncode:
            pytest.skip("mounting a small disk is for root on Linux")
        disks.append(folder)
        shutil.copytree(content, folder, dirs_exist_ok=True)
        if full:
            fill(folder)
        if read_only:
            subprocess.run(["mount", "-o", "remount,ro", str(folder)], check=True)

    yield mount
    for disk in disks:
        subprocess.run(["umount", "-l", str(disk)], check=True)


def fill(folder: Path) -> None:
    """Leave no byte on a disk."""
    with (folder / "letters").open("wb", buffering=0) as letters:
        for size in (65536, 1):
            try:
                while True:
                    letters.write(b"x" * size)
            except OSError:
                continue


def bound_by_modes() -> tuple[str, ...]:
    """What to run a build by so that the modes of files count."""
    if os.geteuid() != 0:
        return ()
    if not shutil.which("setpriv"):
        pytest.skip("root minds the modes of files only through setpriv")
    return WITHOUT_PRIVILEGES


def drafts_in(folder: Path) -> list[Path]:
    return list(folder.rglob(".shedbook-*"))


def test_on_a_full_disk_the_former_book_stays_whole(desk: Desk, mounted: Callable[..., None]) -> None:
    former = desk.pdf.read_bytes()
    mounted(desk.out, full=True)
    desk.write(OTHER)
    status, _, complaint = desk.build()
    assert status == 3
    assert f"cannot write {desk.pdf}: No space left on device; what was there before is as it was" in complaint
    assert desk.pdf.read_bytes() == former
    assert drafts_in(desk.out) == []


def test_on_a_read_only_disk_the_message_says_so(desk: Desk, mounted: Callable[..., None]) -> None:
    mounted(desk.out, read_only=True)
    desk.write(OTHER)
    status, _, complaint = desk.build()
    assert status == 3
    assert f"cannot write {desk.pdf}: Read-only file system" in complaint and "--out" in complaint


def test_in_a_folder_that_is_not_ours_to_write_the_message_says_so(desk: Desk) -> None:
    desk.out.chmod(0o555)
    status, _, complaint = desk.build(*bound_by_modes())
    assert (status, complaint.count("Permission denied")) == (3, 1)


@pytest.mark.parametrize("trouble", ["full", "read_only"])
def test_a_store_that_cannot_be_written_stops_no_build(
    desk: Desk, mounted: Callable[..., None], trouble: str
) -> None:
    shutil.rmtree(desk.store)
    desk.store.mkdir()
    mounted(desk.store, 64, **{trouble: True})
    status, said, complaint = desk.build()
    assert (
        status,
        complaint.count("\n"),
        complaint.count(f"warning: the store at {desk.store} cannot be written"),
    ) == (0, 1, 1)
    assert "systems engraved" in said and "SHEDBOOK_STORE" in complaint
    assert drafts_in(desk.store) == []


def test_without_room_for_the_engraver_no_exercise_is_blamed(desk: Desk, mounted: Callable[..., None]) -> None:
    shutil.rmtree(desk.store)
    mounted(desk.temporary, 48)
    status, _, complaint = desk.build()
    assert status == 3
    assert f"the engraver's files in {desk.temporary}" in complaint and "TMPDIR" in complaint


def test_a_store_of_somebody_else_stops_no_build(desk: Desk) -> None:
    by = bound_by_modes()
    if not by:
        pytest.skip("giving a folder to somebody else is for root")
    wanted = desk.pdf.read_bytes()
    desk.pdf.unlink()
    for path in (desk.store, *desk.store.rglob("*")):
        os.chown(path, 65534, 65534)
        path.chmod(0o700)
    status, _, complaint = desk.build(*by)
    assert (status, complaint.count("warning: the store at")) == (0, 1)
    assert desk.pdf.read_bytes() == wanted


def test_flipped_bits_are_engraved_again_and_mended(desk: Desk) -> None:
    wanted = desk.pdf.read_bytes()
    for number, one in enumerate(kept_in(desk.store)):
        content = bytearray(Path(one.path).read_bytes())
        content[number * 97 % len(content)] ^= 1 << number % 8
        Path(one.path).write_bytes(content)
    assert desk.build()[0] == 0
    assert desk.pdf.read_bytes() == wanted
    assert "; 0 systems engraved" in desk.build()[1]


def test_a_build_that_engraves_nothing_clears_what_a_killed_one_left_too(desk: Desk) -> None:
    for place in (desk.out, desk.temporary, desk.store / "blocks" / "00"):
        place.mkdir(exist_ok=True)
        (place / fresh_name()).mkdir()
        (place / fresh_name(".pdf")).write_bytes(b"half")
    shutil.rmtree(desk.store / "builds")
    assert "; 0 systems engraved" in desk.build()[1]
    assert drafts_in(desk.place) == []


def test_builds_at_once_into_the_same_place_do_not_disturb_each_other(desk: Desk) -> None:
    wanted = desk.pdf.read_bytes()
    shutil.rmtree(desk.store)
    builds = [desk.start() for _ in range(3)]
    for process in builds:
        _, complaint = process.communicate(timeout=120)
        assert (process.returncode, complaint) == (0, "")
    assert desk.pdf.read_bytes() == wanted
    assert drafts_in(desk.place) == []
    assert "; 0 systems engraved" in desk.build()[1]


@pytest.mark.parametrize("year", [1985, 2060])
def test_a_clock_that_was_wrong_changes_nothing(desk: Desk, year: int) -> None:
    wanted = desk.pdf.read_bytes()
    other = (desk.place / "other.pdf").read_bytes()
    then = (year - 1970) * 365.25 * 24 * 3600
    for path in desk.place.rglob("*"):
        os.utime(path, (then, then))
    assert "; 0 systems engraved" in desk.build()[1]
    assert desk.pdf.read_bytes() == wanted
    shutil.rmtree(desk.store / "builds")
    desk.write(OTHER)
    os.utime(desk.place / "steps.yaml", (then, then))
    assert "; 0 systems engraved" in desk.build(SHEDBOOK_STORE_LIMIT="0")[1]
    assert desk.pdf.read_bytes() == other
    assert max(one.used for one in kept_in(desk.store)) <= time.time()
