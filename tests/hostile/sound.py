"""Files that are right in everything, as trees, into which one hostile text is put at a time."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from typeset.manuscript.curriculum import TermText
from typeset.manuscript.exercise import ExerciseText, TextBlock
from typeset.manuscript.marked import Marked
from typeset.manuscript.models import BookText, ChapterHead, Edition
from typeset.manuscript.series import SeriesText
from typeset.manuscript.tasks import TaskText

EXERCISE: dict[str, Any] = {"start": "R L"}
ENTRIES: dict[type[Marked], dict[str, Any]] = {
    ExerciseText: EXERCISE,
    SeriesText: {"start": "R L", "each": {"rotate": "all"}},
    TaskText: {"task": "write-the-count", "of": "first"},
    TextBlock: {},
}
"""What stands under `exercises`, by its model, with as little said as it can be; what names it is added."""

NAMED = {ExerciseText: "id", SeriesText: "series", TaskText: "task", TextBlock: "text"}

OTHERS: tuple[type[Marked], ...] = (BookText, ChapterHead, Edition, TermText)
"""Models of which a file has one, or few."""


def quoted(text: str) -> str:
    """A text in double quotes as YAML reads them, every character that is not plain as an escape."""
    # JSON's escapes are YAML's, but for characters beyond the first 65,536, which it halves.
    letters = (json.dumps(one) if ord(one) <= 0xFFFF else f'"\\U{ord(one):08x}"' for one in text)
    return '"' + "".join(letter[1:-1] for letter in letters) + '"'


def written(value: Any) -> str:
    """A value in YAML's flow style, its texts in quotes."""
    match value:
        case dict():
            return "{" + ", ".join(f"{key}: {written(inner)}" for key, inner in value.items()) + "}"
        case list():
            return "[" + ", ".join(map(written, value)) + "]"
    return quoted(str(value))


def chapter_of(entries: list[dict[str, Any]]) -> str:
    """A chapter with an exercise called `first` on line 3, and each entry on a line of its own from line 4 on."""
    lines = [f"  - {written(entry)}" for entry in entries]
    return "\n".join(["chapter: C", "exercises:", "  - {id: first, start: R L}", *lines, ""])


def entry_with(model: type[Marked], key: str, value: Any, number: int) -> dict[str, Any]:
    """An entry of this model that says a value under a key."""
    named = {} if model in (TaskText, TextBlock) else {NAMED[model]: f"e{number}"}
    return {**named, **ENTRIES[model], **({"text": "x"} if model is TextBlock else {}), key: value}


def keys_of_entries() -> Iterator[tuple[type[Marked], str]]:
    """Every key that an entry may have, as declared."""
    for model in ENTRIES:
        for key in tuple(model.keys()):
            yield model, key
