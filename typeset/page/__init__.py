"""Pages: everything of a book on paper but the engraved music."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from .pages import DoesNotFit, Pages

if TYPE_CHECKING:
    from ..compose.book import Book, Engraving
    from ..engrave.block import Block
    from ..style import Style

__all__ = ["DoesNotFit", "Pages", "lay_out"]


def lay_out(book: Book, style: Style, blocks: Mapping[Engraving, Block]) -> Pages:
    """Set a book in a style; see `layout.lay_out`. The typesetting library loads when it is called."""
    from .layout import lay_out as set_pages

    return set_pages(book, style, blocks)
