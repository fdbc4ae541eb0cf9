"""Handouts from a book's folder to PDFs: for one, for a roster, with what is wrong in it."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import pdfplumber
import pytest

from typeset.built import Built, Run, SheetOrder
from typeset.handouts import TO_PRINT, file_name, file_names, make_roster, make_sheet, usual_style
from typeset.problem import BookError, NotThere
from typeset.style.paper import Paper

CHAPTER = """\
chapter: First steps
sequences: {stairs: R L R L}
set: {meter: 2/4, grid: 8ths, tempo: 60-100}
exercises:
  - {id: plain, title: On one surface, start: stairs}
  - {id: groove, title: As a groove, start: plain, steps: [{voice: {R: hi-hat, L: snare}}]}
"""


@pytest.fixture
def book(tmp_path: Path) -> Path:
    file = tmp_path / "first-steps.yaml"
    file.write_text(CHAPTER)
    return file


def a_roster(folder: Path, rows: str) -> Path:
    file = folder / "students.csv"
    file.write_text(f"name,hand,level,start tempo,exercises\n{rows}", encoding="utf-8")
    return file


def text(built: Built) -> str:
    with pdfplumber.open(BytesIO(built.pdf)) as pdf:
        return "\n".join(page.extract_text() for page in pdf.pages)


def test_a_sheet_has_the_exercises_asked_for_in_their_order(book: Path) -> None:
    made = make_sheet(book, SheetOrder(("1.2", "plain"), "Week 1", "Mira"), Run(jobs=1))
    said = text(made)
    assert said.index("Week 1") < said.index("Mira") < said.index("As a groove") < said.index("On one surface")
    assert (made.name, made.pages, made.exercises) == ("first-steps-sheet-mira", 1, 2)


def test_an_exercise_that_there_is_not_is_refused(book: Path) -> None:
    with pytest.raises(NotThere, match=r"no exercise 'nothing' and no '9\.9' in this book; there are plain"):
        make_sheet(book, SheetOrder(("nothing", "plain", "9.9")), Run())


def test_a_style_that_there_is_not_is_refused(book: Path) -> None:
    with pytest.raises(NotThere, match="there is no style 'a3-handout'; there are a4-handout") as refused:
        make_sheet(book, SheetOrder(("plain",), style="a3-handout"), Run())
    assert book.stem not in str(refused.value)


def test_a_book_with_errors_makes_no_sheet(book: Path) -> None:
    book.write_text(CHAPTER.replace("start: stairs", "start: stars"))
    with pytest.raises(BookError, match="there is no sequence or exercise 'stars'"):
        make_sheet(book, SheetOrder(("groove",)), Run())


def test_a_sheet_has_the_letters_of_its_book(tmp_path: Path) -> None:
    (tmp_path / "house.yaml").write_text("based-on: a4-workbook\nletters: {right: D, left: G}\n")
    (tmp_path / "first.yaml").write_text(CHAPTER)
    (tmp_path / "book.yaml").write_text("title: Feuilles\nlanguage: fr\nstyle: house\nchapters: [first.yaml]\n")
    said = text(make_sheet(tmp_path, SheetOrder(("plain",)), Run(jobs=1)))
    assert "La suite est D G D G." in said
    assert "D G D G" in said.splitlines()


TOO_FAST = (
    CHAPTER
    + "  - {id: fast, title: Too fast, start: stairs, grid: 16ths, tempo: 60-280}\n"
    + "  - {id: faster, title: Faster, start: stairs, grid: 16ths, tempo: 60-290, say: 'With the {rigth} hand.'}\n"
)


def test_a_sheet_warns_of_its_own_exercises_alone(book: Path) -> None:
    book.write_text(TOO_FAST)
    (goal,) = make_sheet(book, SheetOrder(("plain", "fast")), Run(jobs=1)).warnings
    assert "first-steps.yaml:7:5: warning: 'fast' aims at 280, and can be played up to" in goal
    _, misspelt = make_sheet(book, SheetOrder(("faster",), left_handed=True), Run(jobs=1)).warnings
    assert "did you mean '{right}'?" in misspelt
    assert make_sheet(book, SheetOrder(("plain",)), Run(jobs=1)).warnings == ()


def test_so_does_each_sheet_of_a_roster(book: Path, tmp_path: Path) -> None:
    book.write_text(TOO_FAST)
    roster = a_roster(tmp_path, "Mira,,,,\nTeo,left,,,fast\n")
    mira, teo, everyone = make_roster(book, SheetOrder(("plain",)), roster, Run(jobs=1)).built
    assert [len(one.warnings) for one in (mira, teo, everyone)] == [0, 1, 0]


def test_a_roster_makes_a_sheet_each_and_one_of_all(book: Path, tmp_path: Path) -> None:
    roster = a_roster(tmp_path, "Mira,right,,72,\nTeo,left,,,1.2\n")
    handouts = make_roster(book, SheetOrder(("plain", "groove")), roster, Run(jobs=1))
    mira, teo, everyone = handouts.built
    assert [one.name for one in handouts.built] == ["mira", "teo", TO_PRINT]
    assert "72–100" in text(mira) and "60–100" in text(teo)
    assert "On one surface" not in text(teo)
    assert everyone.pages == mira.pages + teo.pages
    assert not handouts.problems


def test_a_left_handed_student_gets_the_other_letters(book: Path, tmp_path: Path) -> None:
    roster = a_roster(tmp_path, "Mira,right,,,\nTeo,left,,,\n")
    mira, teo, _ = make_roster(book, SheetOrder(("plain",)), roster, Run(jobs=1)).built
    assert "R L R L" in text(mira) and "L R L R" in text(teo)
    assert "left-handed copy" in text(teo) and "left-handed copy" not in text(mira)


def test_one_sheet_can_be_for_a_left_handed_player(book: Path) -> None:
    made = make_sheet(book, SheetOrder(("plain",), left_handed=True), Run(jobs=1))
    assert "L R L R" in text(made) and "left-handed copy" in text(made)


def test_rows_that_are_wrong_are_told_in_their_order_and_the_others_made(book: Path, tmp_path: Path) -> None:
    roster = a_roster(tmp_path, "Mira,,,,nothing\nAda,,,,\nTeo,both,,,\nBo,,,120,\n")
    handouts = make_roster(book, SheetOrder(("plain",)), roster, Run(jobs=1))
    assert [one.name for one in handouts.built] == ["ada", TO_PRINT]
    assert [(one.mark.line, one.mark.column) for one in handouts.problems] == [(2, 9), (4, 5), (5, 6)]


def test_a_roster_without_a_right_row_is_an_error(book: Path, tmp_path: Path) -> None:
    with pytest.raises(BookError, match=r"students\.csv:2:9: there is no exercise 'nothing'"):
        make_roster(book, SheetOrder(()), a_roster(tmp_path, "Mira,,,,nothing\n"), Run())


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("Mira Okafor", "mira-okafor"),
        ("  O'Neill, J. ", "o-neill-j"),
        ("../../etc/passwd", "etc-passwd"),
        ("Ünal Şahin", "ünal-şahin"),
        ("CON", "student-con"),
        ("!?", "student"),
        ("a" * 200, "a" * 60),
    ],
)
def test_a_name_becomes_a_safe_file_name(name: str, file: str) -> None:
    assert file_name(name) == file


def test_two_students_of_one_name_get_two_files() -> None:
    assert file_names(["Ada", "ada", "Ada", "To print"]) == ("ada", "ada-2", "ada-3", "to-print-2")


@pytest.mark.parametrize(
    ("paper", "style"),
    [
        (Paper.model_validate("a4"), "a4-handout"),
        (Paper.model_validate("a5"), "a4-handout"),
        (Paper.model_validate("letter"), "letter-handout"),
        (Paper(width=152.4, height=228.6), "letter-handout"),
    ],
)
def test_handouts_go_on_the_paper_of_the_book_s_country(paper: Paper, style: str) -> None:
    assert usual_style(paper) == style
