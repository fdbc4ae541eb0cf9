"""What is installed is told as `importlib.metadata` tells it, which takes longer."""

from __future__ import annotations

from collections.abc import Iterator
from importlib import metadata
from pathlib import Path

import pytest

from typeset import installed, record


@pytest.fixture(autouse=True)
def _asked_anew() -> Iterator[None]:
    installed._beside_the_libraries.cache_clear()
    yield
    installed._beside_the_libraries.cache_clear()


@pytest.mark.parametrize("library", record._LIBRARIES)
def test_versions_are_those_of_the_standard_library(library: str) -> None:
    assert installed.version(library) == metadata.version(library)


@pytest.mark.parametrize("folder", ["Small_Drum.Kit-1.2.dist-info", "small_drum_kit-1.2.dist-info"])
def test_a_name_is_found_however_it_is_spelt(folder: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / folder).mkdir()
    monkeypatch.syspath_prepend(tmp_path)
    assert installed.version("small-drum-kit") == "1.2"


def test_the_first_on_the_path_is_meant(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for number in ("1.0", "2.0"):
        (tmp_path / number / f"small_kit-{number}.dist-info").mkdir(parents=True)
        monkeypatch.syspath_prepend(tmp_path / number)
    assert installed.version("small-kit") == "2.0"


def test_what_was_installed_in_another_way_is_found_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    facts = tmp_path / "small_kit.egg-info"
    facts.mkdir()
    (facts / "PKG-INFO").write_text("Metadata-Version: 2.1\nName: small-kit\nVersion: 3.1\n")
    monkeypatch.syspath_prepend(tmp_path)
    assert installed.version("small-kit") == "3.1"


def test_what_is_not_installed_has_no_version() -> None:
    assert installed.version("no-such-kit-of-drums") is None
