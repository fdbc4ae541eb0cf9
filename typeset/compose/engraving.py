"""What the engraver makes blocks of: a line of music, or a specimen of a sound, a note value, a way to play."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from ..pattern.bar import Bar
from ..pattern.sound import Sound


class Ending(Enum):
    """The barline that closes a system."""

    BAR = "bar"
    REPEAT = "repeat"
    FINAL = "final"


METER_ROOM = 5.0
"""How far a meter inside a system moves what follows to the right, in millimetres."""

REPEAT_ROOM = 3.4
"""How far a repeat sign inside a system does."""


@dataclass(frozen=True, slots=True)
class Volta:
    """A bracket over an ending, or over as much of it as stands in one system.

    It begins over the system's bar `first`, from 0, and covers so many `bars`. `label` says on which passes
    the ending is played, such as `1.`; it is empty where the ending began in the system before. A repeat
    sign stands at its end where it `repeats`.
    """

    first: int
    bars: int
    label: str
    repeats: bool


@dataclass(frozen=True, slots=True)
class Hairpin:
    """The sign of a swell, or of as much of it as stands in one system.

    It goes from the slot at `start` to the slot at `end`, fractions of a whole note from the first bar's
    barline, and where the swell goes on in the next system to the end of this one. `left` and `right` say
    how far it is open there: 0 is shut, 1 as wide as it gets.
    """

    start: Fraction
    end: Fraction
    left: Fraction
    right: Fraction


@dataclass(frozen=True, slots=True)
class System:
    """One line of music: what the engraver makes one block of.

    `quarter` is the width of a quarter note in millimetres, the same throughout, so within a bar every slot
    of an even grid is as wide as the next. `lead` is the distance in millimetres from the staff's left end to
    the middle of the first slot's note head. The staff is `width` millimetres long. A meter is printed
    before bar `i` where `i` is in `meters_at`. A `blank` system has its meter and bars, and room for notes
    to be written in, but no note and no rest. A `pickup` stands before the first bar, and before the
    repeat sign where one opens; its slots come first. Bar `i` is the one before once more where `i` is in
    `same`; a style may print a sign for it. `eases` are the millimetres that what stands beside the
    barline before each bar, the pickup's too, needs there besides the slots' own width; none where empty.
    """

    bars: tuple[Bar, ...]
    quarter: float
    lead: float
    width: float
    meters_at: tuple[int, ...] = ()
    opens_repeat: bool = False
    ending: Ending = Ending.BAR
    blank: bool = False
    pickup: Bar | None = None
    voltas: tuple[Volta, ...] = ()
    hairpins: tuple[Hairpin, ...] = ()
    same: tuple[int, ...] = ()
    eases: tuple[float, ...] = ()

    @property
    def every_bar(self) -> tuple[Bar, ...]:
        """The bars, and before them the pickup where there is one."""
        return (self.pickup, *self.bars) if self.pickup else self.bars

    @property
    def repeats_inside(self) -> bool:
        """True where the repeat opens after a pickup, and not at the staff's beginning."""
        return self.opens_repeat and self.pickup is not None

    @property
    def closings(self) -> frozenset[int]:
        """The bars, from 0, before which a repeat closes inside the system."""
        ends = {volta.first + volta.bars for volta in self.voltas if volta.repeats}
        return frozenset(end for end in ends if end < len(self.bars))


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
