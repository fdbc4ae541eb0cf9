"""Where the notes of exercises stand on their pages: what a mark that follows the music is led by."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from ..compose.book import Book
from ..compose.engraving import System
from .marks import Anchor, Begins, Dot, Mark, Music, Role, Words
from .plates import Plate
from .setting import Setting


@dataclass(frozen=True, slots=True)
class NotedSystem:
    """A system of an exercise on a page, in points from the page's upper left corner.

    `slots` are the middles of its slots from left to right, the first of them the exercise's slot `first`, counted
    from 0 with a pickup's before the others. `top` and `bottom` are the ends of its staff and of all lines that go
    with it.
    """

    exercise: str
    page: int
    first: int
    slots: tuple[float, ...]
    top: float
    bottom: float


@dataclass(frozen=True, slots=True)
class Head:
    """Where an exercise's head begins: on a page, from 0, at y points from its upper edge."""

    exercise: str
    page: int
    x: float
    y: float


def heads_of(book: Book, plates: Sequence[Plate]) -> Iterator[Head]:
    """The head of each exercise, in the order of the pages."""
    ids = {exercise.id for exercise in book.exercises}
    for page, plate in enumerate(plates):
        for mark in plate.marks:
            if isinstance(mark, Anchor) and mark.name in ids:
                yield Head(mark.name, page, plate.left, plate.top + mark.y)


def noted_systems(book: Book, plates: Sequence[Plate], setting: Setting) -> Iterator[NotedSystem]:
    """Every system of every exercise where it stands under its head; not those of tasks and answers.

    An exercise's head comes before its systems, and two heads that share a line before both exercises' systems.
    """
    systems = {exercise.id: exercise.systems for exercise in book.exercises}
    due: deque[tuple[str, int, System]] = deque()
    for page, plate in enumerate(plates):
        for music, marks in _pieces(plate.marks):
            due.extend(_dues(marks, systems))
            found = next((one for one in due if one[2] == music.engraving), None) if music else None
            if music and found:
                due.remove(found)
                yield _noted(found, page, music, marks, plate, setting)


def _pieces(marks: Iterable[Mark]) -> Iterator[tuple[Music | None, list[Mark]]]:
    """Marks by what they are read as; with the music where it is a figure."""
    kind: Begins | None = None
    parts: list[tuple[Begins | None, Mark]] = []
    for mark in marks:
        kind = mark if isinstance(mark, Begins) else kind
        parts.append((kind, mark))
    for begins, group in groupby(parts, key=lambda part: part[0]):
        piece = [mark for _, mark in group]
        is_figure = begins is not None and begins.role is Role.FIGURE
        music = next((mark for mark in piece if isinstance(mark, Music)), None) if is_figure else None
        yield music, piece


def _dues(marks: Iterable[Mark], systems: Mapping[str, Sequence[System]]) -> Iterator[tuple[str, int, System]]:
    """The systems that follow the heads among marks, each with its exercise and the number of its first slot."""
    for mark in marks:
        if isinstance(mark, Anchor):
            first = 0
            for system in systems.get(mark.name, ()):
                yield mark.name, first, system
                first += sum(len(bar.slots) for bar in system.every_bar)


def _noted(
    due: tuple[str, int, System], page: int, music: Music, marks: Iterable[Mark], plate: Plate, setting: Setting
) -> NotedSystem:
    exercise, first, _ = due
    block = setting.blocks[music.engraving]
    lines = [mark.y for mark in marks if isinstance(mark, Words | Dot)]
    return NotedSystem(
        exercise=exercise,
        page=page,
        first=first,
        slots=tuple(plate.left + music.x + x * music.scale for x in block.slots),
        top=plate.top + min([music.y - block.ink[3] * music.scale, *lines]),
        bottom=plate.top + max([music.y - block.ink[1] * music.scale, *lines]),
    )
