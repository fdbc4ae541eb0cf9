"""Tasks: something for the reader to write or to find, about exercises of the book."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self, get_args

from pydantic import model_validator

from .marked import Marked
from .plain import Wrong, as_list, one_of
from .reads import Listed, Reads, words
from .values import Line, Paragraphs, Word, YesNo

Kind = Literal["write-the-sticking", "write-the-count", "write-the-notes", "find-the-accents", "spot-the-change"]
SPOT_THE_CHANGE = "spot-the-change"


class TaskText(Marked):
    """A task as written: its kind, and the exercise, or the two, that it is about."""

    task: Annotated[Kind, Reads(one_of(get_args(Kind), "task"), words(get_args(Kind)))]
    """what the reader is to do"""
    of: Annotated[tuple[Word, ...], Listed(as_list)]
    """an exercise by its id; for spot-the-change two of them"""
    title: Line = ""
    """what stands over it"""
    say: Paragraphs | None = None
    """an instruction in your words"""
    note: Paragraphs | None = None
    """for the teacher"""
    new_page: YesNo = False
    """yes: it begins a page"""

    @model_validator(mode="after")
    def _is_about_enough(self) -> Self:
        wanted: Any = 2 if self.task == SPOT_THE_CHANGE else 1
        if len(self.of) != wanted:
            about = "two exercises, as in of: [plain, changed]" if wanted == 2 else "one exercise"
            raise Wrong(f"{self.task} is about {about}", "of")
        return self
