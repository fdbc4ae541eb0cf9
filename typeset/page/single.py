"""A book's pages one at a time, for whoever watches it being written: nothing is drawn before it is asked for."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from ..compose.book import Book, Chapter
from ..compose.engraving import Engraving
from ..engrave.block import Block
from ..style.model import Style
from .layout import leaves_of, set_chapter, setting_of
from .leaf import Pageful, filled_up
from .notes import Head, NotedSystem, heads_of, noted_systems
from .pages import Pages
from .plates import Plate, page_size, plates_of, printed
from .setting import Setting


@dataclass(frozen=True)
class SinglePages:
    """The pages of a book, each to be drawn by itself: as the whole book has it, without its links.

    `keys` name what is on each page: of two builds, pages of one key look the same. `width` and `height` are
    points. `heads` and `systems` tell where the exercises stand.
    """

    keys: tuple[str, ...]
    width: float
    height: float
    heads: tuple[Head, ...]
    systems: tuple[NotedSystem, ...]
    _book: Book = field(repr=False)
    _plates: tuple[Plate, ...] = field(repr=False)
    _setting: Setting = field(repr=False)

    @property
    def blocks(self) -> Mapping[Engraving, Block]:
        """What is engraved on the pages."""
        return self._setting.blocks

    @property
    def style(self) -> Style:
        """The style that they are set in."""
        return self._setting.style

    def draw(self, number: int) -> Pages:
        """One page, from 0, as a book of one page."""
        return printed(self._book, [self._plates[number]], (self.width, self.height), self._setting)


@dataclass
class Typesetter:
    """Sets one state of a book after another; a chapter that is as it was is not set again.

    `made_by` tells one program from another: their pages look different where what is on them is the same.
    """

    made_by: str = ""
    _setting: Setting | None = None
    _chapters: dict[Chapter, Pageful] = field(default_factory=dict)
    _about: str = ""
    _keys: dict[Plate, str] = field(default_factory=dict)

    def pages(self, book: Book, style: Style, blocks: Mapping[Engraving, Block]) -> SinglePages:
        """The pages of a book as it is now. Raises as `layout.lay_out` does."""
        setting = setting_of(book, style, blocks)
        if self._setting is None or replace(self._setting, blocks=blocks) != setting:
            self._chapters = {}
        self._setting = setting
        leaves = filled_up(leaves_of(book, setting, self._chapter), style.press.pages_multiple)
        self._chapters = {chapter: self._chapters[chapter] for chapter in book.chapters}
        plates, size = tuple(plates_of(book, leaves, setting)), page_size(leaves, setting)
        about = f"{self.made_by}{style.model_dump_json()}{size}"
        known = self._keys if about == self._about else {}
        self._about, self._keys = about, {plate: known.get(plate) or _key(plate, about) for plate in plates}
        return SinglePages(
            keys=tuple(self._keys[plate] for plate in plates),
            width=size[0],
            height=size[1],
            heads=tuple(heads_of(book, plates)),
            systems=tuple(noted_systems(book, plates, setting)),
            _book=book,
            _plates=plates,
            _setting=setting,
        )

    def _chapter(self, chapter: Chapter, setting: Setting) -> Pageful:
        if chapter not in self._chapters:
            self._chapters[chapter] = set_chapter(chapter, setting)
        return self._chapters[chapter]


def _key(plate: Plate, about: str) -> str:
    return hashlib.sha256(f"{plate!r}{about}".encode()).hexdigest()[:32]
