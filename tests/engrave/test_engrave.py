"""The stage as a whole: what is engraved, what comes from the store, what happens without an engraver."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.notation.made import bar, system
from typeset.compose.engraving import Engraving, NoteSpecimen
from typeset.engrave import Engraved, LocalThreads, Store, engrave, lilypond
from typeset.engrave.block import Block
from typeset.pattern.bar import Bar
from typeset.pattern.stroke import Stroke
from typeset.problem import OutsideError
from typeset.style.music import Staff

GROOVE = bar("4/4", "8ths", "hk h sh h")


def as_it_is(pdf: bytes, page: int, size: tuple[float, float]) -> bytes:
    """A block's PDF, left alone."""
    return pdf


def engraved(engravings: list[Engraving], folder: Path, **how: Any) -> Engraved:
    """Engrave in the plain staff with a store in a folder."""
    return engrave(engravings, Staff(), store=Store(folder), executor=LocalThreads(2), finish=as_it_is, **how)


def left_handed(made: Bar) -> Bar:
    """The bar with the hands changed."""
    return made.with_slots([tuple(Stroke(s.limb.mirrored, s.sound) for s in slot) for slot in made.slots])


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Engraved]:
    """A store with two blocks in it, and what engraving them answered."""
    folder = tmp_path_factory.mktemp("store")
    return folder, engraved([system(GROOVE), system(GROOVE, GROOVE)], folder)


def test_the_first_time_everything_is_engraved(kept: tuple[Path, Engraved]) -> None:
    _, first = kept
    assert (first.engraved, first.stored) == (2, 0)
    assert [len(first.blocks[made].slots) for made in (system(GROOVE), system(GROOVE, GROOVE))] == [8, 16]


def test_the_second_time_everything_is_found_without_abjad_or_lilypond(
    kept: tuple[Path, Engraved], monkeypatch: pytest.MonkeyPatch
) -> None:
    folder, first = kept
    monkeypatch.setattr(lilypond, "set_sheets", None)
    monkeypatch.setattr(LocalThreads, "engrave", None)
    second = engraved([system(GROOVE), system(GROOVE, GROOVE)], folder)
    assert (second.engraved, second.stored) == (0, 2)
    assert second.blocks == first.blocks


def test_a_left_handed_copy_engraves_nothing(kept: tuple[Path, Engraved]) -> None:
    folder, first = kept
    copy = engraved([system(left_handed(GROOVE))], folder)
    assert (copy.engraved, copy.stored) == (0, 1)
    assert copy.blocks[system(left_handed(GROOVE))] == first.blocks[system(GROOVE)]


def test_fresh_engraves_again(kept: tuple[Path, Engraved]) -> None:
    folder, _ = kept
    assert engraved([system(GROOVE)], folder, fresh=True).engraved == 1


def test_progress_goes_from_what_is_stored_to_all(kept: tuple[Path, Engraved]) -> None:
    folder, _ = kept
    seen: list[tuple[int, int]] = []
    engravings = [system(GROOVE), NoteSpecimen(GROOVE.meter.pulse)]
    engraved(engravings, folder, progress=lambda done, total: seen.append((done, total)))
    assert seen == [(1, 2), (2, 2)]


def test_importing_the_stage_imports_no_abjad() -> None:
    code = "import sys, typeset.engrave; sys.exit('abjad' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code]).returncode == 0


def test_without_an_engraver_the_message_says_what_to_install(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setitem(sys.modules, "lilypond", None)
    monkeypatch.setenv("PATH", str(tmp_path))
    lilypond.engraver.cache_clear()
    with pytest.raises(OutsideError, match="pip install lilypond"):
        lilypond.engraver()
    lilypond.engraver.cache_clear()


def test_an_engraver_that_fails_is_reported_with_its_last_words(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    broken = tmp_path / "lilypond"
    broken.write_text("#!/bin/sh\necho no fonts >&2\nexit 1\n")
    broken.chmod(0o755)
    monkeypatch.setattr(lilypond, "engraver", lambda: broken)
    with pytest.raises(OutsideError, match="no fonts"):
        engraved([system(GROOVE)], tmp_path)


def test_a_block_knows_where_its_staff_and_its_slots_are(kept: tuple[Path, Engraved]) -> None:
    block: Block = kept[1].blocks[system(GROOVE)]
    assert block.left < block.slots[0] < block.slots[-1] < block.right
    assert 0 < block.ink[1] <= block.bottom < block.top <= block.ink[3] < block.height
