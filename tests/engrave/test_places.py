"""Where slots, barlines and the staff stand, read back from finished blocks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from tests.engrave.shown import BLANK, POINTS, SPLIT, SYSTEMS, heads_of, page_of, with_meters
from tests.notation.made import bar, picked_up, pickup, system
from typeset.compose.engraving import METER_ROOM, REPEAT_ROOM, Engraving, Hairpin, System
from typeset.compose.reach import DRAG, GHOST, HALF_REPEAT, HEAD
from typeset.engrave.block import Block
from typeset.engrave.places import places_of

NEAR = 0.15 * POINTS
"""What the eye forgives: 0.15 mm."""


def struck(shown: System, block: Block) -> list[float]:
    """Where the slots with strokes stand."""
    slots = [slot for each in shown.every_bar for slot in each.slots]
    return [x for x, slot in zip(block.slots, slots, strict=True) if slot]


def staff_lines(block: Block) -> list[dict[str, Any]]:
    """The staff's lines as pdfplumber finds them: long ones, and no bracket over the staff."""
    page = page_of(block)
    highest = float(page.height) - block.top - 1
    return [line for line in page.lines if line["x1"] - line["x0"] > 50 and line["top"] > highest]


def _tuplets(shown: System) -> list[int]:
    """The slots of each quarter of a system that is divided into three, five, six or seven."""
    quarters = [beat for one in shown.bars for beat in one.beats if beat.length == Fraction(1, 4)]
    return [len(beat.slots) for beat in quarters if len(beat.slots) in (3, 5, 6, 7)]


@pytest.mark.parametrize("shown", SYSTEMS)
def test_every_stroke_has_its_head_on_its_slot(shown: System, blocks: Mapping[Engraving, Block]) -> None:
    block = blocks[shown]
    middles = [x for _, x, _ in heads_of(block)]
    for slot in struck(shown, block):
        assert min(abs(x - slot) for x in middles) < NEAR


@pytest.mark.parametrize("shown", SYSTEMS)
def test_no_head_stands_beside_a_slot(shown: System, blocks: Mapping[Engraving, Block]) -> None:
    block = blocks[shown]
    for _, x, _ in heads_of(block):
        assert min(abs(x - slot) for slot in struck(shown, block)) < NEAR


@pytest.mark.parametrize("shown", SYSTEMS)
def test_the_staff_is_as_long_as_it_should_be(shown: System, blocks: Mapping[Engraving, Block]) -> None:
    block = blocks[shown]
    lines = staff_lines(block)
    left, right = (min(line["x0"] for line in lines), max(line["x1"] for line in lines))
    half = lines[0]["linewidth"] / 2
    assert left - half == pytest.approx(block.left, abs=0.05)
    assert right + half == pytest.approx(block.right, abs=0.05)
    assert block.right - block.left == pytest.approx(shown.width * POINTS)


@pytest.mark.parametrize("shown", SYSTEMS)
def test_the_staff_lines_are_where_the_block_says(shown: System, blocks: Mapping[Engraving, Block]) -> None:
    block = blocks[shown]
    height = float(page_of(block).height)
    heights = sorted({round(height - line["top"], 2) for line in staff_lines(block)})
    assert len(heights) == 5
    assert heights[0] == pytest.approx(block.bottom, abs=0.05)
    assert heights[-1] == pytest.approx(block.top, abs=0.05)


@pytest.mark.parametrize("shown", [shown for shown in SYSTEMS if len(_tuplets(shown)) > 1])
def test_the_numbers_of_tuplets_stand_on_one_line(shown: System, blocks: Mapping[Engraving, Block]) -> None:
    numbers = [char for char in page_of(blocks[shown]).chars if "Italic" in char["fontname"]]
    assert numbers
    assert {round(char["matrix"][5], 1) for char in numbers} == {round(numbers[0]["matrix"][5], 1)}


def test_a_blank_staff_has_its_slots_where_the_answer_has_them(blocks: Mapping[Engraving, Block]) -> None:
    assert heads_of(blocks[BLANK]) == []
    assert blocks[BLANK].slots == blocks[replace(BLANK, blank=False)].slots


def test_slots_of_an_even_grid_are_evenly_spaced_across_barlines() -> None:
    shown = system(bar("4/4", "16ths", "s"), bar("4/4", "16ths", "s"), slot=4.0, lead=16.0)
    moments = [x for _, x in places_of(shown, 1.55).moments]
    assert moments == pytest.approx([16.0 + 4.0 * index for index in range(32)])


def test_a_meter_inside_a_system_moves_what_follows_and_stands_in_the_gap() -> None:
    shown = with_meters(system(bar("4/4", "8ths", "s"), bar("3/4", "8ths", "s"), slot=6.0), 0, 1)
    places = places_of(shown, 1.55)
    last, first = places.moments[7][1], places.moments[8][1]
    assert first - last == pytest.approx(6.0 + METER_ROOM)
    assert last < places.barlines[0][1] < places.meters[0][1] < first


@pytest.mark.parametrize("strokes", ["s", "s?", "sf", "sg", ". . . s"])
@pytest.mark.parametrize("slot", [3.8, 5.0, 9.0])
def test_an_inner_barline_stands_between_the_notes_nearer_to_the_second(strokes: str, slot: float) -> None:
    shown = system(bar("4/4", "16ths", strokes), bar("4/4", "16ths", strokes), slot=slot)
    places = places_of(shown, 1.55)
    last, first, barline = places.moments[15][1], places.moments[16][1], places.barlines[0][1]
    assert last < barline < first
    assert first - barline <= 5.3


def test_a_pickup_comes_first_and_the_bars_follow_it_in_time() -> None:
    shown = picked_up(system(bar("4/4", "16ths", "s"), repeats=False), pickup("4/4", "16ths", "s s s"))
    places = places_of(shown, 1.55)
    assert [x for _, x in places.moments] == pytest.approx([16.0 + 3.8 * slot for slot in range(19)])
    assert [time for time, _ in places.barlines] == [Fraction(3, 16)]
    assert places.moments[2][1] < places.barlines[0][1] < places.moments[3][1]


def test_a_repeat_opens_after_a_pickup_and_has_its_room_there() -> None:
    shown = picked_up(system(bar("4/4", "16ths", "s")), pickup("4/4", "16ths", "s?"))
    places = places_of(shown, 1.55)
    (_, opening), last, first = places.barlines[0], places.moments[0][1], places.moments[1][1]
    assert places.opening is None
    assert first - last == pytest.approx(3.8 + REPEAT_ROOM)
    assert last + GHOST * 1.55 < opening - HALF_REPEAT * 1.55
    assert opening + HALF_REPEAT * 1.55 < first - HEAD * 1.55


def test_a_hairpin_goes_from_head_to_head_and_leaves_a_gap_to_the_next() -> None:
    base = system(bar("4/4", "quarters", "s"), slot=15.0)
    shut, wide = Fraction(0), Fraction(1)
    shown = replace(
        base, hairpins=(Hairpin(shut, Fraction(1, 2), shut, wide), Hairpin(Fraction(1, 2), wide, wide, shut))
    )
    (left, middle), (next_left, end) = places_of(shown, 1.55).hairpins
    assert left == pytest.approx(16.0 - HEAD * 1.55)
    assert middle < 16.0 + 30.0 < next_left
    assert 16.0 + 45.0 < end < shown.width


def test_a_hairpin_is_drawn_where_it_should_be_and_over_everything_else(blocks: Mapping[Engraving, Block]) -> None:
    shown = next(each for each in SYSTEMS if each.hairpins)
    block = blocks[shown]
    expected = [x for ends in places_of(shown, 1.55).hairpins for x in ends]
    page = page_of(block)
    slanted = [line for line in page.lines if abs(line["top"] - line["bottom"]) > 0.5 and line["width"] > 20]
    found = sorted({round(line[end] - block.left, 1) for line in slanted for end in ("x0", "x1")})
    assert found == pytest.approx([x * POINTS for x in expected], abs=0.5)
    heads = [y for _, _, y in heads_of(block)]
    assert min(float(page.height) - line["bottom"] for line in slanted) > max(heads) + POINTS


def test_an_ease_at_a_barline_moves_what_follows() -> None:
    base = system(bar("4/4", "16ths", "s"), bar("4/4", "16ths", "sg s s s"), slot=4.6)
    eased = replace(base, eases=(0.0, 1.5), width=base.width + 1.5)
    plain, moved = places_of(base, 1.55), places_of(eased, 1.55)
    assert moved.moments[:16] == plain.moments[:16]
    assert [x for _, x in moved.moments[16:]] == pytest.approx([x + 1.5 for _, x in plain.moments[16:]])
    (_, barline), last, first = moved.barlines[0], moved.moments[15][1], moved.moments[16][1]
    assert last + HEAD * 1.55 < barline < first - DRAG * 1.55


def test_a_repeat_opens_further_left_where_a_grace_note_comes_first() -> None:
    plain, graced = (system(bar("4/4", "16ths", strokes)) for strokes in ("s", "sf"))
    openings = [places_of(shown, 1.55).opening for shown in (plain, graced)]
    assert openings[1] < openings[0]  # type: ignore[operator]


@pytest.mark.parametrize("shown", SYSTEMS + SPLIT)
def test_all_ink_is_on_the_page(
    shown: System, blocks: Mapping[Engraving, Block], split_blocks: Mapping[Engraving, Block]
) -> None:
    block = {**split_blocks, **blocks}[shown]
    left, bottom, right, top = block.ink
    assert left >= 0
    assert bottom > 2
    assert right <= block.width
    assert top < block.height - 2
    for char in page_of(block).chars:
        assert bottom - 1 < char["matrix"][5] < top + 1
