"""The tempo ladder: a box to tick for each tempo on the way from the start to the goal."""

from __future__ import annotations

from ..compose.book import Exercise
from ..pattern.rungs import rungs
from .faces import cap_height, width_of
from .marks import Box, Mark, Words
from .setting import Setting
from .stack import Part

_PITCH = 4.8
"""Ems from box to box where there is room."""

_ROW = 1.7
"""Ems from row to row."""

_BOX = 0.88
_GAP = 0.35
"""Ems: a box's side, and what stands between it and its tempo."""


def way_of(exercise: Exercise, setting: Setting) -> tuple[int, ...]:
    """The tempos that an exercise has boxes for: none where the style asks for none.

    They end at its goal, or at its ceiling where that is lower.
    """
    if exercise.tempo is None or not setting.style.exercises.ladder:
        return ()
    return rungs(exercise.tempo.start, min(exercise.tempo.goal, exercise.ceiling))


def ladder(way: tuple[int, ...], room: float, setting: Setting) -> Part | None:
    """Boxes with their tempos, in as few even rows as are not crowded in `room`; none where there is no way."""
    if not way:
        return None
    style = setting.style
    font, size = setting.letters.regular, style.type.small
    box, gap = size * _BOX, size * _GAP
    least = box + 2 * gap + max(width_of(str(tempo), font, size) for tempo in way)
    rows = -(-len(way) // max(1, int(room / least)))
    columns = -(-len(way) // rows)
    pitch = max(least, min(size * _PITCH, room / columns))
    cap = size * cap_height(font)
    top = max(0.0, (cap - box) / 2)
    marks: list[Mark] = []
    for index, tempo in enumerate(way):
        row, column = divmod(index, columns)
        x, y = column * pitch, top + row * size * _ROW
        marks.append(Box(x, y, x + box, y + box, 0.5, style.greys.quiet))
        marks.append(Words(x + box + gap, y + (box + cap) / 2, str(tempo), font, size, style.greys.text))
    return Part(tuple(marks), max(box, cap) + (rows - 1) * size * _ROW)
