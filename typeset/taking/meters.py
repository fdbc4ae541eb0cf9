"""Meters as files write them: a top and a bottom number, perhaps a grouping."""

from __future__ import annotations

from ..pattern.meter import Meter, MeterError


def meter_of(top: str, bottom: str) -> tuple[Meter | None, str | None]:
    """The meter of these numbers, and what is doubtful about it. None where none of ours is like that.

    `top` may be a grouping, `3+2+2`. A meter that has to say how it falls into beats, and does not, is
    taken to begin with its threes.
    """
    groups = [int(part) for part in top.split("+") if part.strip().isdecimal() and len(part) < 4]
    written = f"{sum(groups)}/{bottom}"
    if len(groups) > 1:
        written += f" ({'+'.join(map(str, groups))})"
    try:
        return Meter.parse(written), None
    except MeterError:
        return _grouped(sum(groups), bottom)


def _grouped(eighths: int, bottom: str) -> tuple[Meter | None, str | None]:
    twos = next((twos for twos in range(1, 3) if (eighths - 2 * twos) % 3 == 0), 0)
    groups = "+".join(["3"] * ((eighths - 2 * twos) // 3) + ["2"] * twos)
    try:
        meter = Meter.parse(f"{eighths}/{bottom} ({groups})")
    except MeterError:
        return None, None
    return meter, f"{eighths}/{bottom} could also be grouped otherwise than {groups}"
