"""Ctrl-C is answered with one line and one status, also while the command is only being imported."""

from __future__ import annotations

import io
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from typeset.__main__ import main
from typeset.stopping import ended

# Stands for a library that is interrupted while it is imported, and takes the interrupt for itself.
INTERRUPTED = """\
import os, signal
try:
    os.kill(os.getpid(), signal.SIGINT)
except BaseException:
    pass
"""


@pytest.fixture
def as_before() -> Iterator[None]:
    """Whatever a command does with Ctrl-C, the tests hear it afterwards."""
    before = signal.getsignal(signal.SIGINT)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.mark.skipif(sys.platform == "win32", reason="there is no kill for a signal alone")
@pytest.mark.parametrize("words", [["build", "book"], ["--help"]])
def test_a_command_that_is_interrupted_in_its_imports_says_so_in_one_line(tmp_path: Path, words: list[str]) -> None:
    (tmp_path / "typer.py").write_text(INTERRUPTED)
    path = os.pathsep.join([str(tmp_path), str(Path(__file__).parents[1])])
    done = subprocess.run(
        [sys.executable, "-m", "typeset", *words],
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONPATH": path},
        check=False,
    )
    assert done.returncode == 130
    assert (done.stdout, done.stderr) == ("", "shedbook: stopped; what was built before is as it was\n")


@pytest.mark.parametrize("heard", [signal.SIG_IGN, signal.default_int_handler])
def test_a_command_hears_ctrl_c_where_it_was_heard_before(
    monkeypatch: pytest.MonkeyPatch, as_before: None, heard: signal.Handlers
) -> None:
    found: list[object] = []
    monkeypatch.setattr("typeset.cli.main", lambda: found.append(signal.getsignal(signal.SIGINT)))
    signal.signal(signal.SIGINT, heard)
    main()
    assert found == [heard]


class Full(io.StringIO):
    """What cannot be written to."""

    def __init__(self, error: OSError) -> None:
        super().__init__()
        self.error = error

    def flush(self) -> None:
        raise self.error


@pytest.fixture
def left_with(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """The statuses that a command ends with."""
    found: list[int] = []
    monkeypatch.setattr("os._exit", found.append)
    return found


def test_a_command_ends_with_its_status_once_everything_is_said(
    left_with: list[int], capsys: pytest.CaptureFixture[str]
) -> None:
    ended(1)
    assert left_with == [1]
    assert capsys.readouterr() == ("", "")


@pytest.mark.parametrize(
    ("error", "told"),
    [
        (
            OSError(28, "No space left on device"),
            "shedbook: what was to be said cannot be written: No space left on device\n",
        ),
        (BrokenPipeError(32, "Broken pipe"), ""),
    ],
)
def test_what_cannot_be_said_has_status_three(
    left_with: list[int],
    monkeypatch: pytest.MonkeyPatch,
    capfd: pytest.CaptureFixture[str],
    error: OSError,
    told: str,
) -> None:
    monkeypatch.setattr("sys.stdout", Full(error))
    ended(0)
    assert left_with == [3]
    assert capfd.readouterr().err == told
