"""A curriculum through the stages: its books are worked out, put in order, and printed as a map and a plan.

It engraves nothing, so it is made anew each time.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from .book_files import BOOK_FILE, CURRICULUM_FILE, ENDINGS
from .built import Built
from .pdf.output import AS_BOOK, Output
from .problem import BookError, Problem, errors_of, in_order, warnings_of
from .text_file import beginning_of

if TYPE_CHECKING:
    from .compose.curriculum import Curriculum
    from .style import Style

_TERMS = re.compile(rb"^terms[ \t]*:", re.MULTILINE)


@dataclass(frozen=True)
class CheckedCurriculum:
    """A curriculum that was worked out, with every problem found; no curriculum where there are errors."""

    curriculum: Curriculum | None
    style: Style | None
    name: str
    path: Path
    problems: tuple[Problem, ...]

    def sound_curriculum(self) -> Curriculum:
        """The curriculum; raises BookError with everything that is wrong where it has errors."""
        if self.curriculum is None:
            raise BookError(self.problems)
        return self.curriculum


def is_curriculum(path: Path) -> bool:
    """True for a file that says which terms there are, and for a folder that has a curriculum and no book."""
    if path.is_dir():
        return (path / CURRICULUM_FILE).is_file() and not (path / BOOK_FILE).exists()
    try:
        return path.suffix in ENDINGS and path.is_file() and bool(_TERMS.search(beginning_of(path)))
    except OSError:
        return False


def check_curriculum(path: Path) -> CheckedCurriculum:
    """Read a curriculum and its books and work it out. Problems are gathered, not raised.

    Of its books only the errors are told; their warnings are told where a book is checked by itself.
    """
    from .compose.curriculum import compose_curriculum
    from .manuscript.read_curriculum import read_curriculum
    from .pipeline import check
    from .proof import proofread_curriculum
    from .style import load_style

    reading = read_curriculum(path)
    file = path / CURRICULUM_FILE if path.is_dir() else path
    problems = list(reading.problems)
    text = reading.text
    if text is None:
        return CheckedCurriculum(None, None, file.stem, file, in_order(problems))
    checked = {named.name: check(named.path) for named in text.books}
    problems += [problem for one in checked.values() for problem in errors_of(one.problems)]
    style = None
    try:
        style = load_style(text.style, file.parent, text.marks("style"))
        problems += proofread_curriculum(text, style)
    except BookError as error:
        problems += error.problems
    curriculum = None
    if not errors_of(problems):
        books = {name: one.sound_book() for name, one in checked.items()}
        composition = compose_curriculum(text, books)
        curriculum = composition.curriculum
        problems += composition.problems
    return CheckedCurriculum(curriculum, style, text.name, file, in_order(problems))


def make_curriculum(path: Path, output: Output = AS_BOOK) -> Built:
    """Make a curriculum's PDF: the map of its books, and a plan for each term.

    Raises BookError where it, or a book of it, has errors, and OutsideError.
    """
    from .exchange.spoken import spoken
    from .page import lay_out_curriculum
    from .pdf import bind
    from .unset import told_in

    checked = check_curriculum(path)
    curriculum = checked.sound_curriculum()
    assert checked.style is not None  # a curriculum without errors has its style
    with told_in(checked.path):
        pages = lay_out_curriculum(curriculum, checked.style)
        pdf = bind(pages, {}, checked.style, partial(spoken, curriculum.language), output)
    warnings = tuple(map(str, warnings_of(checked.problems)))
    name, sheets = checked.name + output.ending, output.sheets(len(pages.labels))
    return Built(name, pdf, len(pages.labels), curriculum.exercises, 0, 0, warnings, sheets)
