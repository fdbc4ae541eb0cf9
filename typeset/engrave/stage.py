"""The third stage: everything of a book that LilyPond sets, as blocks."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from ..compose.book import Engraving
from ..style.model import Staff
from .block import Block
from .printed import printed
from .store import Store, key_of, maker_of
from .workers import engrave_all


@dataclass(frozen=True, slots=True)
class Engraved:
    """The blocks, and how many engravings were set in this run and how many were found in the store."""

    blocks: Mapping[Engraving, Block]
    engraved: int
    stored: int


def engrave(
    engravings: Iterable[Engraving],
    staff: Staff,
    *,
    store: Store,
    jobs: int,
    finish: Callable[[bytes], bytes],
    progress: Callable[[int, int], None] | None = None,
    fresh: bool = False,
) -> Engraved:
    """Engrave everything that the store does not have, and keep it there.

    `finish` makes of LilyPond's PDF, whose last page is the block, the PDF that is kept. `progress` is told
    how many blocks are done, and of how many. `jobs` is how many LilyPonds run at once. `fresh` passes
    over what the store has. Engravings that look alike are engraved once. Raises OutsideError when the
    engraver is missing or fails, or the store cannot be written.
    """
    maker = maker_of(finish)
    names = {engraving: key_of(engraving, staff, maker) for engraving in engravings}
    blocks: dict[str, Block] = {}
    missing: dict[Engraving, str] = {}
    for engraving, key in names.items():
        block = None if fresh or key in blocks else store.get(key)
        if block:
            blocks[key] = block
        elif key not in blocks:
            missing[printed(engraving)] = key
    stored = len(blocks)
    report = progress or _say_nothing
    total = stored + len(missing)
    report(stored, total)
    if missing:
        for engraving, block in engrave_all(list(missing), staff, jobs, finish):
            key = missing[engraving]
            store.put(key, block)
            blocks[key] = block
            report(len(blocks), total)
    return Engraved({engraving: blocks[key] for engraving, key in names.items()}, len(missing), stored)


def _say_nothing(done: int, total: int) -> None:
    pass
