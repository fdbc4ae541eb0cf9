"""Binding: pages and engraved blocks become one PDF."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from .output import AS_BOOK, Flip, Kind, NotForPress, Output

if TYPE_CHECKING:
    from ..compose.engraving import Engraving
    from ..engrave.block import Block
    from ..page.pages import Pages
    from ..style.model import Style
    from .structure import Say

__all__ = ["AS_BOOK", "Flip", "Kind", "NotForPress", "Output", "bind"]


def bind(
    pages: Pages, blocks: Mapping[Engraving, Block], style: Style, say: Say, output: Output = AS_BOOK
) -> bytes:
    """The finished PDF: a book to read, or what else is made of its pages.

    `say` gives what is read aloud in place of an engraving, without the line that a task withholds. The same
    pages and blocks give the same bytes. Raises NotForPress where something is missing that a
    printing house needs. The PDF library is loaded only when this is called.
    """
    if output.kind is Kind.PRESS:
        from .press import bind_for_press

        return bind_for_press(pages, blocks, style.press, output.profile)
    if output.kind is Kind.BOOK:
        from .binding import bind as bind_book

        return bind_book(pages, blocks, style.press, say)
    from .imposition import impose

    return impose(pages, blocks, style.booklet, output)
