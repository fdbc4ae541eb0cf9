"""What a file holds, before its limbs and its order are worked out: notes, measures, pieces."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from ..pattern.grid import Grid
from ..pattern.limb import Limb
from ..pattern.meter import Meter
from ..pattern.sound import Sound
from ..pattern.stroke import Dynamic, Ornament
from ..pattern.swell import Swell
from ..pattern.tempo import Tempo

MOST_BYTES = 16 * 1024 * 1024
"""The largest file that is read, unpacked; a book of a thousand exercises has about as much."""

Price = Callable[[Fraction], float]
"""How unlikely it is that a note was meant so far, as a fraction of a whole note, from where it stands."""


class NotRead(Exception):
    """A file that cannot be read at all: why, and at which line, where it has lines."""

    def __init__(self, what: str, line: int = 1) -> None:
        super().__init__(what)
        self.line = line


@dataclass(frozen=True, slots=True)
class Note:
    """A stroke as the file has it: when, as a fraction of a whole note from its barline, and on what.

    `limbs` are those that the file says: none, one, or both hands on one head.
    """

    onset: Fraction
    sound: Sound
    dynamic: Dynamic = Dynamic.PLAIN
    ornament: Ornament | None = None
    limbs: tuple[Limb, ...] = ()


@dataclass(frozen=True)
class Measure:
    """A bar as the file has it.

    `written` are the grids that tuplets say, by the quarter they stand in, from 0; None where a file writes
    no values, but only has times. `lead` is what a pickup lacks at its beginning.
    """

    meter: Meter
    notes: tuple[Note, ...] = ()
    written: Mapping[int, str] | None = field(default_factory=dict)
    lead: Fraction = Fraction(0)


@dataclass(frozen=True)
class Laid:
    """A bar on a grid: for each slot the notes that stand there. A pickup has the last slots alone."""

    meter: Meter
    grid: Grid
    slots: tuple[tuple[Note, ...], ...]


@dataclass(frozen=True)
class Piece:
    """Music that will be one exercise.

    `endings` says how many of its last bars each ending has, `swells` lie over the bars. `doubts` say, each in
    one line, what it could also be.
    """

    title: str
    bars: tuple[Laid, ...]
    tempo: Tempo | None = None
    feel: str = "straight"
    loops: bool = True
    times: int | None = None
    pickup: Laid | None = None
    endings: tuple[int, ...] = ()
    swells: tuple[Swell, ...] = ()
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Remark:
    """Something that could not be read, and at which line of the file, where it has lines."""

    what: str
    line: int = 1


@dataclass(frozen=True)
class Found:
    """All that was found in a file: its title, its pieces in order, and what could not be read."""

    title: str
    pieces: tuple[Piece, ...]
    remarks: tuple[Remark, ...] = ()
