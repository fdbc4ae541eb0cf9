"""Files are saved, broken, mended, taken away: what is told of that, without a browser."""

from __future__ import annotations

import os
import threading
import time
from pathlib import Path

import pytest

from typeset.watching import following, telling
from typeset.watching.following import Follower
from typeset.watching.state import State

from .small import STAIRS, small_book


class Told:
    """What a follower tells, to be waited for."""

    def __init__(self, path: Path) -> None:
        self.states: list[State] = []
        self.came = threading.Condition()
        self.follower = Follower(path, self.tell, lambda done, total: None)
        self.follower.start()

    def tell(self, state: State) -> None:
        with self.came:
            self.states.append(state)
            self.came.notify_all()

    def after(self, count: int) -> State:
        """The newest state, once more than so many have been told."""
        with self.came:
            assert self.came.wait_for(lambda: len(self.states) > count, 60)
            return self.states[-1]


def problem_place(state: State, folder: Path) -> str:
    """The file of the first problem, as the page names it."""
    return telling.told(state, folder)["problems"][0]["file"]  # type: ignore[no-any-return]


@pytest.fixture
def told(tmp_path: Path, request: pytest.FixtureRequest) -> Told:
    told = Told(small_book(tmp_path / "stairs"))
    request.addfinalizer(told.follower.stop)
    told.after(0)
    return told


def test_only_the_pages_of_what_was_changed_are_others(told: Told, tmp_path: Path) -> None:
    before = told.states[-1].good
    file = tmp_path / "stairs" / "01-stairs.yaml"
    file.write_text(STAIRS.replace("- accent: [2]", "- accent: [4]"))
    after = told.after(1).good
    assert before and after
    changed = [
        n for n, keys in enumerate(zip(before.pages.keys, after.pages.keys, strict=True)) if len(set(keys)) > 1
    ]
    assert changed == [head.page for head in after.pages.heads if head.exercise == "groove"]
    kept = [engraving for engraving in after.pages.blocks if engraving in before.pages.blocks]
    assert len(kept) == len(after.pages.blocks) - 1
    assert all(after.pages.blocks[engraving] is before.pages.blocks[engraving] for engraving in kept)


def test_a_broken_file_leaves_the_last_good_pages_and_a_mended_one_brings_new_ones(
    told: Told, tmp_path: Path
) -> None:
    good = told.states[-1].good
    file = tmp_path / "stairs" / "01-stairs.yaml"
    file.write_text(STAIRS.replace("- accent: [2]", "- accent: [9]"))
    broken = told.after(1)
    assert broken.is_earlier and broken.good is good
    assert [(problem.mark.file.name, problem.mark.line) for problem in broken.problems] == [("01-stairs.yaml", 12)]
    assert [line.strip() for line in broken.lines.values()] == ["- accent: [9]"]
    file.write_text(STAIRS)
    mended = told.after(2)
    assert not mended.is_earlier and not mended.problems and mended.good is not good


def test_a_chapter_that_could_not_be_read_is_followed_where_it_stands(told: Told, tmp_path: Path) -> None:
    about, part = tmp_path / "stairs" / "book.yaml", tmp_path / "stairs" / "parts" / "02.yaml"
    about.write_text(about.read_text().replace("chapters: [", "chapters: [parts/02.yaml, "))
    assert "no file '02.yaml'" in told.after(1).problems[0].what
    part.parent.mkdir()
    part.write_text("chapter: Mended\nexercises: [{id: mended, start: R L}]\n")
    assert told.after(2).problems == ()


def test_a_style_in_a_folder_of_its_own_is_followed_and_so_is_the_one_under_it(told: Told, tmp_path: Path) -> None:
    about, looks = tmp_path / "stairs" / "book.yaml", tmp_path / "stairs" / "looks"
    about.write_text(f"{about.read_text()}style: looks/mine\n")
    assert "there is no style 'looks/mine'" in told.after(1).problems[0].what
    looks.mkdir()
    (looks / "mine.yaml").write_text("based-on: under\n")
    assert "there is no style 'under'" in told.after(2).problems[0].what
    (looks / "under.yaml").write_text("based-on: a4-workbook\n")
    good = told.after(3).good
    (looks / "under.yaml").write_text("based-on: a4-workbook\npaper: letter\n")
    other = told.after(4).good
    assert good and other and other.pages.width != good.pages.width


def test_a_book_that_goes_away_and_comes_back_is_followed(told: Told, tmp_path: Path) -> None:
    book = tmp_path / "stairs" / "book.yaml"
    text = book.read_text()
    book.unlink()
    assert "no book.yaml" in told.after(1).problems[0].what
    book.write_text(text)
    assert not told.after(2).is_earlier


def test_a_folder_that_gets_another_name_and_its_own_again_is_followed(told: Told, tmp_path: Path) -> None:
    book, other = tmp_path / "stairs", tmp_path / "ladders"
    book.rename(other)
    state = told.after(1)
    (problem,) = state.problems
    assert state.is_earlier and problem.what.startswith("this is not here any more; bring it back under this name")
    assert problem_place(state, book) == str(book)
    other.rename(book)
    assert not told.after(2).is_earlier


def test_a_file_that_is_saved_by_way_of_another_is_seen(told: Told, tmp_path: Path) -> None:
    file = tmp_path / "stairs" / "01-stairs.yaml"
    about = file.stat()
    draft = file.with_suffix(".draft")
    draft.write_text(STAIRS.replace("On one surface", "On 1 surface!!"))
    os.utime(draft, ns=(about.st_atime_ns, about.st_mtime_ns))
    draft.replace(file)
    state = told.after(1)
    assert state.good and state.good.book.exercises[0].title == "On 1 surface!!"


def test_a_file_that_is_written_piece_by_piece_is_read_once_it_is_whole(
    told: Told, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(following, "SETTLED", 0.3)
    file = tmp_path / "stairs" / "01-stairs.yaml"
    text = STAIRS.replace("As a groove", "As a groove, again")
    with file.open("w") as opened:
        for start in range(0, len(text), 80):
            opened.write(text[start : start + 80])
            opened.flush()
            time.sleep(0.02)
    state = told.after(1)
    assert not state.problems and state.good
    assert state.good.book.exercises[1].title == "As a groove, again"
    assert len(told.states) == 2


def test_what_is_overtaken_by_another_save_is_never_told(
    told: Told, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "stairs" / "01-stairs.yaml"
    usual, once = told.follower._desk._blocks, threading.Event()

    def overtaken(*given: object) -> object:
        if not once.is_set():
            once.set()
            file.write_text(STAIRS.replace("As a groove", "The last word"))
        return usual(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(told.follower._desk, "_blocks", overtaken)
    file.write_text(STAIRS.replace("As a groove", "A first thought"))
    state = told.after(1)
    assert once.is_set() and len(told.states) == 2
    assert state.good and state.good.book.exercises[1].title == "The last word"


def test_a_mistake_of_ours_is_told_and_the_book_is_followed_on(
    told: Told, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "stairs" / "01-stairs.yaml"

    def wrong(*given: object) -> object:
        raise ZeroDivisionError("of us")

    with monkeypatch.context() as broken:
        broken.setattr(told.follower._desk, "_blocks", wrong)
        file.write_text(STAIRS + "\n")
        state = told.after(1)
    assert state.is_earlier and "ZeroDivisionError: of us" in state.trouble
    file.write_text(STAIRS)
    assert not told.after(2).trouble
