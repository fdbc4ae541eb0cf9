"""Which exercises lean on which others, so that each is worked out after those that it needs."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import fields
from graphlib import CycleError, TopologicalSorter

from ..manuscript.exercise import ExerciseText
from ..manuscript.models import Chapter
from ..manuscript.series import SeriesText
from ..pattern.steps import Source, Step
from .names import Names


def in_order_of_need(names: Names) -> Iterator[str]:
    """The ids of exercises and series, each after all that it leans on.

    Those that stand in a circle, and those that lean on one, are not among them.
    """
    texts: dict[str, tuple[ExerciseText | SeriesText, Chapter]] = {**names.exercises, **names.series}
    needs = {name: {_whole(used) for used in _used(text)} & texts.keys() for name, (text, _) in texts.items()}
    sorter = TopologicalSorter(needs)
    with suppress(CycleError):  # what stands in no circle is still given
        sorter.prepare()
    while ready := sorter.get_ready():
        yield from ready
        sorter.done(*ready)


def _whole(name: str) -> str:
    """The series that a member's id names; any other name as it is."""
    series, slash, _ = name.rpartition("/")
    return series if slash else name


def _used(text: ExerciseText | SeriesText) -> Iterator[str]:
    """Every name of something to play that an exercise or a series says."""
    if text.start is not None:
        yield text.start
    if isinstance(text, ExerciseText):
        yield from (part.use for part in (*text.phrase, *text.endings))
    for line in text.steps:
        yield from _sources(line.step)


def _sources(step: Step) -> Iterator[str]:
    for parameter in fields(step):
        value = getattr(step, parameter.name)
        for one in value if isinstance(value, tuple) else (value,):
            if isinstance(one, Source):
                yield one.name
