"""The Book: everything that a book says and plays, worked out and ready to be engraved and laid out."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from ..pattern.bar import Bar, Pattern
from ..pattern.sound import Sound
from ..pattern.tempo import Tempo


class Ending(Enum):
    """The barline that closes a system."""

    BAR = "bar"
    REPEAT = "repeat"
    FINAL = "final"


METER_ROOM = 5.0
"""How far a meter inside a system moves what follows to the right, in millimetres."""


@dataclass(frozen=True, slots=True)
class System:
    """One line of music: what the engraver makes one block of.

    `quarter` is the width of a quarter note in millimetres, the same throughout, so every slot of an
    even grid is as wide as the next. `lead` is the distance in millimetres from the staff's left end to
    the middle of the first slot's note head. The staff is `width` millimetres long. A meter is printed
    before bar `i` where `i` is in `meters_at`.
    """

    bars: tuple[Bar, ...]
    quarter: float
    lead: float
    width: float
    meters_at: tuple[int, ...] = ()
    opens_repeat: bool = False
    ending: Ending = Ending.BAR


@dataclass(frozen=True, slots=True)
class SoundSpecimen:
    """A sound as the drum key shows it: one note on a short staff with its clef."""

    sound: Sound


@dataclass(frozen=True, slots=True)
class NoteSpecimen:
    """A note value as a tempo mark shows it: one note, no staff. `length` as a fraction of a whole note."""

    length: Fraction


@dataclass(frozen=True, slots=True)
class StrokeSpecimen:
    """A way to play a stroke as the how-to-read page shows it: one snare note on a short staff.

    `kind` is `plain`, `accent`, `ghost`, `flam`, `drag`, `buzz` or `diddle`.
    """

    kind: str


Engraving = System | SoundSpecimen | NoteSpecimen | StrokeSpecimen
"""Whatever the engraver makes a block of; frozen and hashable, so it is its own name."""


@dataclass(frozen=True, slots=True)
class Exercise:
    """One exercise as it will be printed.

    `instruction` holds finished sentences in the book's language; `said` is true when they are the
    author's own words instead of the steps' sentences. `parent` is the id it grew out of and
    `parent_number` that exercise's printed number; both None where it starts from a sequence.
    `ceiling` counts the meter's tempo unit a minute.
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

    @property
    def tempo_unit(self) -> Fraction:
        """What its tempo counts, as a fraction of a whole note."""
        return self.pattern.bars[0].meter.tempo_unit


@dataclass(frozen=True, slots=True)
class Text:
    """Paragraphs between exercises, in the author's few marks."""

    text: str


@dataclass(frozen=True, slots=True)
class Chapter:
    """A chapter: its number (1, 2, ...), title, opening text, and what stands in it, in order."""

    number: int
    title: str
    intro: str
    items: tuple[Exercise | Text, ...]

    @property
    def exercises(self) -> tuple[Exercise, ...]:
        """The exercises alone."""
        return tuple(item for item in self.items if isinstance(item, Exercise))


@dataclass(frozen=True, slots=True)
class Book:
    """A whole book. `front` and `back` name its pages before and after the chapters, in order.

    `specimens` are the engravings that those pages show; `date` is as the author wrote it. A `mirrored`
    book is for left-handed players: its strokes and sentences have changed hands already, `{right}` and
    `{left}` in an author's text have not.
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
    mirrored: bool = False

    @property
    def exercises(self) -> tuple[Exercise, ...]:
        """All exercises of all chapters."""
        return tuple(exercise for chapter in self.chapters for exercise in chapter.exercises)

    @property
    def engravings(self) -> tuple[Engraving, ...]:
        """Everything to engrave, each once, in the order of the pages."""
        systems = (system for exercise in self.exercises for system in exercise.systems)
        return tuple(dict.fromkeys((*systems, *self.specimens)))
