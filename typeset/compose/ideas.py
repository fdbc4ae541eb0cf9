"""Ideas: what there is to learn in an exercise, and which of it it takes over from others.

An idea is a step of variation, a grid, a meter, a sound or an ornament. Accents and ghost strokes count as the
steps that make them, however they were written.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import NamedTuple

from ..manuscript.exercise import ExerciseText
from ..manuscript.series import SeriesText
from ..manuscript.tasks import TaskText
from ..pattern.bar import Pattern
from ..pattern.grid import GRIDS, QUARTER
from ..pattern.steps import Source, Step, bind
from ..pattern.stroke import Dynamic
from .book import Exercise
from .names import Names

_GRIDS = {Fraction(count): name for name, count in GRIDS.items()}

_EACH = {"rotate": "rotate", "accents": "accent", "voice": "voice", "displace": "displace"}
"""The keys of a series' `each` that are steps, and those steps."""

_SAID_BY_MUSIC = ("ornament", "accent", "ghost", "remeter", "regrid")
"""Steps whose idea is in the strokes and bars that they leave behind."""


class Idea(NamedTuple):
    """One thing to learn: its kind (`step`, `grid`, `meter`, `sound` or `ornament`) and its name."""

    kind: str
    name: str

    def __str__(self) -> str:
        """As a message names it."""
        return self.name if self.kind == "grid" else f"the {self.kind} {self.name}"


Text = ExerciseText | SeriesText | TaskText
Ideas = Mapping[Idea, None]
"""Ideas, each once, in an order that does not change."""


def ideas_in(pattern: Pattern) -> Ideas:
    """What the strokes and bars of an exercise show."""
    return dict.fromkeys(_ideas_in(pattern))


def _ideas_in(pattern: Pattern) -> Iterator[Idea]:
    for bar in pattern.bars:
        yield Idea("meter", f"{bar.meter.top}/{bar.meter.bottom}")
        for beat in bar.beats:
            grid = _GRIDS.get(len(beat.slots) * QUARTER / beat.length)
            if grid:
                yield Idea("grid", grid)
    for stroke in pattern.strokes:
        yield Idea("sound", stroke.sound.name)
        if stroke.ornament:
            yield Idea("ornament", stroke.ornament.value)
        if stroke.dynamic is not Dynamic.PLAIN:
            yield Idea("step", stroke.dynamic.value)


class Tracer:
    """Follows the exercises of a book back to what they are made from; `printed` are those on its pages, by id."""

    def __init__(self, names: Names, printed: Mapping[str, Exercise]) -> None:
        self.names = names
        self.printed = printed
        self._known: dict[str, Ideas] = {}

    def text(self, exercise: str) -> ExerciseText | SeriesText:
        """What its author wrote of an exercise, for itself or for its series."""
        if exercise in self.names.exercises:
            return self.names.exercises[exercise][0]
        return self.names.series[self.names.member(exercise)[0]][0]

    def ideas(self, exercise: str) -> Ideas:
        """Everything that there is to learn in an exercise, what it takes over included."""
        if exercise not in self._known:
            self._known[exercise] = {}  # no exercise is made from itself, but a member may name its own series
            text, printed = self.text(exercise), self.printed.get(exercise)
            found = dict.fromkeys(Idea("step", key) for key in _steps(text))
            for origin in self.origins(text):
                found.update({idea: None for idea in self.ideas(origin) if idea.kind == "step"})
            found.update(ideas_in(printed.pattern) if printed else {})
            self._known[exercise] = found
        return self._known[exercise]

    def taken_over(self, text: Text, ideas: Ideas) -> Mapping[Idea, str]:
        """Those of its ideas that an exercise or a task takes over, each with the first exercise it has it from."""
        found: dict[Idea, str] = {}
        for origin in self.origins(text):
            for idea in self.ideas(origin):
                if idea in ideas:
                    found.setdefault(idea, origin)
        return found

    def origins(self, text: Text) -> tuple[str, ...]:
        """The exercises that one is directly made from, or that a task is about."""
        return tuple(dict.fromkeys(name for name in _named(text) if self.names.is_exercise(name)))

    def sequences(self, text: Text) -> set[str]:
        """The book's own sequences in an exercise, those that it takes over included."""
        found: set[str] = set()
        seen: set[str] = set()
        waiting = [text]
        while waiting:
            for name in _named(waiting.pop()):
                if name in self.names.sequences:
                    found.add(name)
                elif self.names.is_exercise(name) and name not in seen:
                    seen.add(name)
                    waiting.append(self.text(name))
        return found


def _steps(text: ExerciseText | SeriesText) -> Iterator[str]:
    """The steps that an exercise takes itself, and those by which the members of a series differ."""
    keys = [line.step.key for line in text.steps]
    if isinstance(text, SeriesText):
        keys += [_EACH[key] for key in text.each.said if key in _EACH]
    yield from (key for key in keys if key not in _SAID_BY_MUSIC)


def _named(text: Text) -> Iterator[str]:
    """Every name of other music in what an author wrote, in its order."""
    if isinstance(text, TaskText):
        yield from text.of
        return
    if text.start:
        yield text.start
    if isinstance(text, ExerciseText):
        yield from (part.use for part in text.phrase)
    else:
        yield from text.each.sequence
    for line in text.steps:
        yield from _sources(line.step)


def _sources(step: Step) -> list[str]:
    """The names of other music in a step."""
    found: list[str] = []

    def note(source: Source) -> Source:
        found.append(source.name)
        return source

    bind(step, note)
    return found
