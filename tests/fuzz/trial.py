"""One trial: a chapter through reading and composing, and perhaps to paper; whatever is lost on the way is told."""

from __future__ import annotations

import signal
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import FrameType

from typeset import pipeline
from typeset.built import Run
from typeset.exchange.hand_on import hand_on
from typeset.problem import BookError, errors_of

FORMS = ("text", "json", "midi", "musicxml")
_FOREIGN = ("Input should", "this is no YAML", "invalid literal", "Traceback", "object at 0x", "Value error")
"""What no teacher says: words of a library."""


class Hang(Exception):
    """A trial took too long."""


@dataclass(frozen=True)
class Outcome:
    """What came of a trial: `accepted`, `refused` or `lost`, and for what is lost why."""

    kind: str
    why: str = ""


@contextmanager
def within(seconds: int) -> Iterator[None]:
    """Raise Hang where this takes longer."""

    def ring(_number: int, _frame: FrameType | None) -> None:
        raise Hang(f"longer than {seconds} s")

    before = signal.signal(signal.SIGALRM, ring)
    signal.alarm(seconds)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


def tried(text: bytes, folder: Path, seconds: int = 30) -> Outcome:
    """Read and work out a chapter."""
    file = folder / "chapter.yaml"
    file.write_bytes(text)
    try:
        with within(seconds):
            checked = pipeline.check(file)
    except Exception:
        return Outcome("lost", traceback.format_exc())
    lines = text.decode("utf-8", "replace").count("\n") + 1
    for problem in checked.problems:
        if not (problem.mark.file == file and 1 <= problem.mark.line <= lines and problem.mark.column >= 1):
            return Outcome("lost", f"no place in the file: {problem}")
        if any(words in problem.what for words in _FOREIGN):
            return Outcome("lost", f"not in a teacher's words: {problem}")
    if checked.book is None and not errors_of(checked.problems):
        return Outcome("lost", "neither a book nor an error")
    return Outcome("refused" if checked.book is None else "accepted")


def built(text: bytes, folder: Path, seconds: int = 180) -> Outcome:
    """Bring to paper, and hand on in every form, a chapter that was accepted."""
    file = folder / "chapter.yaml"
    file.write_bytes(text)
    try:
        with within(seconds):
            (made,) = pipeline.make(file, None, Run(jobs=1))
            book = pipeline.check(file).sound_book()
            handed = [hand_on(book, exercise, form) for exercise in book.exercises for form in FORMS]
    except BookError as error:
        return Outcome("lost", f"accepted, and then refused: {error}")
    except Exception:
        return Outcome("lost", traceback.format_exc())
    if not made.pdf.startswith(b"%PDF-") or not all(handed):
        return Outcome("lost", "nothing came of it")
    return Outcome("accepted")
