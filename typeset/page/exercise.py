"""Exercises as pieces of a page: alone, two on a line, or system by system when taller than a page."""

from __future__ import annotations

from collections.abc import Sequence

from ..compose.book import Exercise
from .breaking import Piece
from .head import head_box
from .marks import Mark, moved
from .pages import DoesNotFit
from .setting import Setting, points
from .system import SystemBox, reach_of, system_box

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
    heads = []
    boxes: list[list[SystemBox]] = []
    for exercise in exercises:
        name = f"exercise {exercise.number} ({exercise.id})"
        boxes.append([system_box(system, reach, room, name, setting) for system in exercise.systems])
        heads.append(head_box(exercise, boxes[-1][0].width, room, setting))
    places = (style.lines.sticking, style.lines.counting)
    head = max(box.height for box in heads) + points(_LETTERS_GAP if "above" in places else _HEAD_GAP)
    marks: list[Mark] = []
    for column, (box, systems) in enumerate(zip(heads, boxes, strict=True)):
        right = column * (room + gap)
        marks += moved(box.marks, right)
        marks += moved(systems[0].marks, right, head)
    first = head + max(systems[0].height for systems in boxes)
    if setting.rounded(first) > setting.depth:
        raise DoesNotFit(
            f"exercise {exercises[0].number} ({exercises[0].id}): its words and its first line of music are "
            f"taller than a page; use fewer words"
        )
    return _stacked(first, tuple(marks), boxes[0][1:], setting)


def _stacked(
    first: float, marks: tuple[Mark, ...], others: Sequence[SystemBox], setting: Setting
) -> tuple[Piece, ...]:
    """The head with its first system, and the systems under it."""
    look = setting.style.exercises
    between = points(look.systems)
    space, stretch = points(look.space), points(max(0.0, look.most_space - look.space))
    whole = first + sum(box.height + between for box in others)
    if whole <= setting.depth:
        y = first
        for box in others:
            marks += moved(box.marks, 0, y + between)
            y += between + box.height
        height = setting.rounded(whole)
        return (Piece(height, marks, space, stretch),)
    pieces = [Piece(setting.rounded(first), marks, between, points(2))]
    pieces += [Piece(setting.rounded(box.height), box.marks, between, points(2)) for box in others]
    last = pieces[-1]
    return (*pieces[:-1], Piece(last.height, last.marks, space, stretch))
