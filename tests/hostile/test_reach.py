"""What a hostile book reaches: LilyPond, its own folder, its output and the store; nothing and nobody else."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
import sysconfig
from pathlib import Path

import pytest

from typeset.engrave.lilypond import engraver
from typeset.shipped import STORE_VARIABLE

from .sound import chapter_of, quoted
from .test_paper import printable

HERE = Path(__file__).parents[2]
WRITES = ("w", "a", "x", "+")


def run(
    folder: Path, *arguments: str, home: Path | None = None
) -> tuple[subprocess.CompletedProcess[bytes], list[list[str]]]:
    """Run the command watched: what it said, and what it asked for."""
    log = folder / "log"
    environment = {**os.environ, STORE_VARIABLE: str(folder / "store"), "TMPDIR": str(folder / "tmp")}
    environment |= {"HOME": str(home)} if home else {}
    (folder / "tmp").mkdir(exist_ok=True)
    done = subprocess.run(
        [sys.executable, "-m", "tests.hostile.watched", str(log), *arguments],
        cwd=HERE, env=environment, capture_output=True, timeout=300, check=False,
    )  # fmt: skip
    return done, [line.split("\t") for line in log.read_text("utf-8").splitlines()]


def hostile_book(folder: Path) -> Path:
    """A book that says a hostile text wherever it says anything."""
    book = folder / "book"
    book.mkdir()
    entries: list[dict[str, str]] = []
    for number, text in enumerate(printable()[::3]):
        key = ("title", "say", "note")[number % 3]
        entries += [{"id": f"e{number}", "start": "R L K", key: text}, {"text": text}]
    (book / "c.yaml").write_text(chapter_of(entries))
    about = {"title": '\\include "/etc/passwd" #(system "id")', "author": '<img src="http://127.0.0.1:9/x"/>'}
    said = "".join(f"{key}: {quoted(text)}\n" for key, text in about.items())
    (book / "book.yaml").write_text(f"{said}editions: {{teacher: {{answers: inline}}}}\nchapters: c.yaml\n")
    return book


def written_to(asked: list[list[str]]) -> set[Path]:
    """Every file that was opened to be written, and every one that was put somewhere, made or taken away."""
    found: set[Path] = set()
    for event, *arguments in asked:
        values = [_value(one) for one in arguments]
        if event == "open" and (
            any(sign in str(values[1] or "") for sign in WRITES) or int(values[2] or 0) & (os.O_WRONLY | os.O_RDWR)
        ):
            found.add(_path(values[0]))
        elif event in ("os.rename", "os.remove", "os.rmdir", "os.mkdir", "os.link", "os.symlink", "os.chmod"):
            found |= {_path(value) for value in values if isinstance(value, str | bytes)}
    return found


def _value(written: str) -> object:
    try:
        return ast.literal_eval(written)
    except (ValueError, SyntaxError):
        return written.removeprefix("PosixPath('").removesuffix("')") if written.startswith("PosixPath") else None


def _path(value: object) -> Path:
    return Path(os.fsdecode(value)) if isinstance(value, str | bytes) else Path("/dev/null")


@pytest.mark.skipif(not Path("/proc").is_dir(), reason="watched on Linux")
def test_a_hostile_book_starts_lilypond_alone_and_writes_only_where_it_may(tmp_path: Path) -> None:
    book = hostile_book(tmp_path)
    done, asked = run(tmp_path, "build", str(book), "--edition", "all", "--out", str(tmp_path / "out"))
    assert done.returncode == 0, done.stderr.decode()
    assert {file.name for file in (tmp_path / "out").iterdir()} == {"book.pdf", "book-teacher.pdf"}

    started = [_value(one[1]) for event, *one in asked if event == "subprocess.Popen"]
    assert started
    for command in started:
        # A shell with a script of our own sets limits, and becomes LilyPond; all else is its arguments.
        assert isinstance(command, list)
        program = command[command.index("sh") + 4] if "sh" in command else command[0]
        assert program == str(engraver()) or command == ["/bin/sh", "-c", "read _; kill -s KILL 0"], command
        assert not any(text in str(part) for part in command for text in ("passwd", "127.0.0.1", "system"))
    assert not [
        event
        for event, *_ in asked
        if event.startswith(
            ("socket.", "urllib.", "pty.", "os.exec", "os.fork", "os.system", "os.spawn", "os.posix_spawn")
        )
    ]

    allowed = (tmp_path / "out", tmp_path / "store", tmp_path / "tmp", Path("/dev"), tmp_path / "log")
    strays = [
        path for path in written_to(asked) if path.is_absolute() and not path.is_relative_to(tmp_path / "book")
    ]
    strays = [
        path
        for path in strays
        if "__pycache__" not in path.parts and not any(path.is_relative_to(one) for one in allowed)
    ]
    assert strays == []
    assert not [path for path in written_to(asked) if path.is_relative_to(book)]


@pytest.mark.skipif(not Path("/proc").is_dir(), reason="watched on Linux")
def test_a_hostile_book_reads_nothing_of_its_owner(tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.mkdir()
    (home / "secret").write_text("secret")
    _, asked = run(tmp_path, "check", str(hostile_book(tmp_path)), home=home)
    read = {_path(_value(arguments[0])) for event, *arguments in asked if event == "open"}
    known = (
        tmp_path / "book",
        HERE,
        Path(sys.prefix),
        Path(sys.base_prefix),
        Path(sysconfig.get_paths()["purelib"]),
    )
    others = {path for path in read if path.is_absolute() and not any(path.is_relative_to(one) for one in known)}
    assert not {
        path for path in others if path.is_relative_to(home) or str(path).startswith(("/etc/passwd", "/root/."))
    }


NAMES = [
    "a;$(touch x)'\"",
    "-rf",
    "%s%n {0}",
    "日本 é",
    "\x1b[31mred",
    "new\nline \\include #(quit)",
    "\udcff\udcfe",
]


@pytest.mark.parametrize("name", NAMES)
def test_a_folder_of_any_name_becomes_a_file_in_the_output_or_is_refused(tmp_path: Path, name: str) -> None:
    book = tmp_path / name
    book.mkdir()
    (book / "book.yaml").write_text("title: T\nchapters: c.yaml\n")
    (book / "c.yaml").write_text(
        "chapter: C\nexercises: [{id: a, start: R L, title: [}]\n"
        if name == "\x1b[31mred"
        else "chapter: C\nexercises: [{id: a, start: R L}]\n"
    )
    done, _ = run(tmp_path, "build", str(book), "--out", str(tmp_path / "out"))
    said = (done.stdout + done.stderr).decode("utf-8", "replace")
    assert "Traceback" not in said and "mistake in shedbook" not in said, said
    assert "\x1b" not in said
    if done.returncode == 0:
        assert [file.name for file in (tmp_path / "out").iterdir()] == [f"{name}.pdf"]
    else:
        assert name == "\x1b[31mred" and done.returncode == 1
    assert not (HERE / "x").exists() and not (tmp_path / "x").exists()


@pytest.mark.parametrize(
    "asked",
    [
        ("show", "c.yaml", "x\x1b[31m"),
        ("sheet", "c.yaml", "a", "--for", "\udcff"),
        ("sheet", "c.yaml", "a", "--title", "\x1b]0;x\x07"),
    ],
)
def test_what_the_command_repeats_steers_no_terminal(tmp_path: Path, asked: tuple[str, ...]) -> None:
    file = tmp_path / "c.yaml"
    file.write_text("chapter: C\nexercises: [{id: a, start: R L}]\n")
    done, _ = run(tmp_path, asked[0], str(file), *asked[2:])
    said = (done.stdout + done.stderr).decode("utf-8", "replace")
    assert done.returncode == 2 and "\x1b" not in said and "mistake in shedbook" not in said, said
