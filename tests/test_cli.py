from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

CHAPTER = """\
chapter: First steps
sequences: {stairs: R L R K L}
exercises:
  - id: plain
    start: stairs
"""


@pytest.fixture
def chapter(tmp_path: Path) -> Path:
    file = tmp_path / "first-steps.yaml"
    file.write_text(CHAPTER)
    return file


def shedbook(*words: str | Path, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    """Run the command as a stranger would, from another folder."""
    path = str(Path(__file__).parent.parent)
    env = {**os.environ, "PYTHONPATH": path, "COLUMNS": "120"}
    command = [sys.executable, "-m", "typeset", *map(str, words)]
    return subprocess.run(command, capture_output=True, text=True, env=env, cwd=cwd, timeout=120, check=False)


def test_a_build_says_what_was_written(chapter: Path, tmp_path: Path) -> None:
    done = shedbook("build", chapter, "--out", tmp_path / "out")
    assert done.returncode == 0, done.stderr
    assert "first-steps.pdf: " in done.stdout
    assert "1 exercise; " in done.stdout
    assert (tmp_path / "out" / "first-steps.pdf").read_bytes().startswith(b"%PDF-")


def test_a_second_build_engraves_nothing_and_writes_the_same(chapter: Path, tmp_path: Path) -> None:
    shedbook("build", chapter, "--out", tmp_path / "one")
    again = shedbook("build", chapter, "--out", tmp_path / "two")
    assert "; 0 systems engraved, " in again.stdout
    name = "first-steps.pdf"
    assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes()


def test_without_a_word_the_pdf_goes_to_build(chapter: Path, tmp_path: Path) -> None:
    shedbook("build", chapter, cwd=tmp_path)
    assert (tmp_path / "build" / "first-steps.pdf").exists()


def test_a_booklet_is_a_file_of_its_own_and_says_how_many_sheets_it_takes(chapter: Path, tmp_path: Path) -> None:
    done = shedbook("build", chapter, "--booklet", "--out", tmp_path)
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "first-steps-booklet.pdf").exists()
    assert " sheet" in done.stdout
    again = shedbook("build", chapter, "--booklet", "--out", tmp_path / "again")
    assert again.stdout.split(": ")[1].split(",")[0] == done.stdout.split(": ")[1].split(",")[0]


def test_a_press_file_of_a_book_without_a_date_is_an_error_of_the_book(chapter: Path, tmp_path: Path) -> None:
    done = shedbook("build", chapter, "--press", "--out", tmp_path / "out")
    assert done.returncode == 1
    assert done.stderr.startswith(f"{chapter}:1:1: a file for a printing house tells its date")
    assert not (tmp_path / "out").exists()


def test_press_and_booklet_at_once_is_wrong_usage(chapter: Path) -> None:
    assert shedbook("build", chapter, "--press", "--booklet").returncode == 2


def test_check_prints_a_table_with_level_and_ceiling(chapter: Path) -> None:
    done = shedbook("check", chapter)
    assert done.returncode == 0
    head, row = done.stdout.splitlines()
    assert head.split()[:5] == ["no.", "id", "title", "level", "ceiling"]
    assert "right hand, snare, " in row


def test_errors_go_to_standard_error_with_their_places(chapter: Path) -> None:
    chapter.write_text(CHAPTER.replace("start: stairs", "start: stars"))
    done = shedbook("check", chapter)
    assert done.returncode == 1
    assert done.stdout == ""
    assert done.stderr.startswith(f"{chapter}:5:12: there is no sequence or exercise 'stars'")


def test_a_book_with_errors_writes_nothing_and_keeps_what_was_there(chapter: Path, tmp_path: Path) -> None:
    shedbook("build", chapter, "--out", tmp_path)
    before = (tmp_path / "first-steps.pdf").read_bytes()
    chapter.write_text(CHAPTER.replace("start: stairs", "start: stars"))
    assert shedbook("build", chapter, "--out", tmp_path).returncode == 1
    assert (tmp_path / "first-steps.pdf").read_bytes() == before


def test_list_is_json_on_demand(chapter: Path) -> None:
    (listed,) = json.loads(shedbook("list", chapter, "--json").stdout)
    assert list(listed) == ["id", "number", "title", "series", "from", "level", "ceiling", "bars"]


def test_show_reads_an_exercise_aloud(chapter: Path) -> None:
    shown = shedbook("show", chapter, "plain", "--as", "text").stdout
    assert "right hand, snare; e: left hand, snare" in shown


def test_a_sheet_is_one_file_and_found_again(chapter: Path, tmp_path: Path) -> None:
    words = ("sheet", chapter, "1.1", "--for", "Mira", "--title", "Week 1", "--out", tmp_path / "mira.pdf")
    first, again = shedbook(*words), shedbook(*words)
    assert first.returncode == 0, first.stderr
    assert "mira.pdf: 1 page, 1 exercise; " in first.stdout
    assert "; 0 systems engraved, " in again.stdout


def test_a_roster_of_twelve_makes_twelve_sheets_and_one_to_print(tmp_path: Path) -> None:
    books = Path(__file__).parent.parent / "books"
    given = ("singles-plain", "latch-plain", "latch-groove", "latch-fill")
    done = shedbook(
        "sheet", books / "quiet-doors", *given, "--roster", books / "roster.csv", "--out", tmp_path / "sheets"
    )
    assert done.returncode == 0, done.stderr
    files = sorted(file.name for file in (tmp_path / "sheets").iterdir())
    assert len(files) == 13 and "to-print.pdf" in files
    assert sum(",left," in row for row in (books / "roster.csv").read_text(encoding="utf-8").splitlines()) == 3


def test_a_bad_row_of_a_roster_is_told_and_the_others_are_made(chapter: Path, tmp_path: Path) -> None:
    roster = tmp_path / "students.csv"
    roster.write_text("name,hand\nMira,right\nTeo,both\n")
    done = shedbook("sheet", chapter, "plain", "--roster", roster, "--out", tmp_path / "sheets")
    assert done.returncode == 1
    assert done.stderr == f"{roster}:3:5: hand is right or left, not 'both'\n"
    assert sorted(file.name for file in (tmp_path / "sheets").iterdir()) == ["mira.pdf", "to-print.pdf"]


def test_steps_explains_a_step() -> None:
    assert "begin so many slots later" in shedbook("steps", "rotate").stdout


@pytest.mark.parametrize(
    "words",
    [
        ("check", "nowhere"),
        ("build",),
        ("dance",),
        ("steps", "rotat"),
        ("build", "nowhere", "--jobs", "many"),
        ("sheet", "books"),
        ("sheet", "books", "1.1", "--roster", "nowhere.csv"),
        ("sheet", "books", "1.1", "--roster", __file__, "--for", "Mira"),
    ],
)
def test_a_command_used_wrongly_says_so_with_status_two(words: tuple[str, ...]) -> None:
    done = shedbook(*words)
    assert done.returncode == 2
    assert done.stderr and "Traceback" not in done.stderr


def test_an_exercise_that_there_is_not_has_status_two(chapter: Path) -> None:
    assert shedbook("show", chapter, "nothing").returncode == 2


def test_a_place_that_cannot_be_written_has_status_three(chapter: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    done = shedbook("build", chapter, "--out", tmp_path / "file" / "out")
    assert done.returncode == 3
    assert "choose another place with --out" in done.stderr


def heavy_after(*words: str | Path) -> set[str]:
    """The heavy libraries that are loaded when a command ends."""
    heavy = {"pydantic", "yaml", "abjad", "reportlab", "pypdf", "rich", "importlib.metadata", "typeset.engrave"}
    code = (
        "import atexit, sys; from typeset.cli import main; "
        f"atexit.register(lambda: print('loaded:', *({heavy} & sys.modules.keys()))); main()"
    )
    env = {**os.environ, "PYTHONPATH": str(Path(__file__).parent.parent)}
    command = [sys.executable, "-c", code, *map(str, words)]
    done = subprocess.run(command, capture_output=True, text=True, env=env, timeout=120, check=True)
    return set(done.stdout.splitlines()[-1].removeprefix("loaded:").split())


def test_help_imports_nothing_heavy() -> None:
    assert heavy_after("--help") == set()
    assert heavy_after("build", "--help") == set()


def test_a_build_that_is_found_imports_nothing_heavy(chapter: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert "reportlab" in heavy_after("build", chapter, "--out", out)
    assert heavy_after("build", chapter, "--out", out) == set()


def test_a_list_that_is_found_imports_nothing_heavy(chapter: Path) -> None:
    assert "yaml" in heavy_after("list", chapter, "--json")
    assert heavy_after("list", chapter, "--json") == set()


@pytest.mark.parametrize(
    "words", [("check",), ("check", "--json"), ("list",), ("list", "--json"), ("show", "plain")]
)
def test_what_is_told_of_a_book_is_told_without_engraving_or_pages(words: tuple[str, ...], chapter: Path) -> None:
    command, *rest = words
    assert not heavy_after(command, chapter, *rest) & {"abjad", "reportlab", "pypdf", "typeset.engrave"}


def test_numbers_are_still_refused_where_they_are_none_or_too_small(chapter: Path) -> None:
    assert "'--jobs'" in shedbook("build", chapter, "--jobs", "many").stderr
    assert "'--jobs'" in shedbook("build", chapter, "--jobs", "-1").stderr


def test_a_command_without_its_book_says_what_is_missing() -> None:
    done = shedbook("build")
    assert done.returncode == 2
    assert "Missing argument 'BOOK'" in done.stderr


def test_a_schema_is_printed_for_a_kind_of_file() -> None:
    assert '"chapters"' in shedbook("schema", "book").stdout
    refused = shedbook("schema", "novel")
    assert refused.returncode == 2
    assert "there is no kind of file 'novel'" in refused.stderr


def test_a_check_tells_problems_as_json(chapter: Path) -> None:
    chapter.write_text(CHAPTER + "    steps:\n      - accent: [9]\n")
    done = shedbook("check", chapter, "--json")
    told = json.loads(done.stdout)
    assert done.returncode == 1
    assert done.stderr == ""
    assert [(one["line"], one["column"], one["weight"]) for one in told["problems"]] == [(7, 18, "error")]
    assert told["exercises"] == []


def test_a_check_tells_levels_and_ceilings_as_json(chapter: Path) -> None:
    told = json.loads(shedbook("check", chapter, "--json").stdout)
    (one,) = told["exercises"]
    assert (one["id"], told["problems"]) == ("plain", [])
    assert one["ceiling"] > 0
    assert one["limited-by"]


def on_a_terminal(*words: str | Path, columns: int = 80, **settings: str) -> str:
    """What a person sees of the command on a terminal so wide."""
    path = str(Path(__file__).parent.parent)
    program = (
        "import fcntl, pty, struct, sys, termios\n"
        f"def start():\n    fcntl.ioctl(1, termios.TIOCSWINSZ, struct.pack('HHHH', 24, {columns}, 0, 0))\n"
        "import os\npid, screen = pty.fork()\n"
        "if pid == 0:\n    start()\n    os.execv(sys.executable, [sys.executable, '-m', 'typeset', *sys.argv[1:]])\n"
        "seen = b''\n"
        "while True:\n    try:\n        piece = os.read(screen, 4096)\n    except OSError:\n        break\n"
        "    if not piece:\n        break\n    seen += piece\n"
        "os.waitpid(pid, 0)\nsys.stdout.buffer.write(seen)\n"
    )
    env = {key: value for key, value in os.environ.items() if key not in ("COLUMNS", "NO_COLOR")}
    env |= {"PYTHONPATH": path, "TERM": "xterm", **settings}
    command = [sys.executable, "-c", program, *map(str, words)]
    return subprocess.run(command, capture_output=True, text=True, env=env, timeout=120, check=True).stdout


def test_problems_are_in_colour_on_a_terminal_and_plain_where_that_is_asked_for(chapter: Path) -> None:
    chapter.write_text(CHAPTER + "    steps:\n      - accent: [9]\n")
    assert "\x1b[31mthere is no count 9" in on_a_terminal("check", chapter)
    assert "\x1b[" not in on_a_terminal("check", chapter, NO_COLOR="1")
    assert "\x1b[" not in shedbook("check", chapter).stderr


def test_a_table_fits_the_terminal(chapter: Path) -> None:
    chapter.write_text(CHAPTER + f"    title: {'A long name ' * 9}\n")
    seen = on_a_terminal("list", chapter, columns=72, NO_COLOR="1")
    assert "…" in seen
    assert max(len(re.sub(r"\x1b\[[\d;]*m", "", line)) for line in seen.splitlines()) <= 72
    assert "…" not in shedbook("list", chapter).stdout


@pytest.mark.skipif(not shutil.which("bash"), reason="no bash to complete words in")
def test_bash_completes_commands_exercises_steps_and_editions(chapter: Path) -> None:
    path = str(Path(__file__).parent.parent)
    book = chapter.parent / "book.yaml"
    book.write_text(f"title: Steps\nchapters: [{chapter.name}]\neditions: {{left: {{mirror: yes}}}}\n")
    script = (
        f'shedbook() {{ {sys.executable} -m typeset "$@"; }}; export -f shedbook\n'
        'complete_words() { COMP_WORDS="$*" COMP_CWORD=$(( $# - 1 )) _SHEDBOOK_COMPLETE=complete_bash '
        f"{sys.executable} -c 'from typeset.cli import app; app(prog_name=\"shedbook\")'; }}\n"
        f"complete_words shedbook sh; complete_words shedbook show '{chapter}' pl; complete_words shedbook steps rot\n"
        f"complete_words shedbook build '{book}' --edition ''; complete_words shedbook show '{book}' --edition ''\n"
    )
    env = {**os.environ, "PYTHONPATH": path}
    done = subprocess.run(["bash", "-c", script], capture_output=True, text=True, env=env, timeout=120, check=False)
    assert done.stdout.split() == ["show", "sheet", "plain", "rotate", "all", "left", "left"]


@pytest.mark.parametrize("changed", ["mine.yaml", "under.yaml"])
def test_a_sheet_in_a_style_of_ones_own_is_made_anew_when_the_style_has_changed(
    chapter: Path, tmp_path: Path, changed: str
) -> None:
    folder = tmp_path / "elsewhere"
    folder.mkdir()
    words = ("sheet", chapter, "1.1", "--style", folder / "mine.yaml", "--out", tmp_path / "sheet.pdf")
    (folder / "mine.yaml").write_text("based-on: under\n")
    (folder / "under.yaml").write_text("based-on: a4-handout\n")
    assert shedbook(*words).returncode == 0
    before = (tmp_path / "sheet.pdf").read_bytes()
    (folder / changed).write_text("based-on: letter-handout\n")
    assert shedbook(*words).returncode == 0
    assert (tmp_path / "sheet.pdf").read_bytes() != before
