from dataclasses import replace
from fractions import Fraction

import pytest

from typeset.compose.engraving import REPEAT_ROOM, Ending, Hairpin
from typeset.compose.reach import DRAG, GHOST, HALF_REPEAT, HEAD, HEADS_AT_BARLINE, room_at_barline
from typeset.compose.systems import TooWide, break_into_systems, half_line, lone_line
from typeset.pattern.bar import Pattern, empty_bar, pickup_bar
from typeset.pattern.grid import Grid
from typeset.pattern.limb import Limb
from typeset.pattern.meter import Meter
from typeset.pattern.stroke import Dynamic, Ornament, plain_stroke
from typeset.pattern.swell import Swell
from typeset.style.music import Spacing, Staff

SPACING = Spacing(measure=170, lead=16, tail=1, slot=3.8, least_slot=3.0, gap=6)


def pattern(meter: str, grid: str, bars: int = 2) -> Pattern:
    return Pattern((empty_bar(Meter.parse(meter), Grid.of(grid)),) * bars)


def bars_of_systems(music: Pattern) -> list[int]:
    return [len(system.bars) for system in break_into_systems(music, True, SPACING)]


@pytest.mark.parametrize(
    ("meter", "grid", "bars", "expected"),
    [
        ("4/4", "16ths", 2, [2]),
        ("4/4", "16ths", 5, [2, 2, 1]),
        ("4/4", "sextuplets", 2, [1, 1]),
        ("4/4", "32nds", 2, [1, 1]),
        ("2/4", "16ths", 5, [4, 1]),
        ("7/4", "16ths", 2, [1, 1]),
        ("6/8", "16ths", 4, [2, 2]),
        ("12/8", "16ths", 2, [1, 1]),
    ],
)
def test_whole_bars_go_on_a_line_while_their_slots_have_room(
    meter: str, grid: str, bars: int, expected: list[int]
) -> None:
    assert bars_of_systems(pattern(meter, grid, bars)) == expected


def test_exercises_of_one_meter_have_quarters_of_one_width() -> None:
    widths = {
        break_into_systems(pattern("4/4", grid, bars), True, SPACING)[0].quarter
        for grid in ("quarters", "8ths", "triplets", "16ths")
        for bars in (1, 2, 5)
    }
    assert len(widths) == 1


def test_a_full_line_is_as_wide_as_the_measure() -> None:
    (system,) = break_into_systems(pattern("4/4", "16ths"), True, SPACING)
    assert system.width == pytest.approx(SPACING.measure, abs=0.02)
    assert system.width <= SPACING.measure


def test_what_is_too_wide_even_at_the_narrowest_slot_is_refused() -> None:
    with pytest.raises(TooWide, match="15/8 with 60 slots does not fit"):
        break_into_systems(pattern("15/8", "32nds"), True, SPACING)


def test_what_loops_is_framed_by_repeat_signs() -> None:
    systems = break_into_systems(pattern("4/4", "16ths", 4), True, SPACING)
    assert [system.opens_repeat for system in systems] == [True, False]
    assert [system.ending for system in systems] == [Ending.BAR, Ending.REPEAT]


def test_what_plays_once_ends_with_a_final_bar() -> None:
    (system,) = break_into_systems(pattern("4/4", "16ths"), False, SPACING)
    assert not system.opens_repeat
    assert system.ending is Ending.FINAL


def test_the_meter_is_printed_once_and_where_it_changes() -> None:
    bars = (*pattern("4/4", "8ths").bars, *pattern("3/4", "8ths").bars)
    systems = break_into_systems(Pattern(bars), True, SPACING)
    assert systems[0].meters_at == (0,)
    assert [at for system in systems[1:] for at in system.meters_at] != []


def test_two_bars_of_their_own_fit_side_by_side_on_half_lines() -> None:
    halves = half_line(pattern("4/4", "16ths", 1), True, SPACING)
    assert halves is not None
    assert 2 * halves[0].width + SPACING.gap <= SPACING.measure


def test_a_crowded_bar_does_not_go_on_half_a_line() -> None:
    assert half_line(pattern("4/4", "sextuplets", 1), True, SPACING) is None


def test_one_bar_alone_takes_half_a_line_or_is_spread_along_all_of_it() -> None:
    half, whole = (lone_line(pattern("4/4", grid, 1), True, SPACING) for grid in ("16ths", "sextuplets"))
    assert half == half_line(pattern("4/4", "16ths", 1), True, SPACING)
    assert whole is not None and whole[0].width == pytest.approx(SPACING.measure, abs=0.02)
    assert lone_line(pattern("4/4", "16ths", 2), True, SPACING) is None


def test_one_bar_alone_is_spread_no_farther_than_reads_well() -> None:
    apart = SPACING.model_copy(update={"shared_slot": 40})
    (alone,) = lone_line(pattern("2/4", "16ths", 1), True, apart) or ()
    assert alone.quarter == 4 * 2.5 * SPACING.slot
    assert alone.width < SPACING.measure


def test_a_pickup_stands_before_the_first_bar_and_has_its_room() -> None:
    music = pattern("4/4", "16ths", 3)
    opened = replace(music, pickup=pickup_bar(music.bars[0].meter, Grid.of("16ths"), [()] * 3))
    first, second = break_into_systems(opened, True, SPACING)
    assert first.pickup == opened.pickup and second.pickup is None
    assert first.width == pytest.approx(SPACING.measure, abs=0.02)
    once, _ = break_into_systems(opened, False, SPACING)
    assert once.quarter > first.quarter


def voltas_of(music: Pattern, times: int | None = None) -> list[list[tuple[int, int, str, bool]]]:
    systems = break_into_systems(music, False, SPACING, times)
    return [[(one.first, one.bars, one.label, one.repeats) for one in system.voltas] for system in systems]


def test_an_ending_is_not_broken_where_it_fits_in_a_line() -> None:
    music = replace(pattern("4/4", "16ths", 6), endings=(2, 2))
    systems = break_into_systems(music, False, SPACING)
    assert [len(system.bars) for system in systems] == [2, 2, 2]
    assert [system.ending for system in systems] == [Ending.BAR, Ending.REPEAT, Ending.FINAL]
    assert [system.opens_repeat for system in systems] == [True, False, False]
    odd = replace(pattern("4/4", "16ths", 5), endings=(2, 2))
    assert bars_of_systems(odd) == [1, 2, 2]


def test_brackets_say_on_which_passes_an_ending_is_played() -> None:
    music = replace(pattern("4/4", "16ths", 4), endings=(1, 1))
    assert voltas_of(music) == [[], [(0, 1, "1.", True), (1, 1, "2.", False)]]
    assert voltas_of(music, 3)[1] == [(0, 1, "1.2.", True), (1, 1, "3.", False)]
    assert voltas_of(music, 4)[1] == [(0, 1, "1.–3.", True), (1, 1, "4.", False)]


def test_a_bracket_goes_on_without_a_number_in_the_next_line() -> None:
    music = replace(pattern("4/4", "16ths", 7), endings=(3, 3))
    assert voltas_of(music) == [
        [(1, 1, "1.", False)], [(0, 2, "", True)], [(0, 2, "2.", False)], [(0, 1, "", False)],
    ]  # fmt: skip


def test_a_repeat_that_closes_inside_a_line_has_its_room() -> None:
    plain = break_into_systems(pattern("4/4", "16ths", 4), True, SPACING)
    ended = break_into_systems(replace(pattern("4/4", "16ths", 4), endings=(1, 1)), False, SPACING)
    assert ended[1].closings == {1}
    assert ended[1].width == pytest.approx(SPACING.measure, abs=0.02)
    assert ended[1].quarter < plain[1].quarter


def test_a_swell_is_a_hairpin_that_goes_on_in_the_next_line_as_open_as_it_is() -> None:
    music = replace(
        pattern("4/4", "16ths", 4), swells=(Swell(Fraction(1), Fraction(3)), Swell(Fraction(3), Fraction(4), False))
    )
    first, second = break_into_systems(music, True, SPACING)
    assert first.hairpins == (Hairpin(Fraction(1), Fraction(2), Fraction(0), Fraction(1, 2)),)
    assert second.hairpins == (
        Hairpin(Fraction(0), Fraction(1), Fraction(1, 2), Fraction(1)),
        Hairpin(Fraction(1), Fraction(2), Fraction(1), Fraction(0)),
    )


def same_of(music: Pattern) -> list[tuple[int, ...]]:
    return [system.same for system in break_into_systems(music, False, SPACING)]


def test_a_bar_that_comes_again_in_its_line_is_known() -> None:
    assert same_of(pattern("2/4", "16ths", 6)) == [(1, 2, 3), (1,)]


def test_a_bar_by_other_hands_is_another_bar() -> None:
    bar = pattern("2/4", "quarters").bars[0]
    right, left = (bar.with_slots([(plain_stroke(limb),)] * 2) for limb in (Limb.RIGHT, Limb.LEFT))
    assert same_of(Pattern((right, left, left))) == [(2,)]


def test_an_ending_and_a_bar_under_a_swell_are_printed_in_full() -> None:
    assert same_of(replace(pattern("2/4", "16ths", 4), endings=(1, 1))) == [(1,)]
    swelled = replace(pattern("2/4", "16ths", 4), swells=(Swell(Fraction(0), Fraction(3, 8)),))
    assert same_of(swelled) == [(2, 3)]


def struck(count: int = 2, grid: str = "16ths", **ornaments: Ornament) -> Pattern:
    """Bars of 4/4 full of strokes on the snare, these in every bar with an ornament: `_4=Ornament.DRAG`."""
    (bar,) = pattern("4/4", grid, 1).bars
    stroke = plain_stroke(Limb.RIGHT)
    marked = {int(name[1:]): replace(stroke, ornament=ornament) for name, ornament in ornaments.items()}
    return Pattern((bar.with_slots([(marked.get(slot, stroke),) for slot in range(len(bar.slots))]),) * count)


def test_two_grace_notes_have_room_after_the_stroke_before_them() -> None:
    for bars in (struck(_4=Ornament.DRAG), struck(5, "triplets", _4=Ornament.DRAG), struck(1, _2=Ornament.DRAG)):
        systems = break_into_systems(bars, True, SPACING)
        slot = systems[0].quarter * float(4 * bars.bars[0].slot_lengths[0])
        assert slot >= (HEAD + DRAG) * SPACING.staff_space


def test_what_would_touch_does_not_go_on_half_a_line() -> None:
    assert half_line(struck(1), True, SPACING) is not None
    assert half_line(struck(1, _4=Ornament.DRAG), True, SPACING) is None
    assert half_line(struck(1, "8ths", _4=Ornament.DRAG), True, SPACING) is not None


def test_grace_notes_ease_the_barline_before_them_and_the_line_keeps_its_width() -> None:
    (plain,) = break_into_systems(struck(), True, SPACING)
    (drags,) = break_into_systems(struck(_0=Ornament.DRAG), True, SPACING)
    before, at_barline = drags.eases
    assert before == 0 < plain.eases[1] < at_barline
    apart = drags.quarter / 4 + at_barline
    dragged, *_, last = drags.bars[0].slots
    assert apart == pytest.approx(room_at_barline(last, dragged) * SPACING.staff_space, abs=0.01)
    assert SPACING.measure - 0.02 < drags.width <= SPACING.measure


def test_heads_keep_off_the_barline_between_two_bars_of_sixteenths() -> None:
    (system,) = break_into_systems(pattern("4/4", "16ths", 2), True, SPACING)
    apart = system.quarter / 4 + system.eases[1]
    assert apart == pytest.approx(HEADS_AT_BARLINE * SPACING.staff_space, abs=0.01)
    assert system.width == pytest.approx(SPACING.measure, abs=0.02)


def test_barlines_stand_under_each_other_whatever_is_played() -> None:
    shapes = {
        (system.quarter, system.eases)
        for grid in ("quarters", "8ths", "triplets", "16ths")
        for system in break_into_systems(pattern("4/4", grid, 2), True, SPACING)
    }
    assert len(shapes) == 1


def test_a_style_without_lines_of_sixteenths_keeps_no_room_for_them() -> None:
    wide = Spacing(slot=9.0)
    (system,) = break_into_systems(pattern("4/4", "8ths", 2), True, wide)
    assert system.eases == ()


def test_a_barline_gives_its_room_up_before_a_bar_is_too_wide() -> None:
    music = pattern("4/4", "32nds", 1)
    opened = replace(music, pickup=pickup_bar(music.bars[0].meter, Grid.of("32nds"), [()]))
    room = SPACING.measure - SPACING.lead - SPACING.tail
    spacing = SPACING.model_copy(update={"slot": room / 32, "least_slot": room / 33 - 0.01})
    roomy, tight = (break_into_systems(opened, False, one)[0] for one in (SPACING, spacing))
    assert roomy.eases and not tight.eases
    assert roomy.quarter / 8 < spacing.least_slot <= tight.quarter / 8


def test_grace_notes_after_a_pickup_keep_off_the_repeat_that_opens_there() -> None:
    music = struck(1, _0=Ornament.DRAG)
    ghost = (plain_stroke(Limb.LEFT, Dynamic.GHOST),)
    opened = replace(music, pickup=pickup_bar(music.bars[0].meter, Grid.of("16ths"), [ghost]))
    (system,) = break_into_systems(opened, True, SPACING)
    apart = system.quarter / 4 + REPEAT_ROOM + system.eases[1]
    reaches = GHOST + 2 * HALF_REPEAT + DRAG
    assert apart > reaches * SPACING.staff_space
    (once,) = break_into_systems(opened, False, SPACING)
    assert once.eases != system.eases


def test_a_larger_staff_takes_more_room() -> None:
    large = SPACING.on(Staff(height=9.2))
    assert large.staff_space == 2.3 and SPACING.staff_space == 1.55
    assert half_line(struck(1, _4=Ornament.FLAM), True, SPACING) is not None
    assert half_line(struck(1, _4=Ornament.FLAM), True, large) is None
