"""A curriculum through all stages, and on the command line."""

import os
import subprocess
import sys
from pathlib import Path

import pdfplumber
import pytest

from typeset.curricula import check_curriculum, is_curriculum, make_curriculum
from typeset.problem import BookError, Weight

CHAPTER = """\
chapter: First steps
sequences: {stairs: R L R K L}
set: {tempo: 60-100}
exercises:
  - id: plain
    title: On one surface
    start: stairs
  - id: groove
    title: As a groove
    start: plain
    steps:
      - voice: {R: hi-hat, L: snare, K: kick}
"""
CURRICULUM = """\
title: A Short Year
author: Lantern Yard Studio
date: 2026-09-01
books: [rooms.yaml]
leave-out: [cross-stick, rim-shot, open-hi-hat, hi-hat-foot, ride, ride-bell, crash, splash, china]
terms:
  - term: Autumn
    weeks: 4
    minutes: 12
    chapters: [rooms]
"""


@pytest.fixture
def curriculum(tmp_path: Path) -> Path:
    (tmp_path / "rooms.yaml").write_text(CHAPTER)
    file = tmp_path / "year.yaml"
    file.write_text(CURRICULUM)
    return file


def shedbook(*words: str | Path) -> subprocess.CompletedProcess[str]:
    env = {**os.environ, "PYTHONPATH": str(Path(__file__).parent.parent)}
    command = [sys.executable, "-m", "typeset", *map(str, words)]
    return subprocess.run(command, capture_output=True, text=True, env=env, timeout=120, check=False)


def test_a_file_with_terms_is_a_curriculum_and_so_is_a_folder_with_one_but_without_a_book(curriculum: Path) -> None:
    folder = curriculum.parent
    assert is_curriculum(curriculum)
    assert not is_curriculum(folder / "rooms.yaml") and not is_curriculum(folder)
    curriculum.rename(folder / "curriculum.yaml")
    assert is_curriculum(folder)
    (folder / "book.yaml").write_text("title: B\nchapters: [rooms.yaml]\n")
    assert not is_curriculum(folder)


def test_a_map_and_a_plan_for_each_term_are_bound_under_the_file_s_name(curriculum: Path) -> None:
    built = make_curriculum(curriculum)
    assert (built.name, built.pages, built.exercises, built.engraved, built.stored) == ("year", 2, 2, 0, 0)
    (curriculum.parent / "year.pdf").write_bytes(built.pdf)
    with pdfplumber.open(curriculum.parent / "year.pdf") as pdf:
        first, second = (page.extract_text() for page in pdf.pages)
        assert pdf.metadata["Title"] == "A Short Year"
    assert "1.1" in first and "1.2" in first and "Autumn" in first
    assert "1.1 On one surface 12 min 60–" in second


def test_the_same_curriculum_gives_the_same_bytes(curriculum: Path) -> None:
    assert make_curriculum(curriculum).pdf == make_curriculum(curriculum).pdf


def test_errors_of_a_book_stop_it_and_warnings_of_a_book_are_left_to_that_book(curriculum: Path) -> None:
    rooms = curriculum.parent / "rooms.yaml"
    rooms.write_text(CHAPTER.replace("60-100", "390-400"))
    told = check_curriculum(curriculum).problems
    assert [one.mark.file for one in told] == [curriculum]  # sounds that no one plays; no goal above its ceiling
    rooms.write_text(CHAPTER.replace("start: stairs", "start: stars"))
    checked = check_curriculum(curriculum)
    assert checked.curriculum is None
    assert [(one.mark.file, one.mark.line, one.weight) for one in checked.problems] == [(rooms, 7, Weight.ERROR)]
    with pytest.raises(BookError):
        make_curriculum(curriculum)


def test_its_style_is_looked_for_beside_it(curriculum: Path) -> None:
    (curriculum.parent / "mine.yaml").write_text("based-on: a4-workbook\n")
    curriculum.write_text(CURRICULUM.replace("books:", "style: mine\nbooks:"))
    assert make_curriculum(curriculum).pages == 2
    curriculum.write_text(CURRICULUM.replace("books:", "style: min\nbooks:"))
    (problem,) = check_curriculum(curriculum).problems
    assert str(problem).startswith(f"{curriculum}:4:8: there is no style 'min'")


def test_check_tells_warnings_and_lists_the_chapters_in_their_terms(curriculum: Path) -> None:
    done = shedbook("check", curriculum)
    assert done.returncode == 0
    assert f"{curriculum}:5:12: warning: no exercise plays high-tom, mid-tom, floor-tom, cowbell" in done.stderr
    head, row = done.stdout.splitlines()
    assert head.split() == ["term", "weeks", "book", "chapter", "exercises", "levels"]
    assert row.split()[:2] == ["Autumn", "1-3"] and "1 First steps" in row


def test_build_writes_its_pdf_and_has_no_editions_to_offer(curriculum: Path) -> None:
    out = curriculum.parent / "out"
    done = shedbook("build", curriculum, "--out", out)
    assert done.stdout == f"{out / 'year.pdf'}: 2 pages, 2 exercises\n"
    assert (out / "year.pdf").read_bytes().startswith(b"%PDF-")
    assert shedbook("build", curriculum, "--edition", "teacher").returncode == 2


def test_what_works_on_a_book_says_so(curriculum: Path) -> None:
    done = shedbook("list", curriculum)
    assert done.returncode == 2
    assert "is a curriculum; give one of its books" in done.stderr


def test_characters_that_no_typeface_has_are_told_where_they_stand(curriculum: Path) -> None:
    curriculum.write_text(CURRICULUM.replace("title: A Short Year", "title: A Short Year 🥁"), encoding="utf-8")
    (problem,) = check_curriculum(curriculum).problems
    assert (problem.mark.file, problem.mark.line) == (curriculum, 1)
