"""What stands in a book's files: the keys an author may write, and how each value is read."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Literal, NamedTuple, Self, TypeAlias, get_args

from pydantic import AfterValidator, Field, PlainValidator, model_validator

from ..pattern.grid import Grid
from ..pattern.meter import Meter
from ..pattern.order import Order
from ..pattern.tempo import Tempo
from ..problem import Mark
from .fields import (
    Missing,
    Wrong,
    as_list,
    one_of,
    read_as,
    read_line,
    read_music,
    read_name,
    read_text,
    read_yes_no,
)
from .isbn import read_isbn
from .marked import Marked
from .reads import NAME, TEXT, YES_NO, Listed, Reads, matching, named, whole, words
from .recordings import Recordings, read_recordings
from .steps import StepLine, read_step
from .written import KEY, WrittenMap, find

if TYPE_CHECKING:
    from .series import SeriesText
    from .tasks import TaskText

MOST_TIMES = 99


class Prose:
    """Marks a field of running text, which YAML would cut short at a comment."""


def _date(value: Any) -> str:
    text = read_line(value)
    try:
        if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
            raise ValueError
        date.fromisoformat(text)
    except ValueError:
        raise Wrong(f"'{text}' is no date; write it as 2026-09-01 (year-month-day)") from None
    return text


def _decibels(value: Any) -> int:
    number = int(read_line(value)) if isinstance(value, str) and value.strip().isdigit() else 0
    if not 70 <= number <= 140:
        raise Wrong("write a sound level in dBA as a number from 70 to 140")
    return number


def _times(value: Any) -> int:
    number = int(read_line(value)) if isinstance(value, str) and value.strip().isdigit() else 0
    if not 1 <= number <= MOST_TIMES:
        raise Wrong(f"write how many times as a number from 1 to {MOST_TIMES}")
    return number


def _each_once(values: tuple[str, ...]) -> tuple[str, ...]:
    for index, value in enumerate(values):
        if value in values[:index]:
            raise Wrong(f"'{value}' stands here twice", index)
    return values


def _options(hint: Any, what: str = "") -> Reads:
    return Reads(one_of(get_args(hint), what), words(get_args(hint)))


Line = Annotated[str, Reads(read_line, TEXT), Prose]
Paragraphs = Annotated[str, Reads(read_text, TEXT), Prose]
Word = Annotated[str, Reads(read_line, TEXT)]
Start = Annotated[str, Reads(read_music, TEXT)]
Name = Annotated[str, Reads(read_name, NAME)]
YesNo = Annotated[bool, Reads(read_yes_no, YES_NO)]
Times = Annotated[int, Reads(_times, whole(1, MOST_TIMES))]
Date = Annotated[str, Reads(_date, matching(r"^\s*\d{4}-\d{2}-\d{2}\s*$"))]

_Feel = Literal["straight", "swing-8ths", "swing-16ths"]
_Play = Literal["loop", "once"]
_Answers = Literal["inline", "back"]
_Player = Literal["beginner", "intermediate", "advanced"]
_Language = Literal["en", "de", "es", "fr", "pt"]
_FrontPage = Literal["title-page", "imprint", "contents", "how-to-read", "drum-key", "care"]
_BackPage = Literal["answers", "practice-log", "index", "family"]

Feel = Annotated[_Feel, _options(_Feel, "feel")]
Play = Annotated[_Play, _options(_Play)]
Decibels = Annotated[int, Reads(_decibels, whole(70, 140))]
Player = Annotated[_Player, _options(_Player, "player")]
Answers = Annotated[_Answers, _options(_Answers)]
Language = Annotated[_Language, _options(_Language, "language of this program")]
FrontPage = Annotated[_FrontPage, _options(_FrontPage, "page of the front")]
BackPage = Annotated[_BackPage, _options(_BackPage, "page of the back")]
Front = Annotated[tuple[FrontPage, ...], Listed(as_list), AfterValidator(_each_once)]
Back = Annotated[tuple[BackPage, ...], Listed(as_list), AfterValidator(_each_once)]
Steps = Annotated[tuple[Annotated[StepLine, Reads(read_step, named("step"))], ...], Listed(as_list)]
MeterText = Annotated[Meter, read_as(Meter)]
GridText = Annotated[Grid, read_as(Grid)]
TempoText = Annotated[Tempo, read_as(Tempo)]
OrderText = Annotated[Order, read_as(Order)]


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


class ExerciseText(Marked):
    """An exercise as written: an order or an exercise to start from, or a phrase, and steps.

    It is broken where its music cannot be worked out; an error in another key leaves that key out.
    """

    id: Name
    """its name, by which others start from it; no two alike in a book"""
    title: Line = ""
    """what stands over it; left out: its id"""
    start: Start | None = None
    """a sequence, an order written out, or an exercise by its id"""
    phrase: Parts = ()
    """instead of start: exercises one after the other"""
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
    pickup: OrderText | None = None
    """an order of strokes before bar 1"""
    endings: Parts = ()
    """exercises by their ids: the last bars of the first pass, of the second, ..."""
    new_page: YesNo = False
    """yes: it begins a page"""
    linear: YesNo | None = None
    """yes: two strokes together are an error"""

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


Item: TypeAlias = "ExerciseText | SeriesText | TaskText | TextBlock"


class Sequence(NamedTuple):
    """A named order of a chapter; `order` is None where it could not be read."""

    name: str
    text: str
    order: Order | None
    mark: Mark


class ChapterHead(Marked):
    """The keys of a chapter's file; what stands under them is read piece by piece."""

    chapter: Line
    """its title"""
    intro: Paragraphs = ""
    """paragraphs under its title"""
    linear: YesNo | None = None
    """yes: two strokes together are an error anywhere in it"""
    sequences: Any = None
    """names for orders of strokes, as in stairs: R L R K L"""
    set: Any = None
    """what every exercise here starts from: meter, grid, tempo, feel, linear"""
    exercises: Any = ()
    """exercises, series, tasks and text, in the order in which they are printed"""


@dataclass(frozen=True)
class Chapter:
    """A chapter as written, its file, and what stands in it in order."""

    title: str
    intro: str
    sequences: tuple[Sequence, ...]
    set: Settings
    items: tuple[Item, ...]
    file: Path
    mark: Mark
    says_linear: bool | None = None

    @property
    def exercises(self) -> tuple[ExerciseText, ...]:
        """The exercises alone."""
        return tuple(item for item in self.items if isinstance(item, ExerciseText))

    @property
    def linear(self) -> bool | None:
        """Whether any two strokes together are an error in its exercises."""
        return self.set.linear if self.says_linear is None else self.says_linear


class Edition(Marked):
    """A further PDF of the same book."""

    answers: Answers | None = None
    """inline prints answers beside the tasks, and your notes; back prints answers in the back"""
    mirror: YesNo = False
    """yes: right and left hand change places"""
    style: Word | None = None
    """another style than the book's"""

    @property
    def style_mark(self) -> Mark | None:
        """Where it names its style, if it does."""
        return self.mark_where_said("style")


class About(Marked):
    """What a book says about itself."""

    title: Line
    """the title of the book"""
    subtitle: Line | None = None
    """a line under the title"""
    author: Line | None = None
    """who wrote it"""
    edition: Line | None = None
    """such as First edition"""
    date: Date | None = None
    """as 2026-09-01"""
    isbn: Annotated[str, Reads(read_isbn, TEXT)] | None = None
    """ten or thirteen digits, with or without hyphens"""
    language: Language = "en"
    """of everything that the program prints"""
    style: Word = "a4-workbook"
    """a style by its name: one of those that travel with the program, or a file beside the book"""
    player: Player | None = None
    """whose ceilings are printed"""
    sound_levels: Annotated[tuple[Decibels, ...], Listed(as_list)] = ()
    """in dBA, for the table on the care page"""
    recordings: Annotated[Recordings, Reads(read_recordings, matching(r"\{number\}"))] | None = None
    """the address of your recordings, with {number} where an exercise's number goes"""
    front: Front = get_args(_FrontPage)
    """the pages before the chapters"""
    back: Back = ("index",)
    """the pages after them"""
    editions: dict[Name, Edition] = Field(default_factory=dict)
    """a name for each further PDF of the same book"""

    @property
    def style_mark(self) -> Mark | None:
        """Where it names its style, if it does."""
        return self.mark_where_said("style")


class BookText(About):
    """The keys of book.yaml."""

    chapters: Annotated[tuple[Word, ...], Listed(as_list), AfterValidator(_each_once)]
    """the files of the chapters, in the order in which they are printed"""


class Manuscript(About):
    """A whole book as written. `name` is what its PDF is called after, `path` its book.yaml."""

    path: Path
    name: str
    chapters: Annotated[tuple[Chapter, ...], PlainValidator(tuple)]

    @property
    def folder(self) -> Path:
        """Where the book's own styles and figures stand: beside its file."""
        return self.path.parent


def prose_keys(*models: type[Marked]) -> frozenset[str]:
    """The keys of running text in these models."""
    return frozenset(
        field.alias or name
        for model in models
        for name, field in model.model_fields.items()
        if Prose in (*field.metadata, *(mark for part in get_args(field.annotation) for mark in get_args(part)))
    )
