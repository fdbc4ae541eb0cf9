"""The names of a book: sequences and exercises share one namespace, book-wide."""

from __future__ import annotations

import re
from dataclasses import dataclass

from ..manuscript.exercise import ExerciseText
from ..manuscript.models import Chapter, Manuscript
from ..manuscript.series import SeriesText
from ..manuscript.shared import SharedSequence, SharedSequences
from ..nearest import near
from ..pattern.grid import Grid
from ..pattern.meter import Meter
from ..pattern.order import Order, SequenceError, read_order
from ..problem import Problem
from ..text_file import short

_NUMBER = re.compile(r"[1-9][0-9]{0,8}")
_WRITTEN_OUT = re.compile(r"^[RLKHrlkh.!+()x×0-9\s]+$")


MOST_LIKENED = 100
"""The most wrong names that a right one is looked for."""


class Unknown(Exception):
    """A name that nothing in the book has, or an order that cannot be read."""


class Broken(Exception):
    """A name that the book has, but what it names has errors of its own, which are reported there."""


@dataclass(frozen=True)
class Named:
    """The order that a name means, or that is written out.

    `said` is what a sentence calls it, empty where its strokes are written out. `grid` and `meter` are those
    it is usually set in, where its group says so.
    """

    order: Order
    said: str = ""
    grid: Grid | None = None
    meter: Meter | None = None


class Names:
    """Finds sequences, exercises, series and orders that are written out.

    `group/name` is a sequence of a group that several books share.
    """

    def __init__(self, manuscript: Manuscript) -> None:
        self.shared = SharedSequences(manuscript.folder)
        self.sequences: dict[str, Order | None] = {}
        self.wrong_names = 0
        self.all_are_known = not manuscript.broken
        self.exercises: dict[str, tuple[ExerciseText, Chapter]] = {}
        self.series: dict[str, tuple[SeriesText, Chapter]] = {}
        for chapter in manuscript.chapters:
            for sequence in chapter.sequences:
                self.sequences.setdefault(sequence.name, sequence.order)
            for item in chapter.items:
                if isinstance(item, ExerciseText):
                    self.exercises.setdefault(item.id, (item, chapter))
                elif isinstance(item, SeriesText):
                    self.series.setdefault(item.id, (item, chapter))

    def is_exercise(self, name: str) -> bool:
        """True where the name is an exercise's id, or a series' name with a member's number."""
        series, _, number = name.rpartition("/")
        return name in self.exercises or (series in self.series and _NUMBER.fullmatch(number) is not None)

    def member(self, name: str) -> tuple[str, int]:
        """The series and the number, from 1, that a member's id says."""
        series, _, number = name.rpartition("/")
        return series, int(number)

    @property
    def problems(self) -> tuple[Problem, ...]:
        """What is wrong in the book's own groups that were asked for."""
        return tuple(self.shared.problems)

    def named(self, name: str) -> Named:
        """What a sequence's name means, or an order written out.

        Raises Unknown with what would be right, or Broken.
        """
        if name in self.sequences:
            return _sound(SharedSequence(order=self.sequences[name]))
        shared = self.shared.find(name)
        if shared:
            return _sound(shared)
        if not _WRITTEN_OUT.match(name):
            raise Unknown(self.no_such(name))
        try:
            return Named(read_order(name))
        except SequenceError as error:
            raise Unknown(str(error)) from None

    def no_such(self, name: str) -> str:
        """What to tell an author who used a name that there is not, or not in what could be read."""
        meant = self._meant(name)
        if not self.all_are_known:
            remedy = f"'{meant}' would be nearest" if meant else "it may stand there"
            unread = "outside the chapter that cannot be read"
            return f"there is no sequence or exercise '{short(name)}' {unread}; {remedy}"
        if meant:
            remedy = f"did you mean '{meant}'?"
        elif "/" in name:
            remedy = f"groups of sequences that books share are {', '.join(self.shared.groups())}"
        else:
            remedy = "an order can also be written out, as R L R K L"
        return f"there is no sequence or exercise '{short(name)}'; {remedy}"

    def _meant(self, name: str) -> str | None:
        """The name that is nearest: the book's own first, but a shared one where its group is not said.

        Looking takes its time in a large book, so after many wrong names no more is looked for.
        """
        self.wrong_names += 1
        if self.wrong_names > MOST_LIKENED:
            return None
        own = {known: known for known in (*self.sequences, *self.exercises, *self.series)}
        shared = {part: full for full in self.shared.names() for part in (full.partition("/")[2], full)}
        is_shared = "/" in name or name in shared
        for known in (shared, own) if is_shared else (own, shared):
            found = near(name, known)
            if found:
                return known[found]
        return None


def _sound(found: SharedSequence) -> Named:
    if found.order is None:
        raise Broken
    return Named(found.order, found.title, found.grid, found.meter)
