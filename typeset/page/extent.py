"""How far to the right and down marks reach."""

from __future__ import annotations

from collections.abc import Iterable

from .faces import width_of
from .marks import Box, Code, Curve, Dot, Mark, Music, Rule, Words
from .setting import Setting


def extent(marks: Iterable[Mark], setting: Setting) -> tuple[float, float]:
    """The right and the lower end of everything that is drawn, in points from the text block's top left."""
    ends = [_ends(mark, setting) for mark in marks]
    return max((right for right, _ in ends), default=0.0), max((bottom for _, bottom in ends), default=0.0)


def _ends(mark: Mark, setting: Setting) -> tuple[float, float]:
    match mark:
        case Words():
            return mark.x + width_of(mark.words, mark.font, mark.size), mark.y + mark.size * 0.25
        case Rule():
            return max(mark.x0, mark.x1), max(mark.y0, mark.y1)
        case Dot():
            return mark.x + mark.radius, mark.y + mark.radius
        case Box():
            return mark.x1, mark.y1
        case Curve(places):
            return max(x for x, _ in places), max(y for _, y in places)
        case Code(x, y, size, dark):
            side = size * max(column + count for _, column, count in dark)
            return x + side, y + side
        case Music():
            block = setting.blocks[mark.engraving]
            return mark.x + block.ink[2] * mark.scale, mark.y - block.ink[1] * mark.scale
        case _:
            return 0.0, 0.0
