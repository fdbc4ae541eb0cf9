"""The Book: everything that a book says and plays, worked out and ready to be engraved and laid out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from ..judge.kit import Kit
from ..pattern.bar import Pattern
from ..pattern.stroke import Slot
from ..pattern.tempo import Tempo
from ..pattern.value import Value
from .engraving import Engraving, System


@dataclass(frozen=True, slots=True)
class Sign:
    """A sign as the how-to-read page shows it, on a few notes of its own.

    `kind` is `endings`, `pickup`, `swell`, `tuplet` or `same-bar`.
    """

    kind: str
    system: System


@dataclass(frozen=True, slots=True)
class Exercise:
    """One exercise as it will be printed.

    `instruction` holds finished sentences in the book's language; `said` is true when they are the
    author's own words instead of the steps' sentences. `parent` is the id it grew out of and
    `parent_number` that exercise's printed number; both None where it starts from a sequence.
    `ceiling` counts the meter's tempo unit a minute. `changed` are the slots, from 0, in which it differs
    from its parent; none where it differs nearly everywhere, and a mark would say nothing. `limited_by` is
    what sets the ceiling and `made_hard_by` what the level is made of, in words. `order` is
    the order of strokes behind it, after its steps on the order; empty for a phrase. `recording` is the address
    of its recording. `made_by` are the keys of its own steps.
    """

    id: str
    number: str
    title: str
    instruction: tuple[str, ...]
    steps: tuple[str, ...]
    pattern: Pattern
    tempo: Tempo | None
    plays_on: bool
    times: int | None
    feel: str
    systems: tuple[System, ...]
    level: int
    ceiling: int
    parent: str | None = None
    parent_number: str | None = None
    series: str | None = None
    note: str | None = None
    said: bool = False
    new_page: bool = False
    changed: tuple[int, ...] = ()
    limited_by: str = ""
    made_hard_by: str = ""
    order: tuple[Slot, ...] = ()
    recording: str | None = None
    made_by: tuple[str, ...] = ()

    @property
    def tempo_unit(self) -> Fraction:
        """What its tempo counts, as a fraction of a whole note."""
        return self.pattern.bars[0].meter.tempo_unit


@dataclass(frozen=True, slots=True)
class Task:
    """Something to write or to find, about one exercise or about two.

    `kind` is `write-the-sticking`, `write-the-count`, `write-the-notes`, `find-the-accents` or
    `spot-the-change`; `number` counts tasks through the book. `asked` are the systems to print, for each
    exercise it is about; `of` are those exercises, which hold the answer. `answer` says it in words where
    the music alone does not, and `accepts` what else is right. `is_inline` asks for the answer beside it.
    """

    kind: str
    number: int
    title: str
    asks: str
    of: tuple[Exercise, ...]
    asked: tuple[tuple[System, ...], ...]
    answer: tuple[str, ...] = ()
    accepts: str | None = None
    note: str | None = None
    is_inline: bool = False
    new_page: bool = False

    @property
    def shows_sticking(self) -> bool:
        """True where the letters are given and not asked for."""
        return self.kind != "write-the-sticking"

    @property
    def shows_counts(self) -> bool:
        """True where the counts are given and not asked for."""
        return self.kind != "write-the-count"


@dataclass(frozen=True, slots=True)
class Text:
    """Paragraphs between exercises, in the author's few marks."""

    text: str


Item = Exercise | Task | Text


@dataclass(frozen=True)
class Chapter(Value):
    """A chapter: its number (1, 2, ...), title, opening text, and what stands in it, in order."""

    number: int
    title: str
    intro: str
    items: tuple[Item, ...]

    @cached_property
    def exercises(self) -> tuple[Exercise, ...]:
        """The exercises alone."""
        return tuple(item for item in self.items if isinstance(item, Exercise))

    @cached_property
    def tasks(self) -> tuple[Task, ...]:
        """The tasks alone."""
        return tuple(item for item in self.items if isinstance(item, Task))

    @cached_property
    def engravings(self) -> tuple[Engraving, ...]:
        """Everything to engrave for it, each once: its exercises, what its tasks ask, and their answers."""
        exercises = (system for exercise in self.exercises for system in exercise.systems)
        asked = (system for task in self.tasks for systems in task.asked for system in systems)
        answers = (system for task in self.tasks for exercise in task.of for system in exercise.systems)
        return tuple(dict.fromkeys((*exercises, *asked, *answers)))


@dataclass(frozen=True)
class Book:
    """A whole book. `front` and `back` name its pages before and after the chapters, in order.

    `specimens` are the engravings that those pages show, and `signs` those that need a few bars; `date` is as
    the author wrote it. A `mirrored` book is for left-handed players: its strokes, its sentences and its `kit`
    have changed hands already, `{right}` and `{left}` in an author's text have not. A book `for_teacher`
    prints each `note`. `isbn` is that of this edition, as the author wrote it.
    """

    title: str
    subtitle: str | None
    author: str | None
    edition: str | None
    date: str | None
    language: str
    chapters: tuple[Chapter, ...]
    front: tuple[str, ...]
    back: tuple[str, ...]
    specimens: tuple[Engraving, ...]
    kit: Kit
    mirrored: bool = False
    sound_levels: tuple[int, ...] = ()
    for_teacher: bool = False
    signs: tuple[Sign, ...] = ()
    isbn: str | None = None

    @cached_property
    def exercises(self) -> tuple[Exercise, ...]:
        """All exercises of all chapters."""
        return tuple(exercise for chapter in self.chapters for exercise in chapter.exercises)

    @cached_property
    def tasks(self) -> tuple[Task, ...]:
        """All tasks of all chapters."""
        return tuple(task for chapter in self.chapters for task in chapter.tasks)

    @cached_property
    def places(self) -> Mapping[str, tuple[int, int]]:
        """For each exercise by its id its chapter and its place in that, from 0."""
        return {
            exercise.id: (number, place)
            for number, chapter in enumerate(self.chapters)
            for place, exercise in enumerate(chapter.exercises)
        }

    def find(self, name: str) -> Exercise | None:
        """An exercise by its id or its number; None where there is none."""
        return next((one for one in self.exercises if name in (one.id, one.number)), None)

    @cached_property
    def engravings(self) -> tuple[Engraving, ...]:
        """Everything to engrave, each once, in the order of the pages."""
        music = (engraving for chapter in self.chapters for engraving in chapter.engravings)
        signs = (sign.system for sign in self.signs)
        return tuple(dict.fromkeys((*music, *self.specimens, *signs)))
