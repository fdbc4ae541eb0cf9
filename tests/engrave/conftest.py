"""One run of LilyPond for all tests that look at real blocks."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from tests.engrave.shown import SHOWN, SPLIT
from typeset.compose.engraving import Engraving
from typeset.engrave.block import Block
from typeset.engrave.workers import engrave_batch
from typeset.pdf.forms import finish
from typeset.style.music import Staff


@pytest.fixture(scope="session")
def blocks() -> Mapping[Engraving, Block]:
    """The blocks of everything in SHOWN, all stems up."""
    return dict(zip(SHOWN, engrave_batch(SHOWN, Staff(), finish), strict=True))


@pytest.fixture(scope="session")
def split_blocks() -> Mapping[Engraving, Block]:
    """The blocks of everything in SPLIT, hands up and feet down, repeated bars as signs."""
    staff = Staff(stems="split", repeated_bars=True)
    return dict(zip(SPLIT, engrave_batch(SPLIT, staff, finish), strict=True))
