"""Exercises as pieces of a page: alone, two on a line, or system by system when taller than a page."""

from __future__ import annotations

from collections.abc import Sequence

from ..compose.book import Exercise
from .aside import note_part
from .breaking import Piece
from .changes import changes_by_system
from .head import head_box
from .ladder import ladder, way_of
from .recording import RecordingCode, least_head, recording_code, with_codes
from .setting import Setting, points
from .stack import Part, level, pile, stacked
from .system import Reach, SystemBox, Wanted, reach_of, system_box

_HEAD_GAP = 1.0
"""Millimetres between a head's last line and what reaches up from the staff."""

_LETTERS_GAP = 2.4
"""The same, where letters stand over the staff."""

_FOOT_GAP = 3.0
"""Millimetres between the last letters and the ladder under them."""


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
    made = [_systems(one, reach, room, setting) for one in exercises]
    codes = [recording_code(one, setting) for one in exercises]
    heads = [
        _head(one, code, boxes[0].width, room, setting, inside=column > 0)
        for column, (one, code, boxes) in enumerate(zip(exercises, codes, made, strict=True))
    ]
    feet = [_foot(one, room, setting) for one in exercises]
    step = room + gap
    first = level([boxes[0].part for boxes in made], step)
    top = level(heads, step).over(first, head_gap(setting))
    parts = [with_codes(top, codes, room, step), *(box.part for box in made[0][1:])]
    foot = level(feet, step)
    if foot.height:
        parts[-1] = parts[-1].over(foot, points(_FOOT_GAP))
    return stacked(called(exercises[0]), parts, points(style.exercises.systems), setting)


def _head(
    exercise: Exercise, code: RecordingCode | None, staff: float, room: float, setting: Setting, *, inside: bool
) -> Part:
    """An exercise's head, as tall as the code at its end asks for."""
    head = head_box(exercise, staff, room - (code.room if code else 0.0), setting, inside=inside)
    return Part(head.marks, max(head.height, least_head(code, staff, room, head_gap(setting))))


def _systems(exercise: Exercise, reach: Reach, room: float, setting: Setting) -> list[SystemBox]:
    """An exercise's systems, what changed in them marked."""
    changes = changes_by_system(exercise.systems, exercise.changed)
    return [
        system_box(system, reach, room, called(exercise), setting, Wanted(changed=changed))
        for system, changed in zip(exercise.systems, changes, strict=True)
    ]


def _foot(exercise: Exercise, room: float, setting: Setting) -> Part:
    """What stands under an exercise's last system: its ladder, and what the teacher is told."""
    parts = [ladder(way_of(exercise, setting), room, setting), note_part(exercise.note, room, setting)]
    return pile([part for part in parts if part], points(_FOOT_GAP))


def called(exercise: Exercise) -> str:
    """What messages call an exercise."""
    return f"exercise {exercise.number} ({exercise.id})"


def head_gap(setting: Setting) -> float:
    """What stands between a head's last line and what reaches up from its staff, in points."""
    lines = setting.style.lines
    return points(_LETTERS_GAP if "above" in (lines.sticking, lines.counting) else _HEAD_GAP)
