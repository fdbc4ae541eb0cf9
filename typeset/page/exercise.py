"""Exercises as pieces of a page: alone, two on a line, or system by system when taller than a page."""

from __future__ import annotations

from collections.abc import Sequence

from ..compose.book import Exercise
from ..compose.engraving import System
from .aside import note_part
from .breaking import Piece
from .changes import changes_by_system
from .head import head_box, title_box, told_box
from .ladder import ladder, way_of
from .marks import moved
from .recording import RecordingCode, least_head, recording_code, with_codes
from .setting import Setting, points
from .stack import Part, level, pile, stacked
from .system import Reach, SystemBox, Wanted, reach_of, system_box
from .texts import called

_HEAD_GAP = 0.3
"""Ems of the head's sentences between their last line and what reaches up from the staff."""

_LETTERS_GAP = 0.72
"""The same, where letters stand over the staff."""

_FOOT_GAP = 0.9
"""The same between the last letters and the ladder under them."""


_FEWEST = 17
"""Ems of an instruction's type that a column of words has at least: some 34 letters."""


def can_share(left: Exercise, right: Exercise, setting: Setting) -> bool:
    """True when two exercises of one system each fit side by side in half a measure."""
    return not right.new_page and all(is_half(exercise.systems, setting) for exercise in (left, right))


def is_half(systems: Sequence[System], setting: Setting) -> bool:
    """True for one system that takes no more than half a measure."""
    half = (setting.style.spacing.measure - setting.style.spacing.gap) / 2
    return len(systems) == 1 and systems[0].width <= half + 0.5


def exercise_pieces(exercises: Sequence[Exercise], setting: Setting) -> tuple[Piece, ...]:
    """One exercise, or two that share a line, as one piece; as several when it is taller than a page.

    One alone on half a line has its words beside it.
    """
    style = setting.style
    if len(exercises) == 1 and is_half(exercises[0].systems, setting) and has_columns(setting):
        part = _beside(exercises[0], setting)
        return stacked(called(exercises[0]), [part], points(style.exercises.systems), setting)
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
        parts[-1] = parts[-1].over(foot, _foot_gap(setting))
    return stacked(called(exercises[0]), parts, points(style.exercises.systems), setting)


def _head(
    exercise: Exercise, code: RecordingCode | None, staff: float, room: float, setting: Setting, *, inside: bool
) -> Part:
    """An exercise's head, as tall as the code at its end asks for."""
    head = head_box(exercise, staff, room - (code.room if code else 0.0), setting, inside=inside)
    return Part(head.marks, max(head.height, least_head(code, staff, room, head_gap(setting))))


def has_columns(setting: Setting) -> bool:
    """True where half a measure holds a few words in a line, and the page is not cut to what stands on it."""
    column = (setting.measure - points(setting.style.spacing.gap)) / 2
    return not setting.is_cut and column >= _FEWEST * setting.style.type.instruction


def _beside(exercise: Exercise, setting: Setting) -> Part:
    """An exercise on half a line: its title over its staff, what there is to do and to tick beside it."""
    gap = points(setting.style.spacing.gap)
    room = (setting.measure - gap) / 2
    (box,) = _systems(exercise, reach_of(exercise.systems, setting), room, setting)
    title = title_box(exercise, box.width, room, setting)
    code = recording_code(exercise, setting)
    column = room - (code.room if code else 0.0)
    told = [told_box(exercise, column, setting), ladder(way_of(exercise, setting), column, setting)]
    row = with_words(title, box.part, told, box.staff, setting)
    row = with_codes(row, [code], setting.measure, 0)
    note = note_part(exercise.note, setting.measure, setting)
    return row.over(note, _foot_gap(setting)) if note else row


def with_words(title: Part, music: Part, words: Sequence[Part | None], staff: float, setting: Setting) -> Part:
    """A title over music on half a measure, with words in the other half, which are read before the music.

    They begin where the staff does, `staff` points down in the music, or as much higher as they need to end
    where it does.
    """
    right = pile([part for part in words if part and part.height], _foot_gap(setting))
    step = (setting.measure + points(setting.style.spacing.gap)) / 2
    top = title.height + head_gap(setting)
    down = max(0.0, min(top + staff, top + music.height - right.height))
    told = title.beside(Part(moved(right.marks, 0, down), down + right.height), step)
    return told.beside(Part(moved(music.marks, 0, top), top + music.height), 0)


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
    return pile([part for part in parts if part], _foot_gap(setting))


def head_gap(setting: Setting) -> float:
    """What stands between a head's last line and what reaches up from its staff, in points."""
    lines = setting.style.lines
    ems = _LETTERS_GAP if "above" in (lines.sticking, lines.counting) else _HEAD_GAP
    return ems * setting.style.type.instruction


def _foot_gap(setting: Setting) -> float:
    return _FOOT_GAP * setting.style.type.instruction
