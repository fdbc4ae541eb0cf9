"""The barlines of an exercise as MusicXML 4.0: repeat signs, the brackets over endings, and the end."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import accumulate, pairwise
from xml.etree.ElementTree import Element

from ..compose.book import Exercise
from .musicxml_note import element

Barlines = Mapping[int, Element]
"""By the number of the bar, from 1, at whose left or right they stand."""


def left_barlines(exercise: Exercise) -> Barlines:
    """Where the repeat begins, and where each ending does."""
    made: dict[int, Element] = {}
    if _repeats(exercise):
        style, repeat = element("bar-style", "heavy-light"), element("repeat", direction="forward")
        made[1] = element("barline", style, repeat, location="left")
    for start, _, turns in _endings(exercise):
        label = "".join(f"{turn}." for turn in turns)
        made[start + 1] = element("barline", _ending(turns, "start", label), location="left")
    return made


def right_barlines(exercise: Exercise) -> Barlines:
    """Repeat signs, which say how often the music is played where no ending does, and the end."""
    bars = len(exercise.pattern.bars)
    made: dict[int, Element] = {}
    for _, end, turns in _endings(exercise):
        made[end] = _end(_ending(turns, "discontinue" if end == bars else "stop"))
        if end < bars:
            made[end].append(element("repeat", direction="backward"))
    if not made:
        made[bars] = _end()
        if _repeats(exercise):
            times = {"times": str(exercise.times)} if exercise.times else {}
            made[bars].append(element("repeat", direction="backward", **times))
    return made


def _repeats(exercise: Exercise) -> bool:
    often = bool(exercise.times and exercise.times > 1)
    return exercise.plays_on or often or bool(exercise.pattern.endings)


def _endings(exercise: Exercise) -> Iterator[tuple[int, int, tuple[int, ...]]]:
    """After which bar each ending begins, with which it ends, and on which passes it is played."""
    pattern = exercise.pattern
    ends = accumulate(pattern.endings, initial=pattern.body)
    for (start, end), turns in zip(pairwise(ends), pattern.turns(exercise.times), strict=True):
        yield start, end, turns


def _ending(turns: tuple[int, ...], kind: str, label: str | None = None) -> Element:
    made = element("ending", number=",".join(map(str, turns)), type=kind)
    made.text = label
    return made


def _end(*content: Element) -> Element:
    return element("barline", element("bar-style", "light-heavy"), *content, location="right")
