"""The tempo ladder: a box to tick for each tempo on the way from the start to the goal."""

from __future__ import annotations

from ..compose.book import Exercise
from .faces import cap_height, width_of
from .marks import Box, Mark, Words
from .setting import Setting, points
from .stack import Part

_FEWEST, _BEST, _MOST = 5, 6, 8
_STEPS = {
    5: 0,
    10: 0,
    2: 1,
    4: 1,
    20: 1,
    8: 2,
    15: 2,
    25: 2,
    12: 3,
    16: 3,
    30: 3,
    40: 3,
    50: 3,
    60: 3,
    80: 3,
    100: 3,
}
"""How far apart rungs may be, in beats a minute, and how much rounder steps are preferred."""

_PITCH = 13.5
"""Millimetres from box to box where there is room."""

_BOX = 2.5
_GAP = 1.0
"""Millimetres: a box's side, and what stands between it and its tempo."""


def rungs(start: int, goal: int) -> tuple[int, ...]:
    """The tempos from a start to a goal in even steps; the last step may be shorter.

    Five to eight of them where the way is long enough; none where there is no way to go.
    """
    if goal <= start:
        return ()
    ways = {step: _climb(start, goal, step) for step in _STEPS}
    good = {step: way for step, way in ways.items() if _FEWEST <= len(way) <= _MOST}
    if not good:
        return ways[2] if len(ways[2]) < _FEWEST else ways[max(_STEPS)]
    return min(good.values(), key=lambda way: _cost(way, way[1] - way[0]))


def _climb(start: int, goal: int, step: int) -> tuple[int, ...]:
    """Every step up to the goal, without one that would come next to it."""
    way = list(range(start, goal, step))
    if len(way) > 1 and 4 * (goal - way[-1]) < step:
        way.pop()
    return (*way, goal)


def _cost(way: tuple[int, ...], step: int) -> float:
    """How bad a way is: round, even steps are good, and about six of them."""
    unevenness = abs(way[-1] - way[-2] - step) / step
    return 6 * unevenness + abs(len(way) - _BEST) + _STEPS[step]


def way_of(exercise: Exercise, setting: Setting) -> tuple[int, ...]:
    """The tempos that an exercise has boxes for: none where the style asks for none.

    They end at its goal, or at its ceiling where that is lower.
    """
    if exercise.tempo is None or not setting.style.exercises.ladder:
        return ()
    return rungs(exercise.tempo.start, min(exercise.tempo.goal, exercise.ceiling))


def ladder(way: tuple[int, ...], room: float, setting: Setting) -> Part | None:
    """A row of boxes with their tempos, no wider than `room`; none where that would be crowded."""
    style = setting.style
    font, size = setting.letters.regular, style.type.small
    box, gap = points(_BOX), points(_GAP)
    least = box + 2 * gap + max((width_of(str(tempo), font, size) for tempo in way), default=0.0)
    pitch = min(points(_PITCH), room / len(way)) if way else 0.0
    if pitch < least:
        return None
    cap = size * cap_height(font)
    top = max(0.0, (cap - box) / 2)
    marks: list[Mark] = []
    for index, tempo in enumerate(way):
        x = index * pitch
        marks.append(Box(x, top, x + box, top + box, 0.5, style.greys.quiet))
        marks.append(Words(x + box + gap, top + (box + cap) / 2, str(tempo), font, size, style.greys.text))
    return Part(tuple(marks), max(box, cap))
