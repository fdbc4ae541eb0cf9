"""Engraving many sheets: in batches, several batches at once."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor, ProcessPoolExecutor, ThreadPoolExecutor, as_completed

from ..compose.book import Engraving
from ..style.model import Staff
from .block import Block
from .lilypond import set_sheets
from .sheet import block_of, sheet_of

# Starting LilyPond costs as much as some thirty systems (measured: 0.35 s against 0.012 s); batches larger than this
# would show no progress, smaller ones would start too often.
_LARGEST, _SMALLEST = 48, 12

Finish = Callable[[bytes], bytes]


def engrave_batch(batch: Sequence[Engraving], staff: Staff, finish: Finish) -> list[Block]:
    """Engrave a batch in one run of LilyPond."""
    proofs = set_sheets([sheet_of(engraving, staff) for engraving in batch], staff.height)
    return [block_of(engraving, staff, proof, finish) for engraving, proof in zip(batch, proofs, strict=True)]


def engrave_all(
    engravings: Sequence[Engraving], staff: Staff, jobs: int, finish: Finish
) -> Iterator[tuple[Engraving, Block]]:
    """Engrave everything, `jobs` batches at once, and give each block out as its batch is done."""
    batches = list(_batches(engravings, jobs))
    with _executor(min(jobs, len(batches))) as executor:
        running = {executor.submit(engrave_batch, batch, staff, finish): batch for batch in batches}
        try:
            for done in as_completed(running):
                yield from zip(running[done], done.result(), strict=True)
        finally:
            for future in running:
                future.cancel()


def _batches(engravings: Sequence[Engraving], jobs: int) -> Iterator[Sequence[Engraving]]:
    share = -(-len(engravings) // max(jobs, 1))
    size = min(max(share, _SMALLEST), _LARGEST)
    for start in range(0, len(engravings), size):
        yield engravings[start : start + size]


def _executor(jobs: int) -> Executor:
    """Processes where there are several batches, for Abjad keeps one busy; else a thread, which starts at once."""
    if jobs > 1:
        return ProcessPoolExecutor(jobs)
    return ThreadPoolExecutor(1)
