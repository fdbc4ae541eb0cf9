"""Every file that a book may be read from is told beforehand, whoever asks."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from typeset.book_files import files_of, places_of, styles_under
from typeset.manuscript import read
from typeset.pipeline import check
from typeset.problem import BookError
from typeset.style import load_style

CHAPTER = "chapter: One\nexercises: [{id: a, start: R L}]\n"
BOOK = "title: x\nfront: []\nback: []\nchapters: [one.yaml]\n"

# What a file's name may be made of, with much that means something to YAML.
NAMES = st.text(st.sampled_from("aé ,-#'\"[]{}&*!?|>%@`~=./"), min_size=1, max_size=30).map(
    lambda name: f"a{name}b.yaml"
)


def written(folder: Path, **files: str) -> Path:
    """A book with one chapter in a folder, and further files; `__` in a name parts folders, and `.yaml` is added."""
    for name, text in {"book": BOOK, "one": CHAPTER, **files}.items():
        file = folder / f"{name.replace('__', '/')}.yaml"
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
    return folder


def told(folder: Path) -> set[str]:
    return {file.relative_to(folder).as_posix() for file in files_of(folder)}


def test_whatever_stands_beside_the_book_is_told(tmp_path: Path) -> None:
    written(tmp_path, kits__cellar="", sequences__own="", players="", house="", drafts__old="")
    (tmp_path / "second.yml").write_text(CHAPTER)
    (tmp_path / "read me.txt").write_text("no file of a book")
    assert told(tmp_path) == {
        "book.yaml",
        "one.yaml",
        "second.yml",
        "house.yaml",
        "players.yaml",
        "kits/cellar.yaml",
        "sequences/own.yaml",
    }
    assert set(files_of(tmp_path)) == set(files_of(tmp_path / "book.yaml"))


@pytest.mark.parametrize(
    "chapters",
    [
        "chapters: [parts/01.yaml, the second part.txt]",
        "chapters:\n  - parts/01.yaml   # the first\n  - the second part.txt  # the second",
        "chapters:\n- 'parts/01.yaml'\n- 'the second part.txt'",
        'chapters: ["parts\\/01.yaml", "the second\\x20part.txt"]',
        "chapters:\n  - &first parts/01.yaml\n  - the second\n    part.txt",
        "chapters:\n  - >-\n    parts/01.yaml\n  - >-\n    the second\n    part.txt",
        "title: &first parts/01.yaml\nsubtitle: &second the second part.txt\nchapters: [*first, *second]",
        '"ch\\x61p\\u0074ers": [parts/01.yaml, the second part.txt]',
        "{title: It's here, chapters: [parts/01.yaml, the second part.txt]}",
        "intro: It's new, and \"old\n\n\nchapters:\r\n  - parts/01.yaml\r\n  - the second part.txt\r\n",
    ],
)
def test_a_chapter_is_told_wherever_it_stands_and_however_it_is_written(tmp_path: Path, chapters: str) -> None:
    written(tmp_path, book=chapters, parts__01=CHAPTER)
    (tmp_path / "the second part.txt").write_text(CHAPTER)
    assert {"parts/01.yaml", "the second part.txt"} <= told(tmp_path)


@given(
    names=st.lists(NAMES, min_size=1, max_size=4),
    flow=st.sampled_from([None, True, False]),
    width=st.sampled_from([8, 80]),
    style=st.sampled_from([None, "'", '"', "|", ">"]),
    unicode=st.booleans(),
)
def test_no_name_escapes(
    tmp_path_factory: pytest.TempPathFactory,
    names: list[str],
    flow: bool | None,
    width: int,
    style: str | None,
    unicode: bool,
) -> None:
    folder = tmp_path_factory.mktemp("book")
    text = yaml.dump(
        {"title": "It's", "chapters": names},
        default_flow_style=flow,
        width=width,
        default_style=style,
        allow_unicode=unicode,
    )
    (folder / "book.yaml").write_text(text, encoding="utf-8")
    assert set(read(folder).files) <= set(places_of(folder))


def test_a_style_is_told_with_those_that_it_is_based_on(tmp_path: Path) -> None:
    written(
        tmp_path,
        book=f"{BOOK}style: looks/mine\neditions: {{large: {{style: house.yaml}}}}\n",
        house="based-on: looks/large\n",
        looks__mine="based-on: 'under.yaml'\n",
        looks__under="based-on: a4-workbook\n",
        looks__large="paper: a4\nbased-on: letter-workbook\n",
        looks__other="",
    )
    assert check(tmp_path).sound_book()
    assert {"looks/mine.yaml", "looks/under.yaml", "looks/large.yaml"} <= told(tmp_path)
    assert "looks/other.yaml" not in told(tmp_path)


def test_a_style_is_told_that_is_named_elsewhere_or_in_numbers(tmp_path: Path) -> None:
    book = f"{BOOK}style: *mine\n".replace("title: x", "title: &mine looks/mine")
    written(tmp_path, book=book, looks__mine='"b\\x61sed-on": under\n', looks__under="based-on: a4-workbook\n")
    assert check(tmp_path).sound_book()
    assert {"looks/mine.yaml", "looks/under.yaml"} <= told(tmp_path)


def test_styles_that_are_based_on_each_other_come_to_an_end(tmp_path: Path) -> None:
    written(tmp_path, house="based-on: home\n", home="based-on: house\n")
    assert {file.name for file in styles_under(tmp_path / "house.yaml")} == {"home.yaml", "house.yaml"}
    with pytest.raises(BookError):
        load_style("house", tmp_path)


def test_what_is_named_and_not_there_yet_has_its_place(tmp_path: Path) -> None:
    written(tmp_path, book=f"{BOOK}style: looks/mine\n".replace("one.yaml", "parts/two.yaml"))
    assert {tmp_path / "looks/mine.yaml", tmp_path / "parts/two.yaml"} <= set(places_of(tmp_path))


def test_what_lies_outside_the_folder_is_not_told(tmp_path: Path) -> None:
    outside = tmp_path / "outside.yaml"
    outside.write_text(CHAPTER)
    book = written(
        tmp_path / "book", book=f"title: x\nchapters: [../outside.yaml, {outside}, \x00, no/such/file.yaml]\n"
    )
    assert told(book) == {"book.yaml", "one.yaml"}


@pytest.mark.parametrize("count", [12, 25, 40, 200])
def test_a_line_of_many_chapters_is_told_though_it_is_longer_than_a_name_can_be(tmp_path: Path, count: int) -> None:
    names = [f"{number:03}.yaml" for number in range(count)]
    for name in names:
        (tmp_path / name).write_text(CHAPTER)
    (tmp_path / "book.yaml").write_text(f"title: x\nchapters: [{', '.join(names)}]\n")
    assert told(tmp_path) == {"book.yaml", *names}


def test_a_folder_without_a_book_has_places_all_the_same(tmp_path: Path) -> None:
    assert files_of(tmp_path) == files_of(tmp_path / "nothing.yaml") == ()
    assert places_of(tmp_path) == (tmp_path / "book.yaml",)
