"""What every page is set with: the style in points, the faces, the words, the blocks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from ..compose.engraving import Engraving
from ..engrave.block import Block
from ..style.model import Running, Style
from ..style.paper import Booklet, Margins, Press
from ..wording import Wording
from ..wording.sides import with_sides
from .families import CUTS, Cuts

POINTS_IN_MM = 72 / 25.4


def points(millimetres: float) -> float:
    """Millimetres in points."""
    return millimetres * POINTS_IN_MM


@dataclass(frozen=True)
class Setting:
    """A style, a language and the blocks of a book, with the lengths that follow, in points.

    In a `mirrored` book, one for left-handed players, the words for right and left change places. One
    `for_teacher` prints the notes that are for the teacher alone.
    """

    style: Style
    words: Wording
    blocks: Mapping[Engraving, Block]
    mirrored: bool = False
    for_teacher: bool = False

    @cached_property
    def measure(self) -> float:
        """The width of the text block."""
        return points(self.style.spacing.measure)

    @cached_property
    def unit(self) -> float:
        """The step of the page's vertical rhythm: a quarter of the leading."""
        return self.style.type.leading / 4

    @cached_property
    def depth(self) -> float:
        """The height of the text block, in whole steps of the rhythm."""
        style = self.style
        free = points(style.paper.height - style.margins.top - style.margins.bottom)
        return free // self.unit * self.unit

    @property
    def is_cut(self) -> bool:
        """True where every page is cut to what stands on it."""
        return self.style.paper.fitted

    @cached_property
    def margin(self) -> float:
        """The white that is left and right of the text block on every page at least."""
        margins = self.style.margins
        return points(min(margins.outer, margins.inner))

    @cached_property
    def text_width(self) -> float:
        """The longest line of running text."""
        return min(self.measure, points(self.style.type.text_width))

    @cached_property
    def anywhere(self) -> Setting:
        """The same without what only says where a text block stands on its page, and what stands around it.

        Chapters are set in it: two styles that differ in nothing else set them alike.
        """
        style, margins = self.style, self.style.margins
        beside = min(style.spacing.gap, margins.outer, margins.inner)
        # Not read as a style's are, for there both are more than nothing.
        nowhere = Margins.model_construct(top=0.0, bottom=margins.top + margins.bottom, inner=beside, outer=beside)
        plain = {"name": "", "margins": nowhere, "running": Running(), "press": Press(), "booklet": Booklet()}
        return replace(self, style=style.model_copy(update=plain))

    @property
    def hyphened(self) -> str | None:
        """The language whose words may be parted; None where the style keeps them whole."""
        return self.words.language if self.style.type.hyphens else None

    @property
    def text(self) -> Cuts:
        """The face of running text."""
        return CUTS[self.style.type.text]

    @property
    def letters(self) -> Cuts:
        """The face of letters, counts and labels."""
        return CUTS[self.style.type.letters]

    @cached_property
    def light_text(self) -> Cuts:
        """The text face with its light cut as the regular one, for titles."""
        return replace(self.text, regular=self.text.light)

    @cached_property
    def strong_text(self) -> Cuts:
        """The text face with its strong cut as the regular one, for headings."""
        return replace(self.text, regular=self.text.strong)

    def sided(self, text: str) -> str:
        """A text with `{right}` and `{left}` as words."""
        return with_sides(text, self.words, self.mirrored)

    def rounded(self, height: float) -> float:
        """A height, rounded up to whole steps of the rhythm."""
        return -(-round(height / self.unit, 6) // 1) * self.unit
