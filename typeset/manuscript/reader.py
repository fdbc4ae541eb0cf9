"""Reading files piece by piece: what each says, as much of it as can be read, and every problem noted."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeVar

from pydantic import ValidationError

from ..problem import Mark, Problem
from ..text_file import FileTrouble, text_of
from .exercise import MUSIC, ExerciseText
from .marked import Marked
from .messages import problems_in
from .parse import parse
from .written import Step, Written, WrittenMap

LARGEST_BOOK = 16 * 1024 * 1024
"""The most characters that the files of a book may have together."""

M = TypeVar("M", bound=Marked)


class TooMuch(Exception):
    """A book is larger than anyone writes; there is no reading on."""

    def __init__(self, mark: Mark, what: str) -> None:
        self.problem = Problem(mark, what)
        super().__init__(what)


@dataclass
class Reader:
    """Collects problems while the files of a book are read; `prose` names their keys of running text."""

    prose: frozenset[str]
    problems: list[Problem] = field(default_factory=list)
    files: list[Path] = field(default_factory=list)
    broken_lines: set[tuple[Path, int]] = field(default_factory=set)
    size: int = 0
    entries: int = 0

    def read_file(self, file: Path, asked_at: Mark | None = None) -> WrittenMap | None:
        """What a file says; None where it cannot be read at all."""
        self.files.append(file)
        try:
            text = text_of(file, asked_at)
            self._refuse_too_large(len(text), asked_at or Mark(file))
        except FileTrouble as trouble:
            self.problems.append(trouble.problem)
            return None
        parsed = parse(text, file, self.prose)
        self.problems += parsed.problems
        self.broken_lines |= {(file, line) for line in parsed.broken_lines}
        return parsed.root

    def _refuse_too_large(self, size: int, mark: Mark) -> None:
        """Raise TooMuch where the files of a book come to more than anyone writes."""
        self.size += size
        if self.size > LARGEST_BOOK:
            most = LARGEST_BOOK // 1024 // 1024
            raise TooMuch(mark, f"with this file the book has more than {most} MiB; divide it into several")

    def part(self, model: type[M], written: Any, root: Written, *way: Step, **stand_ins: Any) -> M:
        """A part by its model, without the keys that have errors, which are noted.

        `way` leads to it from `root`; `stand_ins` take the place of values that it has to have.
        """
        wrong: set[str] = set()
        disagrees = False
        try:
            made = model.model_validate(written)
        except ValidationError as error:
            # What is wrong with no key alone is wrong with all of them together.
            disagrees = any(not line["loc"] for line in error.errors(include_url=False))
            self.problems += (
                problem
                for problem in problems_in(error, root, way)
                if (problem.mark.file, problem.mark.line) not in self.broken_lines
            )
            made, wrong = _salvaged(model, written, stand_ins)
        if not isinstance(written, WrittenMap):
            return made
        vital = MUSIC if model is ExerciseText else {*written.keys(), *model.required_keys()}
        lacking = vital & model.required_keys() - written.keys()
        broken = written.cut or any(key in wrong or getattr(written.get(key), "broken", False) for key in vital)
        return made.placed(written, broken or bool(lacking) or disagrees)


def _salvaged(model: type[M], written: Any, stand_ins: dict[str, Any]) -> tuple[M, set[str]]:
    """What can be read of a part that has errors, and the keys that cannot."""
    values: dict[str, Any] = dict(stand_ins)
    wrong: set[str] = set()
    given = written if isinstance(written, WrittenMap) else {}
    for key, (name, reader) in model.readers().items():
        if key in given:
            try:
                values[name] = reader.validate_python(given[key])
            except ValidationError:
                wrong.add(key)
    return model.model_construct(**values), wrong
