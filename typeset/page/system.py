"""One system with the lines that go with it, measured and ready to be placed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..compose.book import Engraving, System
from ..engrave.block import Block
from .lines import LineOfRows, lines_of_system, scale_of
from .marks import Mark, Music
from .pages import DoesNotFit
from .setting import Setting, points

_CLEAR = 2.6
"""Points between the outermost note and the letters."""

_ALLOWED_OVER = 1.5
"""Points a staff may be longer than its frame: page boxes are whole points."""


@dataclass(frozen=True, slots=True)
class Reach:
    """How far notes stand out over and under the staff, in points, the same for systems that go together."""

    above: float
    below: float


@dataclass(frozen=True, slots=True)
class SystemBox:
    """A system's marks from its top left corner.

    `staff` is where its top line stands, `names` where each of its lines has its middle, by kind.
    """

    marks: tuple[Mark, ...]
    width: float
    height: float
    staff: float
    names: tuple[tuple[str, float], ...] = ()


def reach_of(engravings: Sequence[Engraving], setting: Setting) -> Reach:
    """The farthest that any of these reaches."""
    blocks = [setting.blocks[engraving] for engraving in engravings]
    return Reach(
        above=max(0.0, *(block.ink[3] - block.top for block in blocks)),
        below=max(0.0, *(block.bottom - block.ink[1] for block in blocks)),
    )


def system_box(system: System, reach: Reach, room: float, name: str, setting: Setting) -> SystemBox:
    """Measure a system. Raises DoesNotFit where its staff is longer than `room`, in points."""
    block = setting.blocks[system]
    if block.right - block.left > room + _ALLOWED_OVER:
        raise DoesNotFit(
            f"{name}: a line of music is {(block.right - block.left) / points(1):.1f} mm long, "
            f"its frame only {room / points(1):.1f} mm"
        )
    middles = _middles(system, block, name)
    lines = lines_of_system(system, setting)
    scales = {line.kind: scale_of(line, middles) for line in lines}
    places = setting.style.lines
    over, under = (
        [line for line in lines if getattr(places, line.kind) == where] for where in ("above", "below")
    )
    marks: list[Mark] = []
    names: list[tuple[str, float]] = []
    apart, distance = points(places.apart), points(places.distance)
    staff = max(reach.above + _CLEAR, distance) + _stack_height(over, apart)
    if over:
        top = 0.0
        for line in reversed(over):
            marks += line.marks(middles, top, scales[line.kind])
            names.append((line.kind, top + line.height / 2))
            top += line.height + apart
    staff_height = block.top - block.bottom
    names.append(("staff", staff + staff_height / 2))
    marks.append(Music(-block.left, staff + staff_height + block.bottom, system))
    bottom = staff + staff_height
    height = bottom + reach.below
    if under:
        top = bottom + max(distance, reach.below + _CLEAR)
        for line in under:
            marks += line.marks(middles, top, scales[line.kind])
            names.append((line.kind, top + line.height / 2))
            top += line.height + apart
        height = top - apart
    return SystemBox(tuple(marks), block.right - block.left, height, staff, tuple(names))


def _stack_height(lines: Sequence[LineOfRows], apart: float) -> float:
    return sum(line.height + apart for line in lines)


def _middles(system: System, block: Block, name: str) -> tuple[float, ...]:
    """Where the middles of the slots stand, from the staff's left end."""
    wanted = sum(len(bar.slots) for bar in system.bars)
    if len(block.slots) != wanted:
        raise ValueError(f"{name}: the engraver reports {len(block.slots)} slots of {wanted}")
    return tuple(x - block.left for x in block.slots)
