"""An exercise as written, and what stands between exercises."""

from __future__ import annotations

from typing import Annotated, Any, Self

from pydantic import model_validator

from .marked import Marked
from .plain import Missing, Wrong, as_list
from .reads import TEXT, Listed
from .values import (
    Feel,
    GridText,
    Line,
    MeterText,
    Name,
    OrderText,
    Paragraphs,
    Play,
    Start,
    Steps,
    TempoText,
    Times,
    Word,
    YesNo,
)
from .written import KEY, WrittenMap, find


class Settings(Marked):
    """What every exercise of a chapter starts from; None where nothing is said."""

    meter: MeterText | None = None
    """such as 4/4, 6/8 or 7/8 (3+2+2)"""
    grid: GridText | None = None
    """into what a quarter is divided: 8ths, triplets, 16ths, ..., or a list, one for each quarter"""
    tempo: TempoText | None = None
    """80, or 60-100 for a start and a goal"""
    feel: Feel | None = None
    """straight, or swung eighths or sixteenths"""
    linear: YesNo | None = None
    """yes: two strokes together are an error"""


class Part(Marked):
    """A part of a phrase: an exercise by its id, how many of its bars (None: all), and how often."""

    use: Word
    """an exercise by its id"""
    bars: Times | None = None
    """how many of its bars, from its first; left out: all"""
    times: Times = 1
    """how often"""


def _as_parts(value: Any) -> Any:
    """A bare id in a phrase means all bars of that exercise, once."""
    return [{"use": part} if isinstance(part, str) else part for part in as_list(value)]


Parts = Annotated[tuple[Part, ...], Listed(_as_parts, alone=TEXT)]

MUSIC = {"start", "phrase", "steps", "meter", "grid", "play", "pickup", "endings"}
"""The keys of an exercise without which its music cannot be worked out."""


class EntryText(Marked):
    """The keys that an exercise and a series share."""

    title: Line = ""
    """what stands over it; left out: its id"""
    start: Start | None = None
    """a sequence, an order written out, or an exercise by its id"""
    steps: Steps = ()
    """what is done to it, one step after the other"""
    meter: MeterText | None = None
    """such as 4/4; where it starts from an exercise, use the step remeter"""
    grid: GridText | None = None
    """such as 16ths; where it starts from an exercise, use the step regrid"""
    tempo: TempoText | None = None
    """80, or 60-100 for a start and a goal"""
    play: Play | None = None
    """loop prints repeat signs; once does not"""
    times: Times | None = None
    """how often it is played"""
    feel: Feel | None = None
    """straight, or swung eighths or sixteenths"""
    say: Paragraphs | None = None
    """an instruction in your words, instead of the sentences of its steps"""
    note: Paragraphs | None = None
    """for the teacher; printed in the edition with its answers inline"""
    new_page: YesNo = False
    """yes: it begins a page"""
    linear: YesNo | None = None
    """yes: two strokes together are an error"""


class ExerciseText(EntryText):
    """An exercise as written: an order or an exercise to start from, or a phrase, and steps.

    It is broken where its music cannot be worked out; an error in another key leaves that key out.
    """

    named_by = "id"

    id: Name
    """its name, by which others start from it; no two alike in a book"""
    phrase: Parts = ()
    """instead of start: exercises one after the other"""
    pickup: OrderText | None = None
    """an order of strokes before bar 1"""
    endings: Parts = ()
    """exercises by their ids: the last bars of the first pass, of the second, ..."""

    @model_validator(mode="after")
    def _starts_once(self) -> Self:
        if self.start is None and not self.phrase:
            raise Missing(
                "say what this exercise starts from: start: and an order, a sequence or an id, or phrase:"
            )
        if self.start is not None and self.phrase:
            raise Wrong("an exercise starts from one thing: take out start: or phrase:", "phrase", KEY)
        return self

    @model_validator(mode="after")
    def _comes_to_its_endings(self) -> Self:
        if not self.endings:
            return self
        if len(self.endings) == 1:
            raise Wrong("there are two endings or more: the first leads back, the last ends", "endings")
        if self.play == "loop":
            raise Wrong("what has endings ends with the last of them; take out play: loop", "play", KEY)
        if self.times is not None and self.times < len(self.endings):
            raise Wrong(f"{len(self.endings)} endings take {len(self.endings)} times at least", "times")
        return self

    def placed(self, written: WrittenMap, broken: bool = False) -> Self:
        """The same exercise, standing where this was written; so does a bare id that it names."""
        for key, parts in (("phrase", self.phrase), ("endings", self.endings)):
            for index, part in enumerate(parts):
                if not part.is_placed:
                    at = find(written, [key, index]).event
                    part.placed(WrittenMap(written.file, at))
        return super().placed(written, broken)


class TextBlock(Marked):
    """A paragraph, or several, between exercises."""

    text: Paragraphs
    """paragraphs with *emphasis*, **strong**, - lists and [words](address)"""
