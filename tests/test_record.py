"""A build is found again only where nothing has changed of what it was made of."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from typeset import record
from typeset.built import Built
from typeset.kept import Shelf
from typeset.record import Records, key_of

CHAPTER = "chapter: One\nexercises: []\n"


@pytest.mark.parametrize(
    "chapters",
    [
        "chapters: [parts/01.yaml]",
        "chapters:\n  - parts/01.yaml   # the first",
        "chapters: ['parts/01.yaml']",
        'chapters: "parts/01.yaml"',
        "chapters: parts/01.yaml",
    ],
)
def test_a_chapter_in_a_folder_of_its_own_counts(tmp_path: Path, chapters: str) -> None:
    (tmp_path / "book.yaml").write_text(f"title: Parts\n{chapters}\n")
    (tmp_path / "parts").mkdir()
    chapter = tmp_path / "parts" / "01.yaml"
    chapter.write_text(CHAPTER)
    before = key_of(tmp_path), key_of(tmp_path / "book.yaml")
    chapter.write_text(CHAPTER + "\n")
    after = key_of(tmp_path), key_of(tmp_path / "book.yaml")
    assert before[0] != after[0] and before[1] != after[1]


@pytest.mark.parametrize("name", ["01.yml", "the first chapter.yaml", "ünter/der treppe.yaml"])
def test_a_chapter_counts_whatever_it_is_called(tmp_path: Path, name: str) -> None:
    (tmp_path / "book.yaml").write_text(f"title: Parts\nchapters:\n  - {name}\n", encoding="utf-8")
    chapter = tmp_path / name
    chapter.parent.mkdir(exist_ok=True)
    chapter.write_text(CHAPTER)
    before = key_of(tmp_path)
    chapter.write_text(CHAPTER + "\n")
    assert key_of(tmp_path) != before


def test_what_no_book_names_and_what_lies_outside_does_not_count(tmp_path: Path) -> None:
    book, outside = tmp_path / "book", tmp_path / "outside.yaml"
    book.mkdir()
    (book / "book.yaml").write_text("title: x\nchapters: [../outside.yaml, \x00, no/such/file.yaml]\n")
    outside.write_text(CHAPTER)
    before = key_of(book)
    outside.write_text(CHAPTER + "\n")
    (book / "drafts").mkdir()
    (book / "drafts" / "01.yaml").write_text(CHAPTER)
    assert key_of(book) == before


@pytest.mark.parametrize("library", ["uharfbuzz", "pyphen", "font-lato", "reportlab"])
def test_another_version_of_what_sets_a_page_counts(
    tmp_path: Path, library: str, monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest
) -> None:
    (tmp_path / "book.yaml").write_text("title: x\nchapters: [one.yaml]\n")
    request.addfinalizer(record.program.cache_clear)
    before, version = key_of(tmp_path), record.version
    record.program.cache_clear()
    monkeypatch.setattr(record, "version", lambda name: "99" if name == library else version(name))
    assert key_of(tmp_path) != before


def test_another_engraver_counts(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest
) -> None:
    (tmp_path / "book.yaml").write_text("title: x\nchapters: [one.yaml]\n")
    request.addfinalizer(record.program.cache_clear)
    before = key_of(tmp_path)
    record.program.cache_clear()
    monkeypatch.setattr(record, "engraver_version", lambda: "99")
    assert key_of(tmp_path) != before


def test_every_file_that_travels_with_the_program_counts_whatever_its_size_and_date(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest
) -> None:
    (tmp_path / "book.yaml").write_text("title: x\nchapters: [one.yaml]\n")
    kit = tmp_path / "shelf" / "kits" / "small.yaml"
    kit.parent.mkdir(parents=True)
    kit.write_text("crossing: 1\n")
    monkeypatch.setattr(record, "shelf", lambda _: tmp_path / "shelf")
    request.addfinalizer(record.program.cache_clear)
    record.program.cache_clear()
    before, dated = key_of(tmp_path), kit.stat()
    kit.write_text("crossing: 2\n")
    os.utime(kit, ns=(dated.st_atime_ns, dated.st_mtime_ns))
    record.program.cache_clear()
    assert key_of(tmp_path) != before


BUILT = Built(name="a", pdf=b"%PDF", pages=1, exercises=1, engraved=1, stored=0, warnings=())


@pytest.mark.parametrize("body", [b"", b"no build", b"[]\n", b"{}\n", b'[{"size": 1}]\n%', b"[1]\n"])
def test_what_is_whole_and_no_build_is_not_found(tmp_path: Path, body: bytes) -> None:
    records = Records(tmp_path)
    records.put("ab" * 32, [BUILT])
    assert [one.pdf for one in records.get("ab" * 32) or ()] == [BUILT.pdf]
    Shelf(tmp_path, "build").put("ab" * 32, body)
    assert records.get("ab" * 32) is None


def test_a_build_that_is_cut_off_is_not_found(tmp_path: Path) -> None:
    records = Records(tmp_path)
    records.put("ab" * 32, [BUILT, BUILT])
    body = Shelf(tmp_path, "build").get("ab" * 32) or b""
    Shelf(tmp_path, "build").put("ab" * 32, body[:-1])
    assert records.get("ab" * 32) is None
    Shelf(tmp_path, "build").put("ab" * 32, b"\xff")
    assert records.text("ab" * 32) is None
