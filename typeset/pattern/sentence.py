"""What a step says to a reader, before it is put into words of a language."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True)
class Sentence:
    """A sentence of a step: whose it is, which of its forms, and what goes into it.

    `english` is the form's template with `{names}`, empty where the English catalogue has it; other languages
    have theirs in the catalogues, found by `step` and `form`. `values` are values of the music (a Selection,
    Sounds, Places, numbers), put into words by `wording/`.
    """

    step: str
    form: str
    english: str
    values: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Ordinal:
    """A number said as first, second, third."""

    number: int


@dataclass(frozen=True, slots=True)
class Times:
    """A number said as once, twice, three times."""

    number: int


@dataclass(frozen=True, slots=True)
class Pairs:
    """Who plays what, as the two sides of each pair: limbs and sounds, or limbs and limbs.

    In `full` what goes without saying, such as the kick foot's drum, is said too.
    """

    pairs: tuple[tuple[Any, Any], ...]
    full: bool = False


@dataclass(frozen=True, slots=True)
class Bars:
    """A number of bars; None for as many as it takes."""

    number: int | None


@dataclass(frozen=True, slots=True)
class Slots:
    """A number of slots, as a distance in time."""

    number: int


@dataclass(frozen=True, slots=True)
class Strokes:
    """A number of strokes, as a distance in an order."""

    number: int


@dataclass(frozen=True, slots=True)
class Parts:
    """What a phrase is made of: for each part an exercise's number, how many bars (None: all), how often."""

    parts: tuple[tuple[str, int | None, int], ...]


@dataclass(frozen=True, slots=True)
class Each:
    """What makes a member of a series differ: the key of `each`, and its value."""

    key: str
    value: Any


@dataclass(frozen=True, slots=True)
class Beginning:
    """Where an order begins: at a stroke, from 1, or so many silent slots before it."""

    stroke: int
    silent: int = 0


@dataclass(frozen=True, slots=True)
class Written:
    """Orders one after the other, each by what it is called (a Source), or as it is written."""

    orders: tuple[Any, ...]
