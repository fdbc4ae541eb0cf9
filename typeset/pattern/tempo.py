"""Tempos: one, or a start and a goal."""

from __future__ import annotations

import re
from dataclasses import dataclass

SLOWEST, FASTEST = 20, 400

WRITTEN = re.compile(r"^\s*(\d+)\s*(?:[-–]\s*(\d+)\s*)?$")
"""How a tempo is written."""


class TempoError(ValueError):
    """The tempo cannot be read, or nobody could count it."""


@dataclass(frozen=True, slots=True)
class Tempo:
    """A start and a goal in beats a minute; equal where only one was said. The meter names the beat."""

    start: int
    goal: int

    @classmethod
    def parse(cls, text: str) -> Tempo:
        """Read `80` or `60-100`; raises TempoError that says how one is written."""
        found = WRITTEN.match(text)
        if not found:
            raise TempoError(f"'{text}' is no tempo; write 80, or 60-100 for a start and a goal")
        start = int(found[1])
        goal = int(found[2]) if found[2] else start
        for tempo in (start, goal):
            if not SLOWEST <= tempo <= FASTEST:
                raise TempoError(f"{tempo} beats a minute is not offered; from {SLOWEST} to {FASTEST} is")
        if goal < start:
            raise TempoError(f"the goal {goal} is slower than the start {start}; write the slower tempo first")
        return cls(start, goal)

    def __str__(self) -> str:
        """As an author writes it."""
        return str(self.start) if self.start == self.goal else f"{self.start}-{self.goal}"
