"""Staff places and heads.

Against LilyPond's `weinberg-drums-style` (ly/drumpitch-init.ly of the engraver), which names as its
source N. Weinberg, *Guidelines for Drumset Notation* (Percussive Notes, June 1994); his *Guide to
Standardized Drumset Notation* (Percussive Arts Society, 1998) is known to us from memory only.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

import pytest

from tests.engrave.conftest import blocks as blocks
from tests.engrave.shown import heads_of
from typeset.compose.engraving import Engraving, SoundSpecimen
from typeset.engrave.block import Block
from typeset.engrave.lilypond import engraver
from typeset.pattern.sound import SOUNDS, Head

# LilyPond's names for what we name otherwise.
_HEADS = {"()": Head.NORMAL, "cross": Head.CROSS, "diamond": Head.DIAMOND, "triangle": Head.TRIANGLE}
_WEINBERG = {"acousticsnare": "snare", "hightom": "himidtom", "lowmidtom": "lowmidtom"}

# Not in that table, or otherwise there: heads that tell a rim shot from a snare stroke and a china from
# a splash on one place (common practice, no source).
_OURS_ALONE = {"rim-shot", "splash", "china"}


def weinberg() -> dict[str, tuple[Head, str, int]]:
    """LilyPond's table: head, script and place by the name of the drum."""
    (file,) = engraver().resolve().parent.parent.glob("share/lilypond/*/ly/drumpitch-init.ly")
    table = file.read_text().partition("(weinberg-drums-style")[2]
    rows = re.findall(r"\((\w+) (\S+) (\S+) (-?\d+)\)", table)
    return {name: (_HEADS[head], script, int(place)) for name, head, script, place in rows}


@pytest.mark.parametrize("name", sorted(set(SOUNDS) - _OURS_ALONE))
def test_places_and_heads_are_weinbergs(name: str) -> None:
    sound = SOUNDS[name]
    head, script, place = weinberg()[_WEINBERG.get(sound.drum, sound.drum)]
    assert (sound.head, sound.place) == (head, place)
    assert sound.open == (script == "open")


def test_the_two_rack_toms_stand_on_his_second_and_third_places() -> None:
    table = weinberg()
    assert table["hightom"][2] == table["ridecymbal"][2] == SOUNDS["ride"].place
    assert SOUNDS["high-tom"].place == table["himidtom"][2]


@pytest.mark.parametrize("name", SOUNDS)
def test_a_sound_is_printed_where_the_table_says(name: str, blocks: Mapping[Engraving, Block]) -> None:
    sound = SOUNDS[name]
    block = blocks[SoundSpecimen(sound)]
    ((shape, x, y),) = heads_of(block)
    step = (block.top - block.bottom) / 8
    assert (y - (block.top + block.bottom) / 2) / step == pytest.approx(sound.place, abs=0.05)
    assert shape == {Head.SLASHED: "normal"}.get(sound.head, sound.head.value)
    assert x == pytest.approx(block.slots[0], abs=0.3)
