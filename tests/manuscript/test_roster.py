"""The roster: rows become students, and a wrong one is told with its place and spoils no other."""

from pathlib import Path

import pytest

from typeset.manuscript.roster import Roster, Student, read_roster
from typeset.problem import BookError

HEAD = "name,hand,level,start tempo,exercises\n"


def roster(folder: Path, rows: str, head: str = HEAD) -> Roster:
    file = folder / "students.csv"
    file.write_bytes((head + rows).encode())
    return read_roster(file)


def student(folder: Path, row: str) -> Student:
    (one,) = roster(folder, row).students
    return one


def told(folder: Path, rows: str) -> list[str]:
    return [str(problem).removeprefix(f"{folder}/students.csv:") for problem in roster(folder, rows).problems]


def refused(folder: Path, text: str) -> str:
    with pytest.raises(BookError) as error:
        roster(folder, text, head="")
    (problem,) = error.value.problems
    return str(problem).removeprefix(f"{folder}/students.csv:")


def test_a_row_is_a_student(tmp_path: Path) -> None:
    one = student(tmp_path, "Mira Okafor,left,4,60,1.2 hinge-fill\n")
    assert (one.name, one.is_left_handed, one.level, one.start) == ("Mira Okafor", True, 4, 60)
    assert [cell.text for cell in one.exercises] == ["1.2", "hinge-fill"]


def test_only_the_name_has_to_be_said(tmp_path: Path) -> None:
    one = student(tmp_path, "Teo,,,,\n")
    assert (one.is_left_handed, one.level, one.start, one.exercises) == (False, None, None, ())


def test_columns_stand_in_any_order_and_may_be_missing(tmp_path: Path) -> None:
    (one,) = roster(tmp_path, "L,Teo\n", head="Hand,NAME\n").students
    assert (one.name, one.is_left_handed) == ("Teo", True)


@pytest.mark.parametrize("head", ["name;hand;start tempo\n", "name\thand\tstart-tempo\n"])
def test_a_spreadsheet_may_save_it_with_semicolons_or_tabs(tmp_path: Path, head: str) -> None:
    row = (
        head.replace("name", "Teo")
        .replace("hand", "right")
        .replace("start tempo", "70")
        .replace("start-tempo", "70")
    )
    (one,) = roster(tmp_path, row, head).students
    assert (one.name, one.start) == ("Teo", 70)


def test_a_mark_of_byte_order_and_windows_line_ends_are_no_part_of_it(tmp_path: Path) -> None:
    (one,) = roster(tmp_path, "Teo,right\r\n", head="\ufeffname,hand\r\n").students
    assert (one.name, one.is_left_handed) == ("Teo", False)


def test_quotes_hold_commas_and_doubled_quotes(tmp_path: Path) -> None:
    one = student(tmp_path, '"Lindqvist, ""Bo""",right,,,"1.1, 1.2"\n')
    assert one.name == 'Lindqvist, "Bo"'
    assert [cell.text for cell in one.exercises] == ["1.1", "1.2"]


def test_every_exercise_knows_its_place(tmp_path: Path) -> None:
    one = student(tmp_path, "Teo,,,,1.1 1.2\n")
    assert [(cell.mark.line, cell.mark.column) for cell in one.exercises] == [(2, 8), (2, 12)]


def test_empty_rows_are_passed_over(tmp_path: Path) -> None:
    assert [one.name for one in roster(tmp_path, "\nTeo,,,,\n,,,,\n\nAda,,,,\n").students] == ["Teo", "Ada"]


def test_a_wrong_row_is_told_and_the_others_are_read(tmp_path: Path) -> None:
    read = roster(tmp_path, "Teo,both,,,\nAda,left,,,\n")
    assert [one.name for one in read.students] == ["Ada"]
    assert [problem.mark.line for problem in read.problems] == [2]


@pytest.mark.parametrize(
    ("row", "what"),
    [
        (",left,,,", "2:1: this row has no name"),
        ("Teo,both,,,", "2:5: hand is right or left, not 'both'"),
        ("Teo,,11,,", "2:6: level is a whole number from 1 to 10, not '11'"),
        ("Teo,,,fast,", "2:7: start tempo is a whole number from 20 to 400, not 'fast'"),
        ("Teo,,,500,", "2:7: start tempo is a whole number from 20 to 400, not '500'"),
        (
            "Teo,,,,1.1,1.2",
            "2:12: this row has 6 cells for 5 columns; put several exercises into one cell, with spaces between them",
        ),
        ('"Teo,,,,', "2:1: this quote is not closed on its line"),
        ('"Teo" B,,,,', "2:6: 'B' stands behind the closing quote"),
    ],
)
def test_what_is_wrong_in_a_row_is_said_with_its_place(tmp_path: Path, row: str, what: str) -> None:
    assert told(tmp_path, f"{row}\nAda,,,,\n") == [what]


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "1:1: this roster is empty; its first line is name, hand, level, start tempo, exercises"),
        ("name,hand\n", "1:1: there is no student in this roster; write a row for each"),
        ("name,hands\nTeo,left\n", "1:6: there is no column 'hands' in a roster; did you mean 'hand'?"),
        ("hand\nleft\n", "1:1: a roster has a column 'name'"),
        ("name,name\nTeo,Teo\n", "1:6: the column 'name' is here a second time"),
    ],
)
def test_a_roster_without_rows_that_can_be_read_is_refused(tmp_path: Path, text: str, what: str) -> None:
    assert refused(tmp_path, text) == what


def test_a_roster_that_is_not_utf_8_says_how_to_save_it(tmp_path: Path) -> None:
    file = tmp_path / "students.csv"
    file.write_bytes("name\nÜnal\n".encode("latin-1"))
    with pytest.raises(BookError, match=r"2:1: .* 'CSV UTF-8'"):
        read_roster(file)
