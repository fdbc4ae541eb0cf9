"""Exercises as pieces of a page: alone, two on a line, or system by system when taller than a page."""

from __future__ import annotations

from collections.abc import Sequence

from ..compose.book import Exercise
from .breaking import Piece
from .changes import changes_by_system
from .head import head_box
from .setting import Setting, points
from .stack import Part, stacked
from .system import Wanted, reach_of, system_box

_HEAD_GAP = 1.0
"""Millimetres between a head's last line and what reaches up from the staff."""

_LETTERS_GAP = 2.4
"""The same, where letters stand over the staff."""


def can_share(left: Exercise, right: Exercise, setting: Setting) -> bool:
    """True when two exercises of one system each fit side by side in half a measure."""
    if right.new_page or len(left.systems) != 1 or len(right.systems) != 1:
        return False
    half = (setting.style.spacing.measure - setting.style.spacing.gap) / 2
    return all(exercise.systems[0].width <= half + 0.5 for exercise in (left, right))


def exercise_pieces(exercises: Sequence[Exercise], setting: Setting) -> tuple[Piece, ...]:
    """One exercise, or two that share a line, as one piece; as several when it is taller than a page."""
    style = setting.style
    columns = len(exercises)
    gap = points(style.spacing.gap) if columns > 1 else 0.0
    room = (setting.measure - gap * (columns - 1)) / columns
    reach = reach_of([system for one in exercises for system in one.systems], setting)
    heads: list[Part] = []
    boxes: list[list[Part]] = []
    for exercise in exercises:
        changes = changes_by_system(exercise.systems, exercise.changed)
        made = [
            system_box(system, reach, room, called(exercise), setting, Wanted(changed=changed))
            for system, changed in zip(exercise.systems, changes, strict=True)
        ]
        boxes.append([box.part for box in made])
        heads.append(head_box(exercise, made[0].width, room, setting))
    tallest = max(head.height for head in heads)
    whole, *others = [
        Part(head.marks, tallest).over(systems[0], head_gap(setting))
        for head, systems in zip(heads, boxes, strict=True)
    ]
    for column, other in enumerate(others, start=1):
        whole = whole.beside(other, column * (room + gap))
    return stacked(called(exercises[0]), [whole, *boxes[0][1:]], points(style.exercises.systems), setting)


def called(exercise: Exercise) -> str:
    """What messages call an exercise."""
    return f"exercise {exercise.number} ({exercise.id})"


def head_gap(setting: Setting) -> float:
    """What stands between a head's last line and what reaches up from its staff, in points."""
    lines = setting.style.lines
    return points(_LETTERS_GAP if "above" in (lines.sticking, lines.counting) else _HEAD_GAP)
