"""Books in a folder of their own, and what the reader says about them."""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from typeset.manuscript import Reading, read

Said = Callable[[str], list[str]]


@pytest.fixture
def book(tmp_path: Path) -> Callable[[Mapping[str, str]], Reading]:
    """Writes files and reads them as a book."""

    def make(files: Mapping[str, str]) -> Reading:
        for name, text in files.items():
            (tmp_path / name).write_text(text, encoding="utf-8")
        return read(tmp_path)

    return make


@pytest.fixture
def chapter(tmp_path: Path) -> Callable[[str], Reading]:
    """Writes one chapter's file and reads it."""

    def make(text: str) -> Reading:
        file = tmp_path / "chapter.yaml"
        file.write_bytes(text.encode())
        return read(file)

    return make


@pytest.fixture
def said(chapter: Callable[[str], Reading]) -> Said:
    """What is said about a chapter, as LINE:COLUMN: what."""

    def say(text: str) -> list[str]:
        problems = chapter(text).problems
        return [f"{one.mark.line}:{one.mark.column}: {one.what}" for one in problems]

    return say


@pytest.fixture
def said_of_steps(said: Said) -> Said:
    """What is said about the steps of an otherwise sound exercise; the first stands on line 5."""

    def say(steps: str) -> list[str]:
        indented = "".join(f"      {line}\n" for line in steps.splitlines())
        return said(f"chapter: C\nexercises:\n  - {{id: a}}\n  - id: b\n    start: R L K\n    steps:\n{indented}")

    return say
