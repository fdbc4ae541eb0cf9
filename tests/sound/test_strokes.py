"""What is heard of strokes and their ornaments."""

from __future__ import annotations

from fractions import Fraction

import pytest

from tests.notation.made import bar
from typeset.pattern.stroke import Dynamic
from typeset.pattern.swell import Swell
from typeset.sound.strokes import TICKS, VELOCITIES, Hit, hits_of

SLOW = 60 / 60 / (TICKS / 4)
"""Seconds a tick lasts at 60 quarters a minute."""

SIXTEENTH = TICKS // 16


def heard(meter: str, grid: str, strokes: str, tick: float = SLOW) -> list[Hit]:
    return list(hits_of(bar(meter, grid, strokes), None, tick))


def seconds(hits: list[Hit], tick: float = SLOW) -> list[float]:
    return [round(hit.tick * tick, 3) for hit in hits]


def test_an_accent_is_harder_than_a_plain_stroke_and_that_than_a_ghost() -> None:
    accent, ghost, plain, _ = heard("4/4", "quarters", "s! s? s h")
    assert accent.velocity > plain.velocity + 20 > ghost.velocity + 60


def test_a_flam_has_one_soft_stroke_just_before_the_beat() -> None:
    _, grace, main, *_ = heard("2/4", "quarters", "s sf")
    assert seconds([grace, main]) == [0.965, 1.0]
    assert grace.velocity < VELOCITIES[Dynamic.PLAIN] / 2
    assert grace.key == main.key


def test_a_drag_has_two() -> None:
    assert seconds(heard("2/4", "quarters", "s sg")) == [0.0, 0.93, 0.965, 1.0]


def test_even_before_a_ghost_stroke_a_grace_stroke_is_softer() -> None:
    grace, main = heard("3/8", "8ths", "sf? . .")
    assert grace.velocity < main.velocity


def test_at_high_tempos_grace_strokes_keep_clear_of_the_stroke_before() -> None:
    fast = SLOW / 8
    hits = heard("4/4", "32nds", "sg", fast)
    ticks = [hit.tick for hit in hits]
    assert ticks == sorted(ticks)
    assert len(set(ticks)) == 3 * 32


def test_a_diddle_is_two_strokes_in_the_time_of_one() -> None:
    first, second = heard("3/8", "16ths", "sd . . . . .")
    assert [first.tick, second.tick] == [0, SIXTEENTH // 2]
    assert first.length + second.length == SIXTEENTH


def test_a_buzz_is_a_roll_that_dies_away_inside_its_slot() -> None:
    hits = heard("2/4", "16ths", "sz . . . . . . .")
    assert len(hits) >= 5
    assert hits[-1].tick + hits[-1].length <= SIXTEENTH
    assert [hit.velocity for hit in hits] == sorted((hit.velocity for hit in hits), reverse=True)


def test_a_long_buzz_lies_still_before_its_slot_ends() -> None:
    hits = heard("2/4", "quarters", "sz .")
    assert seconds(hits)[-1] == pytest.approx(0.4, abs=0.05)


def test_under_a_swell_strokes_grow_to_what_is_written_whatever_that_is() -> None:
    swells = (Swell(Fraction(1, 4), Fraction(3, 4)),)
    hits = list(hits_of(bar("4/4", "quarters", "s s s! s"), None, SLOW, swells))
    before, soft, louder, loud = (hit.velocity for hit in hits)
    assert before == loud == VELOCITIES[Dynamic.PLAIN]
    assert soft == round(0.4 * before)
    assert louder == round(0.7 * VELOCITIES[Dynamic.ACCENT])


def test_where_a_swell_is_softest_even_grace_strokes_are_heard() -> None:
    soft = (Swell(Fraction(0), Fraction(1, 4)),)
    assert all(hit.velocity > 0 for hit in hits_of(bar("2/4", "quarters", "sf? s"), None, SLOW, soft))


def test_every_slot_and_half_slot_of_every_grid_is_a_whole_tick() -> None:
    for parts in (1, 2, 3, 4, 5, 6, 7, 8):
        assert TICKS % (4 * parts * 2) == 0
