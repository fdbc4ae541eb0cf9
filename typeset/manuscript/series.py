"""Series: families of exercises that one entry of a chapter makes."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self, get_args

from pydantic import model_validator

from ..pattern.likeness import Likeness
from ..pattern.limb import Limb
from ..pattern.orders import LONGEST_MADE
from ..pattern.selection import Selection
from ..pattern.steps import Step
from ..pattern.steps.dynamics import Accent
from ..pattern.steps.voicing import Voice
from .exercise import EntryText
from .fields import read_as
from .marked import Marked
from .plain import Wrong, as_list, one_of, read_from_one, read_number
from .reads import NUMBER, Listed, Reads, named, or_several, whole, words
from .steps import read_parameters
from .values import GridText, Line, MeterText, Name, Word, YesNo

EASIEST, HARDEST = "easiest-first", "hardest-first"
ALL = "all"

FromOneOn = Annotated[int, Reads(read_from_one, whole(1))]
Alike = Annotated[
    tuple[Annotated[Likeness, Reads(one_of(get_args(Likeness), "likeness"), words(get_args(Likeness)))], ...],
    Listed(as_list),
]


def _all_or_numbers(value: Any) -> tuple[int, ...] | None:
    """`all`, which is None, or numbers."""
    if value == ALL:
        return None
    return tuple(read_number(each) for each in as_list(value))


def _selection(value: Any) -> Selection:
    """Which strokes, written as after the step `accent`."""
    step = read_parameters(Accent, value)
    assert isinstance(step, Accent)
    return step.chosen


def _voice(value: Any) -> Step:
    return read_parameters(Voice, value)


FirstOf = Annotated[
    Literal["easiest-first", "hardest-first"],
    Reads(one_of((EASIEST, HARDEST), "order of a series"), words((EASIEST, HARDEST))),
]
Numbers = Annotated[tuple[int, ...] | None, Reads(_all_or_numbers, {"anyOf": [words([ALL]), or_several(NUMBER)]})]


class Accents(Marked):
    """Every choice of so many accents among some strokes."""

    choose: FromOneOn
    """how many"""
    among: Annotated[Selection, Reads(_selection, named("step-accent"))]
    """of which strokes"""


class Orders(Marked):
    """Every order of strokes that obeys."""

    length: FromOneOn
    """of how many strokes"""
    limbs: Annotated[tuple[Limb, ...], read_as(tuple[Limb, ...])]
    """by which limbs: R, L, K, H"""
    longest_run: FromOneOn | None = None
    """how many strokes by one limb may follow each other, round the end too"""
    distinct: Alike = ()
    """what counts as the same order: order, rotation, reversal, hand-swap"""

    @model_validator(mode="after")
    def _can_be_made(self) -> Self:
        if self.length > LONGEST_MADE:
            raise Wrong(f"orders are made up to a length of {LONGEST_MADE}", "length")
        for index, limb in enumerate(self.limbs):
            if limb in self.limbs[:index]:
                raise Wrong(f"{limb.value} stands here twice", "limbs", index)
        return self


class Each(Marked):
    """What differs from member to member; several keys make every combination.

    `rotate` and `displace` are None for all there are; whether they were said is in `said`.
    """

    rotate: Numbers = ()
    """all, or numbers of strokes to begin later"""
    sequence: Annotated[tuple[Word, ...], Listed(as_list)] = ()
    """sequences by their names"""
    orders: Orders | None = None
    """every order of strokes that obeys"""
    meter: Annotated[tuple[MeterText, ...], Listed(as_list)] = ()
    """a list of meters"""
    grid: Annotated[tuple[GridText, ...], Listed(as_list)] = ()
    """a list of grids; a mixed grid is a list in the list"""
    accents: Accents | None = None
    """every choice of so many accents"""
    voice: Annotated[tuple[Annotated[Step, Reads(_voice, named("step-voice"))], ...], Listed(as_list)] = ()
    """a list of voices, each as after the step voice"""
    displace: Numbers = ()
    """all, or numbers of slots to begin later"""

    @model_validator(mode="after")
    def _says_something(self) -> Self:
        if not self.model_fields_set:
            raise Wrong("say what differs from one to the next, as in each: {rotate: all}")
        if self.sequence and self.orders:
            raise Wrong("the orders come from sequences or are made; say one of the two", "orders")
        return self

    @property
    def said(self) -> tuple[str, ...]:
        """The keys that the author wrote, in that order."""
        return tuple(key for key in self.written if key in type(self).model_fields)


class Keep(Marked):
    """Which members are kept."""

    distinct: Alike = ()
    """what counts as the same: order, rotation, reversal, hand-swap"""
    at_least: FromOneOn | None = None
    """a tempo that it can be played at"""
    linear: YesNo = False
    """yes: only what has no two strokes together"""


class SeriesText(EntryText):
    """A series as written."""

    named_by = "series"

    series: Name
    """its name; its members are called name/1, name/2, ..."""
    title: Line = ""
    """with {n}, {what}, {rotate} and the other keys of each"""
    each: Each
    """what differs from one to the next; several keys make every combination"""
    keep: Keep | None = None
    """which of them are kept"""
    order: FirstOf | None = None
    """easiest-first or hardest-first; left out: as they are made"""
    limit: FromOneOn | None = None
    """the most that are printed"""

    @model_validator(mode="after")
    def _starts_somewhere(self) -> Self:
        makes = bool(self.each.sequence or self.each.orders)
        if self.start is None and not makes:
            raise Wrong("say what this series starts from: start: and an order, a sequence or an id")
        if self.start is not None and makes:
            raise Wrong("its orders come from each:; take start: out", "start")
        return self

    @property
    def id(self) -> str:
        """The series' own name; its members are called name/1, name/2, ..."""
        return self.series
