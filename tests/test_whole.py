from __future__ import annotations

from pathlib import Path

import pytest

from typeset.whole import put_whole


def test_a_file_takes_the_place_of_the_former_one(tmp_path: Path) -> None:
    file = tmp_path / "new" / "book.pdf"
    put_whole(file, b"first")
    put_whole(file, b"second", lasts=True)
    assert file.read_bytes() == b"second"
    assert list(file.parent.iterdir()) == [file]


def test_where_it_cannot_be_moved_there_nothing_is_left_beside_it(tmp_path: Path) -> None:
    folder = tmp_path / "book.pdf"
    folder.mkdir()
    (folder / "in-the-way").write_text("")
    with pytest.raises(OSError):
        put_whole(folder, b"content")
    assert list(tmp_path.iterdir()) == [folder]
