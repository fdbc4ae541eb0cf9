"""Tasks: something for the reader to write or to find, about exercises of the book."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self, get_args

from pydantic import BeforeValidator, PlainValidator, model_validator

from .fields import Wrong, as_list, one_of, read_line
from .marked import Marked
from .models import Line, Paragraphs, YesNo

Kind = Literal["write-the-sticking", "write-the-count", "write-the-notes", "find-the-accents", "spot-the-change"]
SPOT_THE_CHANGE = "spot-the-change"


class TaskText(Marked):
    """A task as written: its kind, and the exercise, or the two, that it is about."""

    task: Annotated[Kind, PlainValidator(one_of(get_args(Kind), "task"))]
    of: Annotated[tuple[Annotated[str, PlainValidator(read_line)], ...], BeforeValidator(as_list)]
    title: Line = ""
    say: Paragraphs | None = None
    note: Paragraphs | None = None
    new_page: YesNo = False

    @model_validator(mode="after")
    def _is_about_enough(self) -> Self:
        wanted: Any = 2 if self.task == SPOT_THE_CHANGE else 1
        if len(self.of) != wanted:
            about = "two exercises, as in of: [plain, changed]" if wanted == 2 else "one exercise"
            raise Wrong(f"{self.task} is about {about}", "of")
        return self
