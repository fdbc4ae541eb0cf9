"""When LilyPond fails: which sheet it failed at. The others are set nevertheless."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..problem import OutsideError
from .lilypond import Proof, Sheet, set_sheets
from .running import Engravers

MOST_HUNG = 3
"""After so many sheets of a build at which LilyPond came to no end, no further one is waited for."""

_SOUND = Sheet("\\markup \\note {4} #UP", 10.0)
"""What any LilyPond can set; one that cannot is broken itself."""


@dataclass(frozen=True, slots=True)
class Unset:
    """What could not be set, and why."""

    why: str


def set_each(sheets: Sequence[Sheet], staff_height: float, engravers: Engravers) -> list[Proof | Unset]:
    """Set sheets in one run; where that fails, find the sheets that it fails at, and set the others.

    LilyPond sets one sheet after the other, so the first that is missing is suspect. It is tried alone, which tells
    its own fault from that of too many together, and the rest in a run of their own: at most two more runs for
    each fault. Raises OutsideError where LilyPond cannot set anything, and Stopped.
    """
    results: dict[int, Proof | Unset] = {}
    left = list(range(len(sheets)))
    while left:
        setting = set_sheets([sheets[index] for index in left], staff_height, engravers)
        results |= {index: proof for index, proof in zip(left, setting.proofs, strict=True) if proof}
        left = [index for index in left if index not in results]
        if left:
            was_alone = len(setting.proofs) == 1
            suspect = left.pop(0)
            results[suspect] = (
                _fault(setting.fault, setting.hung, staff_height, engravers)
                if was_alone
                else _alone(sheets[suspect], staff_height, engravers)
            )
        if left and engravers.hung >= MOST_HUNG:
            results |= dict.fromkeys(
                left, Unset("it was not tried, for LilyPond came to no end at others before it")
            )
            break
    return [results[index] for index in range(len(sheets))]


def _alone(sheet: Sheet, staff_height: float, engravers: Engravers) -> Proof | Unset:
    setting = set_sheets([sheet], staff_height, engravers)
    return setting.proofs[0] or _fault(setting.fault, setting.hung, staff_height, engravers)


def _fault(fault: str, hung: bool, staff_height: float, engravers: Engravers) -> Unset:
    """What a sheet failed with, once it is known that LilyPond itself works."""
    engravers.hung += hung
    if not engravers.is_sound:
        probe = set_sheets([_SOUND], staff_height, engravers)
        if probe.proofs[0] is None:
            raise OutsideError(f"LilyPond fails whatever it is given: {probe.fault}")
        engravers.is_sound = True
    return Unset(fault)
