"""Engraving many sheets: in batches, several batches at once."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor, as_completed
from threading import Lock

from ..compose.book import Engraving
from ..style.model import Staff
from .block import Block
from .lilypond import set_sheets
from .sheet import block_of, sheet_of

# Starting LilyPond costs as much as setting ten systems (measured: 0.35 s against 0.03 s each). Larger batches
# would show no progress and take memory, smaller ones would start too often.
_LARGEST, _SMALLEST = 32, 8

Finish = Callable[[bytes], bytes]

# Abjad does not say that it may be used in several threads at once; waiting costs nothing, for Python
# runs one of them at a time anyway, and LilyPond runs beside it.
_abjad = Lock()


def engrave_batch(batch: Sequence[Engraving], staff: Staff, finish: Finish) -> list[Block]:
    """Engrave a batch in one run of LilyPond. Raises OutsideError."""
    with _abjad:
        sheets = [sheet_of(engraving, staff) for engraving in batch]
    proofs = set_sheets(sheets, staff.height)
    return [block_of(engraving, staff, proof, finish) for engraving, proof in zip(batch, proofs, strict=True)]


def engrave_all(
    engravings: Sequence[Engraving], staff: Staff, jobs: int, finish: Finish
) -> Iterator[tuple[Engraving, Block]]:
    """Engrave everything, `jobs` batches at once, and give each block out when its batch is done.

    Raises OutsideError; what has been given out by then is good.
    """
    batches = list(_batches(engravings, jobs))
    with ThreadPoolExecutor(max(1, min(jobs, len(batches)))) as executor:
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
