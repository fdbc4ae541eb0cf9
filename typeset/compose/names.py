"""The names of a book: sequences and exercises share one namespace, book-wide."""

from __future__ import annotations

import difflib
import re

from ..manuscript.models import Chapter, ExerciseText, Manuscript
from ..manuscript.series import SeriesText
from ..pattern.order import Order, SequenceError, read_order

_WRITTEN_OUT = re.compile(r"^[RLKHrlkh.!+()x×0-9\s]+$")


class Unknown(Exception):
    """A name that nothing in the book has, or an order that cannot be read."""


class Broken(Exception):
    """A name that the book has, but what it names has errors of its own, which are reported there."""


class Names:
    """Finds sequences, exercises, series and orders that are written out."""

    def __init__(self, manuscript: Manuscript) -> None:
        self.sequences: dict[str, Order | None] = {}
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
        return name in self.exercises or (series in self.series and number.isdecimal() and int(number) > 0)

    def member(self, name: str) -> tuple[str, int]:
        """The series and the number, from 1, that a member's id says."""
        series, _, number = name.rpartition("/")
        return series, int(number)

    def order(self, name: str) -> Order:
        """The order of a sequence, or one written out.

        Raises Unknown with what would be right, or Broken.
        """
        if name in self.sequences:
            order = self.sequences[name]
            if order is None:
                raise Broken
            return order
        if not _WRITTEN_OUT.match(name):
            raise Unknown(self.no_such(name))
        try:
            return read_order(name)
        except SequenceError as error:
            raise Unknown(str(error)) from None

    def no_such(self, name: str) -> str:
        """What to tell an author who used a name that there is not."""
        near = difflib.get_close_matches(name, [*self.sequences, *self.exercises, *self.series], n=1)
        if near:
            return f"there is no sequence or exercise '{name}'; did you mean '{near[0]}'?"
        return f"there is no sequence or exercise '{name}'; an order can also be written out, as R L R K L"
