"""The music of a style: its staff, the room it gets, and the letters and counts that go with it."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, PrivateAttr, model_validator

from ..pattern.limb import Limb
from .part import Length, Millimetres, Part

Letter = Annotated[str, Field(min_length=1, max_length=3)]
Syllable = Annotated[str, Field(min_length=1, max_length=5)]


def _alone(value: Any) -> Any:
    """One value may stand where a list is expected."""
    return (value,) if isinstance(value, str) else value


Syllables = Annotated[tuple[Syllable, ...], BeforeValidator(_alone)]


class Staff(Part):
    """The few keys that touch the engraved staff; engraving depends on these and on no others."""

    height: Length = 6.2
    """from the lowest to the highest staff line"""
    stems: Literal["up", "split"] = "up"
    """all stems up, or those of the hands up and those of the feet down"""
    repeated_bars: bool = False
    """print a bar that repeats the one before as a repeat sign"""


class Spacing(Part):
    """How much room music gets. A bar that does not fit at the narrowest slot is an error of the book."""

    measure: Length = 170.0
    """the width of the music and of the text block"""
    lead: Length = 16.0
    """from the staff's left end to the first note: clef, meter and repeat sign stand there"""
    tail: Millimetres = 1.6
    """from the end of the last slot to the end of the staff"""
    slot: Length = 3.8
    """the comfortable width of a slot: a line takes fewer bars before slots become narrower"""
    least_slot: Length = 3.0
    """the narrowest slot, for a bar that has a line to itself"""
    shared_slot: Length = 3.0
    """the narrowest slot for two exercises of one bar each that share a line; a large number keeps all apart"""
    gap: Millimetres = 6.0
    """between two exercises that share a line"""

    _staff_space: float = PrivateAttr(default=6.2 / 4)

    @property
    def staff_space(self) -> float:
        """How far two staff lines are apart: the style says so for its staff."""
        return self._staff_space

    def on(self, staff: Staff) -> Spacing:
        """The same spacing of music on a staff."""
        made = self.model_copy()
        made._staff_space = staff.height / 4
        return made


class Lines(Part):
    """The lines that go with the staff: where each stands, and how far away."""

    sticking: Literal["below", "above", "none"] = "below"
    """where the letters of the limbs stand"""
    counting: Literal["below", "above", "none"] = "below"
    """where the counts stand"""
    distance: Millimetres = 2.9
    """from the staff's outer line to the nearest letters, more where notes need it"""
    apart: Millimetres = 1.5
    """between the sticking and the counting line"""
    together: Literal["stacked", "joined"] = "stacked"
    """letters of strokes that sound together: one over the other, or side by side"""


class Letters(Part):
    """What the sticking line prints for each limb."""

    right: Letter = "R"
    """the right hand"""
    left: Letter = "L"
    """the left hand"""
    kick: Letter = "K"
    """the kick foot"""
    hat: Letter = "H"
    """the hi-hat foot"""

    def of(self, limb: Limb) -> str:
        """The letter of a limb."""
        letter: str = getattr(self, limb.name.lower())
        return letter


class Counts(Part):
    """What is counted between two printed numbers, by how many slots a number has.

    The keys are the grids as they are in x/4. Where a number counts an eighth or a half, the list with the
    same division is used. A figure is printed smaller, and `.` is printed as a dot. Common practice, no
    source.
    """

    eighths: Syllables = Field(default=("&",), alias="8ths")
    """after a number of two slots"""
    triplets: Syllables = ("trip", "let")
    """after a number of three"""
    sixteenths: Syllables = Field(default=("e", "&", "a"), alias="16ths")
    """after a number of four"""
    quintuplets: Syllables = ("2", "3", "4", "5")
    """after a number of five"""
    sextuplets: Syllables = ("2", "3", "4", "5", "6")
    """after a number of six"""
    septuplets: Syllables = ("2", "3", "4", "5", "6", "7")
    """after a number of seven"""
    thirty_seconds: Syllables = Field(default=(".", "e", ".", "&", ".", "a", "."), alias="32nds")
    """after a number of eight"""

    @model_validator(mode="after")
    def _are_complete(self) -> Counts:
        for slots, syllables in self.by_slots.items():
            if len(syllables) != slots - 1:
                raise ValueError(
                    f"{slots} slots to a number have {slots - 1} between the numbers, "
                    f"not the {len(syllables)} of [{', '.join(syllables)}]"
                )
        return self

    @property
    def by_slots(self) -> dict[int, tuple[str, ...]]:
        """The syllables between two numbers, by how many slots there are to a number."""
        lists = (
            self.eighths,
            self.triplets,
            self.sixteenths,
            self.quintuplets,
            self.sextuplets,
            self.septuplets,
            self.thirty_seconds,
        )
        return dict(enumerate(lists, start=2))
