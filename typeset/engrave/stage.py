"""The third stage: everything of a book that LilyPond sets, as blocks."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from ..compose.engraving import Engraving
from ..kept import told_not_kept
from ..style.music import Staff
from .block import Block, Finish
from .printed import printed
from .recovery import Unset
from .store import Store, key_of, maker_of
from .workers import Executor


@dataclass(frozen=True, slots=True)
class Engraved:
    """The blocks, and how many engravings were set in this run and how many were found in the store.

    `not_kept` says why the store could not take what was set; it is empty where it could.
    """

    blocks: Mapping[Engraving, Block]
    engraved: int
    stored: int
    not_kept: str = ""


class NotEngraved(Exception):
    """What LilyPond could not set, each with why; everything else was set and is kept."""

    def __init__(self, failed: Mapping[Engraving, str]) -> None:
        self.failed = failed
        super().__init__(f"{len(failed)} systems could not be engraved")


def engrave(
    engravings: Iterable[Engraving],
    staff: Staff,
    *,
    store: Store,
    executor: Executor,
    finish: Finish,
    progress: Callable[[int, int], None] | None = None,
    fresh: bool = False,
) -> Engraved:
    """Engrave everything that the store does not have, and keep it there.

    `finish` makes of a page of LilyPond's PDF the PDF that is kept. `progress` is told
    how many blocks are done, and of how many. `fresh` passes over what the store has. Engravings that look
    alike are engraved once. Raises NotEngraved, once all others are engraved, and OutsideError when the
    engraver is missing or cannot set anything.
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
    keeper = _Keeper(store)
    failed: dict[str, str] = {}
    if missing:
        for batch, results in executor.engrave(list(missing), staff, finish):
            for engraving, made in zip(batch, results, strict=True):
                key = missing[engraving]
                if isinstance(made, Unset):
                    failed[key] = made.why
                else:
                    keeper.keep(key, made)
                    blocks[key] = made
                    report(len(blocks), total)
    if failed:
        raise NotEngraved({engraving: failed[key] for engraving, key in names.items() if key in failed})
    return Engraved(
        {engraving: blocks[key] for engraving, key in names.items()}, len(missing), stored, keeper.not_kept
    )


class _Keeper:
    """Keeps blocks in a store; from the first that it cannot take, for whatever reason, it tries no more."""

    def __init__(self, store: Store) -> None:
        self.store = store
        self.not_kept = ""

    def keep(self, key: str, block: Block) -> None:
        if self.not_kept:
            return
        try:
            self.store.put(key, block)
        except OSError as error:
            self.not_kept = told_not_kept(self.store.folder.parent, error)


def _say_nothing(done: int, total: int) -> None:
    pass
