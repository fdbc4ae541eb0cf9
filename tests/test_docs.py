"""The pages of docs/: what they teach by builds, what they refer to is there, what is generated is up to date."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

from typeset import pipeline
from typeset.built import Run

ROOT = Path(__file__).parents[1]
DOCS = ROOT / "docs"
sys.path.insert(0, str(DOCS))

from lessons import Lesson, lessons  # noqa: E402
from make_reference import pages  # noqa: E402

PAGES = sorted((*DOCS.glob("*.md"), ROOT / "README.md", ROOT / "DEVELOPERS.md"))


@pytest.mark.parametrize("lesson", list(lessons()), ids=lambda lesson: lesson.name)
def test_what_a_page_teaches_by_has_no_problem(lesson: Lesson, tmp_path: Path) -> None:
    checked = pipeline.check(lesson.written_to(tmp_path))
    assert checked.problems == ()


def test_the_first_lesson_builds(tmp_path: Path) -> None:
    (first,) = (lesson for lesson in lessons() if lesson.name == "first-chapter")
    (built,) = pipeline.make(first.written_to(tmp_path), None, Run())
    assert built.exercises == 2


def test_there_are_lessons_for_the_tasks_of_a_teacher() -> None:
    assert {lesson.name for lesson in lessons()} >= {"first-chapter", "groove-to-fill", "families", "editions"}


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_what_a_page_leads_to_is_there(page: Path) -> None:
    text = re.sub(r"```.*?```", "", page.read_text(encoding="utf-8"), flags=re.DOTALL)
    addresses = re.findall(r"\]\(([^)#:]+?)(?:#[^)]*)?\)", text)
    assert [one for one in addresses if not (page.parent / one).exists() and "address" not in one] == []


def test_every_page_is_named_where_one_looks_for_it() -> None:
    index = (DOCS / "README.md").read_text(encoding="utf-8")
    assert [
        page.name for page in DOCS.glob("*.md") if page.name != "README.md" and f"({page.name})" not in index
    ] == []


@pytest.mark.parametrize("name", list(pages()))
def test_what_is_generated_is_up_to_date(name: str) -> None:
    assert (DOCS / name).read_text(encoding="utf-8") == pages()[name], "run make docs"
