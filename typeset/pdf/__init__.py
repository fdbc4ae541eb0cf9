"""Binding: pages and engraved blocks become one PDF."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from ..style.model import Press

if TYPE_CHECKING:
    from ..compose.book import Engraving
    from ..engrave.block import Block
    from ..page.pages import Pages

__all__ = ["bind"]

TRIMMED = Press()


def bind(pages: Pages, blocks: Mapping[Engraving, Block], press: Press = TRIMMED) -> bytes:
    """The finished PDF; see `binding.bind`. The PDF library is loaded only when this is called."""
    from .binding import bind as bind_pages

    return bind_pages(pages, blocks, press)
