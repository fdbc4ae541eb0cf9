"""`shedbook store` tells what is kept and clears it."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from typeset.cli import app
from typeset.kept import LIMIT_VARIABLE, Shelf
from typeset.shipped import STORE_VARIABLE


@pytest.fixture(autouse=True)
def store(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv(STORE_VARIABLE, str(tmp_path))
    monkeypatch.setenv(LIMIT_VARIABLE, "30")
    Shelf.under(tmp_path, "block").put("ab" * 32, bytes(2_000_000))
    Shelf.under(tmp_path, "chapter").put("bc" * 32, bytes(400_000))
    Shelf.under(tmp_path, "build").put("cd" * 32, bytes(300_000))
    return tmp_path


def test_it_tells_the_folder_what_is_in_it_and_the_limit(store: Path) -> None:
    said = CliRunner().invoke(app, ["store"]).output
    rows = [line.split(maxsplit=1) for line in said.splitlines()]
    assert rows[0][1].startswith(str(store))
    assert [value for name, value in rows if name in ("systems", "chapters", "books")] == [
        "1 system, 2.0 MB",
        "1 drawn chapter, 0.4 MB",
        "1 finished build, 0.3 MB",
    ]
    assert "30 MB" in said and "last used" in said


def test_it_clears_everything_away(store: Path) -> None:
    assert "3 files, 2.7 MB removed" in CliRunner().invoke(app, ["store", "--clear"]).output
    assert "0 systems" in CliRunner().invoke(app, ["store"]).output
