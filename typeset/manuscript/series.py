"""Series: families of exercises that one entry of a chapter makes."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self, get_args

from pydantic import BeforeValidator, PlainValidator, model_validator

from ..pattern.likeness import Likeness
from ..pattern.limb import Limb
from ..pattern.orders import LONGEST_MADE
from ..pattern.selection import Selection
from ..pattern.steps import Step
from ..pattern.steps.dynamics import Accent
from ..pattern.steps.voicing import Voice
from .fields import Wrong, as_list, one_of, read_as, read_from_one, read_number
from .marked import Marked
from .models import (
    Feel,
    GridText,
    Line,
    MeterText,
    Name,
    Paragraphs,
    Play,
    Steps,
    TempoText,
    Times,
    Word,
    YesNo,
)
from .steps import read_parameters

EASIEST, HARDEST = "easiest-first", "hardest-first"
ALL = "all"

FromOneOn = Annotated[int, PlainValidator(read_from_one)]
Alike = Annotated[
    tuple[Annotated[Likeness, PlainValidator(one_of(get_args(Likeness), "likeness"))], ...],
    BeforeValidator(as_list),
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
    PlainValidator(one_of((EASIEST, HARDEST), "order of a series")),
]
Numbers = Annotated[tuple[int, ...] | None, PlainValidator(_all_or_numbers)]


class Accents(Marked):
    """Every choice of so many accents among some strokes."""

    choose: FromOneOn
    among: Annotated[Selection, PlainValidator(_selection)]


class Orders(Marked):
    """Every order of strokes that obeys."""

    length: FromOneOn
    limbs: Annotated[tuple[Limb, ...], read_as(tuple[Limb, ...])]
    longest_run: FromOneOn | None = None
    distinct: Alike = ()

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
    sequence: Annotated[tuple[Word, ...], BeforeValidator(as_list)] = ()
    orders: Orders | None = None
    meter: Annotated[tuple[MeterText, ...], BeforeValidator(as_list)] = ()
    grid: Annotated[tuple[GridText, ...], BeforeValidator(as_list)] = ()
    accents: Accents | None = None
    voice: Annotated[tuple[Annotated[Step, PlainValidator(_voice)], ...], BeforeValidator(as_list)] = ()
    displace: Numbers = ()

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
    at_least: FromOneOn | None = None
    linear: YesNo = False


class SeriesText(Marked):
    """A series as written."""

    series: Name
    title: Line = ""
    start: Word | None = None
    each: Each
    keep: Keep | None = None
    order: FirstOf | None = None
    limit: FromOneOn | None = None
    steps: Steps = ()
    meter: MeterText | None = None
    grid: GridText | None = None
    tempo: TempoText | None = None
    play: Play | None = None
    times: Times | None = None
    feel: Feel | None = None
    say: Paragraphs | None = None
    note: Paragraphs | None = None
    new_page: YesNo = False
    linear: YesNo | None = None

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
