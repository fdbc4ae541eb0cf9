"""Pages: everything of a book on paper but the engraved music."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from .refusals import DoesNotFit, MissingCharacters
from .repertoire import described, missing_characters

if TYPE_CHECKING:
    from ..compose.book import Book
    from ..compose.curriculum import Curriculum
    from ..compose.engraving import Engraving
    from ..compose.sheet import Sheet
    from ..engrave.block import Block
    from ..style import Style
    from .keeping import Keep
    from .pages import Pages

__all__ = [
    "DoesNotFit",
    "MissingCharacters",
    "described",
    "lay_out",
    "lay_out_curriculum",
    "lay_out_roster",
    "lay_out_sheets",
    "missing_characters",
]


def lay_out(book: Book, style: Style, blocks: Mapping[Engraving, Block], keep: Keep | None = None) -> Pages:
    """Set a book in a style; see `layout.lay_out`. The typesetting library loads when it is called."""
    from .layout import lay_out as set_pages

    return set_pages(book, style, blocks, keep)


def lay_out_curriculum(curriculum: Curriculum, style: Style) -> Pages:
    """Set a curriculum's map and plans; see `terms.lay_out_curriculum`. The library loads when it is called."""
    from .terms import lay_out_curriculum as set_pages

    return set_pages(curriculum, style)


def lay_out_sheets(
    sheets: Sequence[Sheet], style: Style, blocks: Mapping[Engraving, Block], two_sided: bool = False
) -> Pages:
    """Set handouts one after the other; see `sheet.lay_out_sheets`. The library loads when it is called."""
    from .sheet import lay_out_sheets as set_pages

    return set_pages(sheets, style, blocks, two_sided)


def lay_out_roster(
    sheets: Sequence[Sheet], style: Style, blocks: Mapping[Engraving, Block], two_sided: bool = False
) -> tuple[Pages, ...]:
    """Set handouts each by itself, and last all; see `sheet.lay_out_roster`. The library loads when called."""
    from .sheet import lay_out_roster as set_pages

    return set_pages(sheets, style, blocks, two_sided)
