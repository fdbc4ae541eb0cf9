"""The kinds of values that several models take, and how each is read."""

from __future__ import annotations

import re
from datetime import date
from typing import Annotated, Any, Literal, get_args

from pydantic import AfterValidator

from ..pattern.grid import Grid
from ..pattern.meter import Meter
from ..pattern.order import Order
from ..pattern.tempo import Tempo
from ..wording.catalogue import languages
from .fields import read_as
from .plain import Wrong, as_list, one_of, read_line, read_music, read_name, read_text, read_yes_no
from .reads import NAME, TEXT, YES_NO, Listed, Reads, matching, named, whole, words
from .steps import StepLine, read_step

MOST_TIMES = 99
_FEW_DIGITS = re.compile(r"\s*[0-9]{1,4}\s*")


class Prose:
    """Marks a field of running text, which YAML would cut short at a comment."""


def _date(value: Any) -> str:
    text = read_line(value)
    try:
        if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
            raise ValueError
        date.fromisoformat(text)
    except ValueError:
        raise Wrong(f"'{text}' is no date; write it as 2026-09-01 (year-month-day)") from None
    return text


def _decibels(value: Any) -> int:
    number = int(value) if isinstance(value, str) and _FEW_DIGITS.fullmatch(value) else 0
    if not 70 <= number <= 140:
        raise Wrong("write a sound level in dBA as a number from 70 to 140")
    return number


def _times(value: Any) -> int:
    number = int(value) if isinstance(value, str) and _FEW_DIGITS.fullmatch(value) else 0
    if not 1 <= number <= MOST_TIMES:
        raise Wrong(f"write how many times as a number from 1 to {MOST_TIMES}")
    return number


def each_once(values: tuple[str, ...]) -> tuple[str, ...]:
    """The values of a list, no two alike. Raises Wrong."""
    for index, value in enumerate(values):
        if value in values[:index]:
            raise Wrong(f"'{value}' stands here twice", index)
    return values


def _options(hint: Any, what: str = "") -> Reads:
    return Reads(one_of(get_args(hint), what), words(get_args(hint)))


Line = Annotated[str, Reads(read_line, TEXT), Prose]
Paragraphs = Annotated[str, Reads(read_text, TEXT), Prose]
Word = Annotated[str, Reads(read_line, TEXT)]
Start = Annotated[str, Reads(read_music, TEXT)]
Name = Annotated[str, Reads(read_name, NAME)]
YesNo = Annotated[bool, Reads(read_yes_no, YES_NO)]
Times = Annotated[int, Reads(_times, whole(1, MOST_TIMES))]
Date = Annotated[str, Reads(_date, matching(r"^\s*\d{4}-\d{2}-\d{2}\s*$"))]

_Feel = Literal["straight", "swing-8ths", "swing-16ths"]
_Play = Literal["loop", "once"]
_Answers = Literal["inline", "back"]
_Player = Literal["beginner", "intermediate", "advanced"]
_FrontPage = Literal["title-page", "imprint", "contents", "how-to-read", "drum-key", "care"]
_BackPage = Literal["answers", "practice-log", "index", "family"]

Feel = Annotated[_Feel, _options(_Feel, "feel")]
Play = Annotated[_Play, _options(_Play)]
Decibels = Annotated[int, Reads(_decibels, whole(70, 140))]
Player = Annotated[_Player, _options(_Player, "player")]
Answers = Annotated[_Answers, _options(_Answers)]
Language = Annotated[str, Reads(one_of(languages(), "language of this program"), words(languages()))]
FrontPage = Annotated[_FrontPage, _options(_FrontPage, "page of the front")]
BackPage = Annotated[_BackPage, _options(_BackPage, "page of the back")]
Front = Annotated[tuple[FrontPage, ...], Listed(as_list), AfterValidator(each_once)]
Back = Annotated[tuple[BackPage, ...], Listed(as_list), AfterValidator(each_once)]
Steps = Annotated[tuple[Annotated[StepLine, Reads(read_step, named("step"))], ...], Listed(as_list)]
MeterText = Annotated[Meter, read_as(Meter)]
GridText = Annotated[Grid, read_as(Grid)]
TempoText = Annotated[Tempo, read_as(Tempo)]
OrderText = Annotated[Order, read_as(Order)]

FRONT_PAGES: tuple[FrontPage, ...] = get_args(_FrontPage)
"""The pages that can stand before the chapters, in their usual order."""
