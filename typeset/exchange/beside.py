"""An exercise beside the one it grew out of, line by line: only the beats that differ."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import zip_longest

from ..compose.book import Exercise
from ..pattern.bar import Bar
from ..wording import wording
from .text import beat_lines


def beside_text(parent: Exercise, exercise: Exercise, language: str = "en") -> str:
    """What the parent plays and what the exercise plays, for each beat in which they differ."""
    words = wording(language)
    lines: list[str] = []
    bars = zip_longest(parent.pattern.bars, exercise.pattern.bars)
    for number, (before, after) in enumerate(bars, start=1):
        differing = list(_differing(before, after, language))
        if differing:
            lines += ["", words.say("spoken.beside.bar", number=number, parent=parent.number)]
        colon = words["spoken.colon"]
        for was, is_ in differing:
            lines += [f"  {parent.number}{colon}{was}", f"  {exercise.number}{colon}{is_}"]
    if not lines:
        return f"\n{words.say('spoken.beside.same', parent=parent.number)}\n"
    return "\n".join(lines) + "\n"


def _differing(before: Bar | None, after: Bar | None, language: str) -> Iterator[tuple[str, str]]:
    was = list(beat_lines(before, language)) if before else []
    is_ = list(beat_lines(after, language)) if after else []
    for first, second in zip_longest(was, is_, fillvalue=wording(language)["spoken.beside.nothing"]):
        if first != second:
            yield first, second
