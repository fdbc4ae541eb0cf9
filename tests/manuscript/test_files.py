"""What can be wrong with a file before any YAML is read."""

import os
from pathlib import Path

import pytest

from typeset.manuscript import read
from typeset.text_file import LARGEST

PLAIN = b"chapter: C\nexercises:\n  - id: a\n    start: R L\n"


def said(tmp_path: Path, raw: bytes) -> list[str]:
    file = tmp_path / "chapter.yaml"
    file.write_bytes(raw)
    return [str(one).removeprefix(f"{file}:") for one in read(file).problems]


@pytest.mark.parametrize("raw", [PLAIN, b"\xef\xbb\xbf" + PLAIN, PLAIN.replace(b"\n", b"\r\n")])
def test_a_byte_order_mark_and_windows_line_ends_are_fine(tmp_path: Path, raw: bytes) -> None:
    assert said(tmp_path, raw) == []


def test_places_are_right_behind_windows_line_ends_and_a_byte_order_mark(tmp_path: Path) -> None:
    raw = b"\xef\xbb\xbf" + PLAIN.replace(b"\n", b"\r\n") + b"    tilte: x\r\n"
    assert said(tmp_path, raw) == ["5:5: there is no key 'tilte' here; did you mean 'title'?"]


def test_places_count_letters_and_not_bytes(tmp_path: Path) -> None:
    raw = "chapter: Über\nsequences: {größe: R, tür: R Q}\n".encode()
    assert said(tmp_path, raw)[-1].startswith("2:30: 'Q' is no stroke")


def test_text_that_is_not_utf_8_is_reported_at_its_first_wrong_byte(tmp_path: Path) -> None:
    assert said(tmp_path, "chapter: C\r\nintro: für".encode("latin-1")) == [
        "2:9: this is not UTF-8 (a byte 0xfc); save the file as UTF-8"
    ]


def test_utf_16_is_named(tmp_path: Path) -> None:
    assert said(tmp_path, "chapter: C".encode("utf-16")) == ["1:1: this file is UTF-16; save it as UTF-8"]


@pytest.mark.parametrize("letter", ["\x00", "\x07", "\x1b", "\x7f", "\x85", "\u2028", "\ufeff"])
def test_an_invisible_character_is_reported_where_it_stands(tmp_path: Path, letter: str) -> None:
    assert said(tmp_path, f"chapter: C\nintro: ab{letter}c\n".encode()) == [
        f"2:10: an invisible character (U+{ord(letter):04X}) stands here; delete it"
    ]


@pytest.mark.parametrize("raw", [b"", b"\n\n", b"# nothing yet\n", b"\xef\xbb\xbf"])
def test_an_empty_file_is_said_to_be_empty(tmp_path: Path, raw: bytes) -> None:
    assert said(tmp_path, raw) == ["1:1: this file is empty"]


def test_a_file_that_is_too_large_is_refused(tmp_path: Path) -> None:
    assert said(tmp_path, PLAIN + b"#" * LARGEST) == ["1:1: this file is larger than 2 MiB; divide it into several"]


def test_a_file_that_is_not_there_is_said_so(tmp_path: Path) -> None:
    (problem,) = read(tmp_path / "nothing.yaml").problems
    assert problem.what == f"there is no file '{tmp_path / 'nothing.yaml'}'"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes with names")
def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.yaml")
    (problem,) = read(tmp_path / "pipe.yaml").problems
    assert problem.what.endswith("is no ordinary file")
