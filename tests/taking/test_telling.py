"""An order and steps that make a pattern: the very pattern, whatever it is, and in few words where there are few."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as some

from tests.taking.made import bar_of
from typeset.pattern.bar import Bar, Pattern, empty_bar
from typeset.pattern.grid import Grid
from typeset.pattern.limb import Limb
from typeset.pattern.meter import Meter
from typeset.pattern.order import write_order
from typeset.pattern.sound import SOUNDS
from typeset.pattern.steps.timing import Fit
from typeset.pattern.stroke import Dynamic, Ornament, Slot, Stroke, slot_of
from typeset.pattern.swell import Swell
from typeset.taking.telling import Told, tell
from typeset.taking.writing import step_text

HANDS = [SOUNDS[name] for name in ("snare", "hi-hat", "high-tom", "floor-tom")]
LIMBS = some.sets(some.sampled_from(list(Limb)), max_size=3)


@some.composite
def slots(draw: some.DrawFn) -> Slot:
    strokes = []
    limbs = draw(LIMBS)
    for limb in limbs:
        sound = (
            draw(some.sampled_from(HANDS))
            if limb.is_hand
            else SOUNDS["kick" if limb is Limb.KICK else "hi-hat-foot"]
        )
        alone = sum(one.is_hand for one in limbs) == 1
        ornaments = [None, None, Ornament.BUZZ, Ornament.DIDDLE, *([Ornament.FLAM, Ornament.DRAG] if alone else [])]
        ornament = draw(some.sampled_from(ornaments)) if limb.is_hand else None
        strokes.append(Stroke(limb, sound, draw(some.sampled_from(list(Dynamic))), ornament))
    return slot_of(strokes)


SHAPES = [("4/4", "8ths"), ("3/4", "triplets"), ("7/8", "8ths"), ("2/2", "8ths"), ("2/4", "16ths")]


@some.composite
def patterns(draw: some.DrawFn) -> tuple[Pattern, list[Grid], bool]:
    """Bars of one meter, some of them again and again, on one grid or on two."""
    meter, name = draw(some.sampled_from(SHAPES))
    grids = [Grid.of(name)] + ([Grid.of("sextuplets")] if meter in ("4/4", "2/4") else [])
    bars: list[tuple[Bar, Grid]] = []
    for _ in range(draw(some.integers(1, 2))):
        grid = draw(some.sampled_from(grids))
        frame = empty_bar(Meter.parse(meter), grid)
        filled = frame.with_slots([draw(slots()) for _ in frame.slots])
        bars += [(filled, grid)] * draw(some.integers(1, 2))
    if not any(slot for bar, _ in bars for slot in bar.slots):
        first = (Stroke(Limb.RIGHT, SOUNDS["snare"]),)
        bar, grid = bars[0]
        bars[0] = (bar.with_slots([first, *bar.slots[1:]]), grid)
    return Pattern(tuple(bar for bar, _ in bars)), [grid for _, grid in bars], draw(some.booleans())


@settings(max_examples=30, deadline=None, phases=[Phase.explicit, Phase.reuse, Phase.generate])
@given(patterns())
def test_any_pattern_is_told_exactly(made: tuple[Pattern, list[Grid], bool]) -> None:
    pattern, grids, loops = made
    told = tell(pattern, grids, loops)
    assert told.play(None).finished == pattern


def told(*bars: Bar, loops: bool = True, grids: Sequence[str] = ()) -> Told:
    names = grids or ["16ths"] * len(bars)
    return tell(Pattern(bars), [Grid.of(name) for name in names], loops)


def words(one: Told) -> list[str]:
    return [write_order(one.order), *map(step_text, one.steps)]


def voiced(bar: Bar, **sounds: str) -> Bar:
    """The bar with other sounds for its limbs."""
    return bar.with_slots([
        tuple(replace(one, sound=SOUNDS[sounds.get(one.limb.value, one.sound.name)]) for one in slot)
        for slot in bar.slots
    ])  # fmt: skip


def accented(bar: Bar, *places: int, dynamic: Dynamic = Dynamic.ACCENT) -> Bar:
    return bar.with_slots([
        tuple(replace(one, dynamic=dynamic) for one in slot) if place in places else slot
        for place, slot in enumerate(bar.slots)
    ])  # fmt: skip


def moved(bar: Bar, **places: str) -> Bar:
    """The bar with other sounds in some places, which are named p0, p1, ..."""
    return bar.with_slots([
        tuple(replace(one, sound=SOUNDS[places[f"p{place}"]]) for one in slot) if f"p{place}" in places else slot
        for place, slot in enumerate(bar.slots)
    ])  # fmt: skip


FIVE = bar_of("R L R K L R L R K L R L R K L R")


def test_five_strokes_are_found_in_sixteen_slots() -> None:
    assert words(told(FIVE)) == ["R L R K L", "fit: {bars: 1, by: trimming}"]


def test_an_order_that_comes_out_is_said_to() -> None:
    assert words(told(bar_of("R L L K R L L K R L L K R L L K"))) == ["R L L K", "fit: {bars: 1, by: exactly}"]


def test_an_order_that_begins_again_at_each_bar_is_found() -> None:
    bars = [bar_of("K R L R K R L", meter="7/8", grid="8ths")] * 2
    one = tell(Pattern(tuple(bars)), [Grid.of("8ths")] * 2, True)
    assert words(one) == ["K R L R", "fit: {bars: 2, by: restarting}"]


def test_an_order_that_is_played_once_rests_before_and_after() -> None:
    one = told(bar_of(". . . . . . . . K R L R L . . ."), loops=False)
    assert words(one) == ["K R L R L", "fit: {bars: 1, by: resting, from: 3}"]


def test_an_order_that_stops_is_found_and_only_where_the_music_ends() -> None:
    bar = bar_of("K R L R K R L R K R L R K . . .")
    assert words(told(bar, loops=False)) == ["K R L R", "fit: {bars: 1, by: trimming}", "stop: 4"]
    assert words(told(bar, loops=True))[1] == "fit: {bars: 1, by: exactly}"


def test_a_groove_is_voiced_and_accented() -> None:
    bar = accented(voiced(FIVE, R="hi-hat"), 4)
    assert words(told(bar))[1:] == [
        "fit: {bars: 1, by: trimming}",
        "voice: {R: hi-hat, L: snare}",
        "accent: 2",
    ]


def test_what_one_limb_or_sound_has_in_common_is_said_so() -> None:
    bar = voiced(bar_of("R l R l R l R l R l R l R l R l"), R="ride")
    assert "ghost: {limb: L}" in words(told(bar))


def test_ghosts_come_first_where_accents_stand_among_them() -> None:
    bar = accented(voiced(bar_of("R l R l R l R l R l R l R l R l"), R="ride"), 5, 13)
    assert words(told(bar))[-2:] == ["ghost: {limb: L}", "accent: [2e, 4e]"]


def test_a_few_strokes_to_several_sounds_go_in_turn() -> None:
    bar = moved(FIVE, p14="high-tom", p15="floor-tom")
    assert words(told(bar))[-1] == "move: {at: [4&, 4a], to: [high-tom, floor-tom]}"


def test_pairs_on_one_sound_are_moved_sound_by_sound() -> None:
    bar = moved(FIVE, p9="high-tom", p10="high-tom", p14="floor-tom", p15="floor-tom")
    assert words(told(bar))[-2:] == [
        "move: {at: [3e, 3&], to: high-tom}",
        "move: {at: [4&, 4a], to: floor-tom}",
    ]


def test_what_differs_in_one_bar_is_said_with_its_bar() -> None:
    first = voiced(FIVE, R="hi-hat")
    assert words(told(first, moved(first, p0="crash")))[-1] == "move: {at: 2|1, to: crash}"


def test_a_bar_on_another_grid_is_spliced_in() -> None:
    bar = bar_of("R L R L R L R L", grid="8ths")
    fill = bar_of("R L R L R L R L R L R L", grid="triplets")
    one = told(bar, bar, fill, grids=["8ths", "8ths", "triplets"])
    assert step_text(one.steps[1]).startswith("splice: {from: 3|1, use: R L R L")
    assert one.spliced == (Grid.of("triplets"),)


def test_many_accents_stand_in_the_order_itself() -> None:
    bars = bar_of("R! L R L! L! R R L R! R L! L R L! R L"), bar_of("L R! R L R! L! L R! R L L! R! R R! L! L")
    one = told(*bars)
    assert one.order == bars[0].slots + bars[1].slots
    assert one.steps == (Fit(2, "exactly"),)


@pytest.mark.parametrize("name", ["flam", "drag", "buzz", "diddle"])
def test_ornaments_are_said(name: str) -> None:
    bar = FIVE.with_slots([
        tuple(replace(one, ornament=Ornament(name)) for one in slot) if place == 4 else slot
        for place, slot in enumerate(FIVE.slots)
    ])  # fmt: skip
    assert words(told(bar))[-1] == f"ornament: {{at: 2, as: {name}}}"


def test_a_swell_is_said_by_its_places_or_for_every_bar() -> None:
    bar = bar_of("R L R L", grid="quarters")
    grids = [Grid.of("quarters")] * 2
    one = Swell(Fraction(1, 4), Fraction(3, 4))
    alone = tell(Pattern((bar, bar), swells=(one,)), grids, True)
    assert step_text(alone.steps[-1]) == "swell: {from: 1|2, to: 1|4}"
    both = tell(Pattern((bar, bar), swells=(one, one.moved(Fraction(1)))), grids, True)
    assert step_text(both.steps[-1]) == "swell: {from: 2, to: 4}"
    whole = tell(Pattern((bar, bar), swells=(Swell(Fraction(0), Fraction(7, 4), louder=False),)), grids, True)
    assert step_text(whole.steps[-1]) == "swell: softer"
    assert len(both.play(None).finished.swells) == 2


def test_what_a_pickup_plays_is_what_its_limbs_are_voiced_with() -> None:
    bar = voiced(FIVE, R="hi-hat")
    one = tell(Pattern((bar,), pickup=bar_of("R L", meter="2/4", grid="quarters")), [Grid.of("16ths")], True)
    assert dict(one.play(None).voices).get(Limb.RIGHT, SOUNDS["snare"]) == SOUNDS["snare"]
    assert one.play(None).pattern.bars == (bar,)
