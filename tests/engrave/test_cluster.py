"""Engraving on a real Dask cluster: a scheduler and two workers, each a process of its own, on loopback."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from typer.testing import CliRunner

from tests.notation.made import bar, system
from typeset import pipeline
from typeset.built import Run
from typeset.cli import app
from typeset.engrave import workers
from typeset.engrave.cluster import Cluster
from typeset.pdf.forms import finish
from typeset.problem import OutsideError
from typeset.shipped import STORE_VARIABLE
from typeset.style.music import Staff

CHAPTER = """\
chapter: Families
sequences: {stairs: R L R K L}
exercises:
  - series: turns
    start: stairs
    each: {rotate: all}
"""


def free_port() -> int:
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        port: int = asked.getsockname()[1]
        return port


class TwoWorkers:
    """A scheduler and two workers."""

    def __init__(self, folder: Path) -> None:
        self.address = f"tcp://127.0.0.1:{free_port()}"
        self._folder = folder
        port = self.address.rsplit(":", 1)[1]
        self._all = [self._started("dask_scheduler", "--host", "127.0.0.1", "--port", port, "--no-dashboard")]
        self.workers = [
            self._started("dask_worker", self.address, "--no-nanny", "--nthreads", "1", "--no-dashboard")
            for _ in range(2)
        ]
        self._all += self.workers

    def _started(self, program: str, *words: str) -> subprocess.Popen[bytes]:
        command = [sys.executable, "-m", f"distributed.cli.{program}", *words]
        environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])}
        return subprocess.Popen(
            command, cwd=self._folder, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )

    def wait(self) -> None:
        from distributed import Client

        with Client(self.address, timeout=60, set_as_default=False) as client:
            client.wait_for_workers(2, timeout=60)

    def end(self) -> None:
        for process in self._all:
            process.kill()
            process.wait()


@pytest.fixture
def cluster(tmp_path: Path) -> Iterator[TwoWorkers]:
    started = TwoWorkers(tmp_path)
    try:
        started.wait()
        yield started
    finally:
        started.end()


def test_a_book_is_the_same_byte_for_byte_though_a_worker_is_killed_half_way(
    cluster: TwoWorkers, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    chapter = tmp_path / "families.yaml"
    chapter.write_text(CHAPTER)
    monkeypatch.setattr(workers, "_LARGEST", 3)
    monkeypatch.setattr(workers, "_SMALLEST", 1)
    monkeypatch.setenv(STORE_VARIABLE, str(tmp_path / "local"))
    (here,) = pipeline.make(chapter, None, Run(jobs=2))
    seen: list[int] = []

    def kill_one(done: int, total: int) -> None:
        seen.append(done)
        if done >= 2 and cluster.workers[0].poll() is None:
            os.kill(cluster.workers[0].pid, signal.SIGKILL)

    monkeypatch.setenv(STORE_VARIABLE, str(tmp_path / "remote"))
    (there,) = pipeline.make(chapter, None, Run(cluster=cluster.address, progress=kill_one))
    assert cluster.workers[0].wait(5) == -signal.SIGKILL
    assert there.engraved == here.engraved == seen[-1] > 4
    assert there.pdf == here.pdf
    (again,) = pipeline.make(chapter, None, Run(cluster="tcp://127.0.0.1:1"))
    assert (again.engraved, again.stored) == (0, here.engraved)


def test_where_there_is_no_cluster_the_message_comes_within_seconds(tmp_path: Path) -> None:
    address = f"tcp://127.0.0.1:{free_port()}"
    began = time.monotonic()
    with pytest.raises(OutsideError, match=f"there is no Dask cluster at {address}"):
        list(Cluster(address).engrave([system(bar("4/4", "8ths", "k"))], Staff(), finish))
    assert time.monotonic() - began < 15


@pytest.mark.parametrize("address", ["nonsense", "tcp://", "http://127.0.0.1:1", "tcp://no such host:1", ""])
def test_an_address_that_is_none_is_told(address: str) -> None:
    with pytest.raises(OutsideError, match="there is no Dask cluster at"):
        list(Cluster(address).engrave([system(bar("4/4", "8ths", "k"))], Staff(), finish))


def test_without_the_extra_the_message_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(OutsideError, match=r"pip install 'shedbook\[cluster\]'"):
        list(Cluster("tcp://127.0.0.1:1").engrave([system(bar("4/4", "8ths", "k"))], Staff(), finish))


@pytest.mark.parametrize("words", [("build",), ("sheet", "--roster", "students.csv", "--out", "sheets")])
def test_builds_and_rosters_are_engraved_there(
    words: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv(STORE_VARIABLE, str(tmp_path / "store"))
    Path("families.yaml").write_text(CHAPTER)
    Path("students.csv").write_text("name,exercises\nMira,1.1\n")
    done = CliRunner().invoke(app, [words[0], "families.yaml", *words[1:], "--cluster", "nowhere"])
    assert isinstance(done.exception, OutsideError) and "no Dask cluster at nowhere" in str(done.exception)
