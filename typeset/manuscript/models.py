"""A book and its chapters: the keys an author may write, and what was written under them."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, NamedTuple, TypeAlias, get_args

from pydantic import AfterValidator, Field, PlainValidator

from ..pattern.order import Order
from ..problem import Mark
from .exercise import ExerciseText, Settings, TextBlock
from .figures import USUAL_KIT
from .isbn import read_isbn
from .marked import Marked
from .plain import as_list
from .reads import TEXT, Listed, Reads, matching
from .recordings import Recordings, read_recordings
from .series import SeriesText
from .tasks import TaskText
from .values import (
    FRONT_PAGES,
    Answers,
    Back,
    Date,
    Decibels,
    Front,
    Language,
    Line,
    Name,
    Paragraphs,
    Player,
    Prose,
    Word,
    YesNo,
    each_once,
)

Item: TypeAlias = ExerciseText | SeriesText | TaskText | TextBlock


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
    """A chapter as written: its own keys, what stands in it in order, and its file."""

    head: ChapterHead
    sequences: tuple[Sequence, ...]
    set: Settings
    items: tuple[Item, ...]
    file: Path
    mark: Mark

    @property
    def title(self) -> str:
        """What stands over it."""
        return self.head.chapter

    @property
    def intro(self) -> str:
        """The paragraphs under its title."""
        return self.head.intro

    @property
    def exercises(self) -> tuple[ExerciseText, ...]:
        """The exercises alone."""
        return tuple(item for item in self.items if isinstance(item, ExerciseText))

    @property
    def linear(self) -> bool | None:
        """Whether any two strokes together are an error in its exercises."""
        return self.set.linear if self.head.linear is None else self.head.linear


class Edition(Marked):
    """A further PDF of the same book."""

    answers: Answers | None = None
    """inline prints answers beside the tasks, and your notes; back prints answers in the back"""
    mirror: YesNo = False
    """yes: right and left hand change places"""
    style: Word | None = None
    """another style than the book's"""
    isbn: Annotated[str, Reads(read_isbn, TEXT)] | None = None
    """its own ISBN: the book's is for the book as it is (ISO 2108)"""

    @property
    def is_plain(self) -> bool:
        """True for the book as it is."""
        return self.style is None and self.answers is None and not self.mirror

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
    kit: Word = USUAL_KIT
    """a kit by its name: one of those that travel with the program, or a file in kits/ beside the book"""
    sound_levels: Annotated[tuple[Decibels, ...], Listed(as_list)] = ()
    """in dBA, for the table on the care page"""
    recordings: Annotated[Recordings, Reads(read_recordings, matching(r"\{number\}"))] | None = None
    """the address of your recordings, with {number} where an exercise's number goes"""
    front: Front = FRONT_PAGES
    """the pages before the chapters"""
    back: Back = ("index",)
    """the pages after them"""
    editions: dict[Name, Edition] = Field(default_factory=dict)
    """a name for each further PDF of the same book"""

    @property
    def kit_mark(self) -> Mark | None:
        """Where it names its kit, if it does."""
        return self.mark_where_said("kit")

    @property
    def style_mark(self) -> Mark | None:
        """Where it names its style, if it does."""
        return self.mark_where_said("style")


class BookText(About):
    """The keys of book.yaml."""

    chapters: Annotated[tuple[Word, ...], Listed(as_list), AfterValidator(each_once)]
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
