"""One system with the lines that go with it, measured and ready to be placed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from ..compose.engraving import Engraving, System
from ..engrave.block import Block
from .changes import change_marks
from .lines import Kind, LineOfRows, counting, sticking, under_signs
from .marks import Begins, Mark, Music, Role
from .refusals import DoesNotFit
from .setting import Setting, points
from .stack import Part
from .writing import WritingLine, writing_line

Line = LineOfRows | WritingLine

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
class Wanted:
    """What goes with a system besides what the style prints.

    The `asked` line is left for the reader to write; the `needed` one is printed though the style leaves
    it out. `changed` are slots of the system, from 0, to be marked.
    """

    asked: Kind | None = None
    needed: Kind | None = None
    changed: tuple[int, ...] = ()


AS_THE_STYLE_SAYS = Wanted()


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

    @property
    def part(self) -> Part:
        """Its marks and its height alone."""
        return Part(self.marks, self.height)


def reach_of(engravings: Sequence[Engraving], setting: Setting) -> Reach:
    """The farthest that any of these reaches."""
    blocks = [setting.blocks[engraving] for engraving in engravings]
    return Reach(
        above=max(0.0, *(block.ink[3] - block.top for block in blocks)),
        below=max(0.0, *(block.bottom - block.ink[1] for block in blocks)),
    )


def system_box(
    system: System, reach: Reach, room: float, name: str, setting: Setting, wanted: Wanted = AS_THE_STYLE_SAYS
) -> SystemBox:
    """Measure a system. Raises DoesNotFit where its staff is longer than `room`, in points."""
    block = setting.blocks[system]
    if block.right - block.left > room + _ALLOWED_OVER:
        raise DoesNotFit(
            f"{name}: a line of music is {(block.right - block.left) / points(1):.1f} mm long, "
            f"its frame only {room / points(1):.1f} mm"
        )
    middles = _middles(system, block, name)
    over, under = _lines(system, wanted, setting)
    places = setting.style.lines
    apart, distance = points(places.apart), points(places.distance)
    staff = max(reach.above + _CLEAR, distance) + sum(line.height + apart for line in over)
    staff_height = block.top - block.bottom
    bottom = staff + staff_height
    below = bottom + max(distance, reach.below + _CLEAR)
    marks: list[Mark] = [Music(-block.left, bottom + block.bottom, system)]
    names = [("staff", staff + staff_height / 2)]
    height = bottom + reach.below
    for lines, first in ((reversed(over), 0.0), (under, below)):
        top = first
        for line in lines:
            marks += line.marks(middles, top, line.scale(middles))
            names.append((line.kind, top + line.height / 2))
            height = max(height, top + line.height)
            top += line.height + apart
    hidden = under_signs(system, setting)
    changed = [middles[slot] for slot in wanted.changed if slot not in hidden]
    changes, foot = change_marks(changed, middles, below if under else staff, height, setting)
    read = (Begins(Role.FIGURE, wanted.asked), *changes, *marks, Begins(Role.TEXT))
    return SystemBox(read, block.right - block.left, foot, staff, tuple(names))


def _lines(system: System, wanted: Wanted, setting: Setting) -> tuple[list[Line], list[Line]]:
    """The lines over and under the staff, the one nearest to it first."""
    made: dict[str, list[Line]] = {"above": [], "below": [], "none": []}
    printed: tuple[tuple[Kind, Callable[[System, Setting], Line]], ...]
    printed = (("sticking", sticking), ("counting", counting))
    for kind, print_line in printed:
        place = getattr(setting.style.lines, kind)
        if place == "none" and kind in (wanted.asked, wanted.needed):
            place = "below"
        line = writing_line(kind, system, setting) if kind == wanted.asked else print_line(system, setting)
        made[place].append(line)
    return made["above"], made["below"]


def _middles(system: System, block: Block, name: str) -> tuple[float, ...]:
    """Where the middles of the slots stand, from the staff's left end."""
    wanted = sum(len(bar.slots) for bar in system.every_bar)
    if len(block.slots) != wanted:
        raise ValueError(f"{name}: the engraver reports {len(block.slots)} slots of {wanted}")
    return tuple(x - block.left for x in block.slots)
