"""What a style says. Lengths are millimetres, type sizes points."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict


class Part(BaseModel):
    """A part of a style: frozen, and nothing in it that is not declared."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Staff(Part):
    """The few keys that touch the engraved staff; engraving depends on these and on no others.

    `height` is the distance between the outer staff lines in millimetres; `stems` all up, or hands up
    and feet down; `repeated-bars` prints a bar that repeats the one before as a repeat sign.
    """

    height: float = 6.2
    stems: Literal["up", "split"] = "up"
    repeated_bars: bool = False


class Spacing(Part):
    """How much room music gets, in millimetres.

    `measure` is the width of the music; `lead` the distance from the staff's left end to the first
    note; `slot` the comfortable width of a slot and `least_slot` the narrowest that is allowed; `gap`
    what stands between two exercises that share a line.
    """

    measure: float = 170.0
    lead: float = 16.0
    slot: float = 3.8
    least_slot: float = 3.0
    gap: float = 6.0
