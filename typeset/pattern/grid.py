"""Grids: into how many even slots each beat of a bar is divided."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from .meter import Meter

QUARTER = Fraction(1, 4)

# Slots in a quarter.
GRIDS: dict[str, int] = {
    "quarters": 1,
    "8ths": 2,
    "triplets": 3,
    "16ths": 4,
    "quintuplets": 5,
    "sextuplets": 6,
    "septuplets": 7,
    "32nds": 8,
}
IN_EIGHTHS = ("8ths", "16ths", "32nds")


class GridError(ValueError):
    """The grid cannot be read, or does not go with the meter."""


@dataclass(frozen=True, slots=True)
class Grid:
    """One grid name, or one for each quarter of the bar, repeated until the bar is full."""

    names: tuple[str, ...]

    @classmethod
    def of(cls, *names: str) -> Grid:
        """A grid by its names; raises GridError that lists the names there are."""
        for name in names:
            if name not in GRIDS:
                raise GridError(f"'{name}' is no grid; there are {', '.join(GRIDS)}")
        if not names:
            raise GridError("a grid has at least one name, such as 16ths")
        return cls(tuple(names))

    def __str__(self) -> str:
        """The name, or the names in brackets."""
        return self.names[0] if self.is_even else f"[{', '.join(self.names)}]"

    @property
    def is_even(self) -> bool:
        """True when every quarter is divided alike."""
        return len(set(self.names)) == 1


SIXTEENTHS = Grid.of("16ths")


def divide(meter: Meter, grid: Grid) -> tuple[tuple[Fraction, int], ...]:
    """A bar's beats as (length as a fraction of a whole note, number of slots).

    In x/2 a beat whose two quarters are divided differently counts as two beats of a quarter. Raises
    GridError where the grid does not go with the meter.
    """
    if meter.bottom == 8:
        return _divide_eighths(meter, grid)
    quarters = int(meter.length / QUARTER)
    counts = [GRIDS[grid.names[index % len(grid.names)]] for index in range(quarters)]
    if meter.bottom == 4:
        return tuple((QUARTER, count) for count in counts)
    beats: list[tuple[Fraction, int]] = []
    for first, second in zip(counts[::2], counts[1::2], strict=True):
        if first == second:
            beats.append((2 * QUARTER, 2 * first))
        else:
            beats += [(QUARTER, first), (QUARTER, second)]
    return tuple(beats)


def goes_with(grid: Grid, meter: Meter) -> bool:
    """True where a bar of the meter can be divided so."""
    try:
        return bool(divide(meter, grid))
    except GridError:
        return False


def _divide_eighths(meter: Meter, grid: Grid) -> tuple[tuple[Fraction, int], ...]:
    if not grid.is_even:
        raise GridError(f"a list of grids goes with x/4 and x/2; in {meter} say one of {', '.join(IN_EIGHTHS)}")
    name = grid.names[0]
    if name not in IN_EIGHTHS:
        raise GridError(f"{name} do not go with {meter}; in x/8 the grid is {', '.join(IN_EIGHTHS)}")
    return tuple((beat, int(beat / QUARTER * GRIDS[name])) for beat in meter.beats)
