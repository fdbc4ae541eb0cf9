"""The store: a block is found again by what it depends on, and by nothing else."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.notation.made import bar, system
from typeset.compose.engraving import SoundSpecimen, System
from typeset.engrave.block import Block
from typeset.engrave.store import Store, default_folder, key_of, maker_of
from typeset.kept import Shelf
from typeset.pattern.bar import Bar
from typeset.pattern.sound import SOUNDS
from typeset.pattern.stroke import Stroke
from typeset.pdf.forms import finish
from typeset.style.music import Staff

BLOCK = Block(
    b"%PDF-1.4 \x00\xff\n body", 402, 90, 5.7, 395.7, 30.5, 48.1, (5.7, 20.0, 395.7, 64.25), (51.0, 61.75)
)


def swapped(made: Bar) -> Bar:
    """A left-handed copy of a bar."""
    return made.with_slots(
        [tuple(Stroke(s.limb.mirrored, s.sound, s.dynamic, s.ornament) for s in slot) for slot in made.slots]
    )


def test_what_is_put_is_found(tmp_path: Path) -> None:
    store = Store(tmp_path)
    store.put("ab" * 32, BLOCK)
    assert store.get("ab" * 32) == BLOCK


def test_what_was_never_put_is_not_found(tmp_path: Path) -> None:
    assert Store(tmp_path).get("ab" * 32) is None


@pytest.mark.parametrize("damage", ["cut", "changed", "empty", "other"])
def test_a_damaged_block_is_not_found(tmp_path: Path, damage: str) -> None:
    store = Store(tmp_path)
    store.put("ab" * 32, BLOCK)
    (file,) = tmp_path.rglob("*.block")
    kept = file.read_bytes()
    file.write_bytes({"cut": kept[:-3], "changed": kept[:-1] + b"!", "empty": b"", "other": b"no block\n"}[damage])
    assert store.get("ab" * 32) is None


@pytest.mark.parametrize("body", [b"", b"no block", b"{}\n%PDF", b"[1]\n", b'{"ink": 1, "slots": []}\n'])
def test_what_is_whole_and_no_block_is_not_found(tmp_path: Path, body: bytes) -> None:
    Shelf(tmp_path, "block").put("ab" * 32, body)
    assert Store(tmp_path).get("ab" * 32) is None


def test_a_damaged_block_is_replaced(tmp_path: Path) -> None:
    store = Store(tmp_path)
    store.put("ab" * 32, BLOCK)
    next(tmp_path.rglob("*.block")).write_bytes(b"")
    store.put("ab" * 32, BLOCK)
    assert store.get("ab" * 32) == BLOCK


def test_nothing_is_left_beside_the_block(tmp_path: Path) -> None:
    Store(tmp_path).put("ab" * 32, BLOCK)
    assert [path.suffix for path in tmp_path.rglob("*") if path.is_file()] == [".block"]


def test_a_store_that_cannot_be_written_is_an_error_of_the_disk(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(OSError):
        Store(tmp_path / "file").put("ab" * 32, BLOCK)


def test_a_left_handed_copy_has_the_same_key() -> None:
    groove = bar("4/4", "16ths", "hk . s!h s?")
    assert swapped(groove) != groove
    assert key(system(groove)) == key(system(swapped(groove)))


def test_another_music_staff_width_or_maker_has_another_key() -> None:
    groove = system(bar("4/4", "16ths", "hk . s!h s?"))
    others = {
        key(system(bar("4/4", "16ths", "hk . sh s?"))),
        key(system(bar("4/4", "16ths", "hk . s!h s?"), slot=4.0)),
        key(groove, Staff(stems="split")),
        key(groove, Staff(height=7.0)),
        key(groove, maker="another"),
        key(SoundSpecimen(SOUNDS["snare"])),
    }
    assert key(groove) not in others
    assert len(others) == 6


def key(engraving: System | SoundSpecimen, staff: Staff | None = None, maker: str = "one") -> str:
    """The key of an engraving in the plain staff."""
    return key_of(engraving, staff or Staff(), maker)


def test_what_makes_blocks_is_known_by_the_code_that_finishes_them_too() -> None:
    assert maker_of(finish) != maker_of(swapped_bytes)


def swapped_bytes(pdf: bytes, page: int, size: tuple[float, float]) -> bytes:
    """Another way to finish a block."""
    return pdf[::-1]


def test_the_folder_can_be_named(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("SHEDBOOK_STORE", str(tmp_path / "here"))
    assert tmp_path / "here" in default_folder().parents
    monkeypatch.delenv("SHEDBOOK_STORE")
    assert "shedbook" in str(default_folder())
