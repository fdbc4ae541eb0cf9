"""Music written in a line of text, for examples: bars divided by `|`, swells in brackets."""

from __future__ import annotations

from .bar import Pattern
from .order import write_played


def write_music(pattern: Pattern) -> str:
    """Every bar's slots as `write_played` writes them; `(< R L R)` grow louder, `(> R L R)` softer."""
    opens = {swell.start: "(< " if swell.louder else "(> " for swell in pattern.swells}
    closes = {swell.end for swell in pattern.swells}
    bars: list[str] = []
    for start, bar in zip(pattern.barlines, pattern.bars, strict=False):
        line = ""
        for onset, slot in zip(bar.onsets, bar.slots, strict=True):
            stroke, opening = write_played([slot]), opens.get(start + onset, "")
            # A stroke in which one swell ends and another begins stands in the first of them.
            line += f"{stroke}) {opening}" if start + onset in closes else f"{opening}{stroke} "
        bars.append(line.strip())
    return " | ".join(bars)
