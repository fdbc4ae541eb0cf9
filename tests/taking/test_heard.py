"""What hits mean: grace strokes, presses, and how loud."""

from __future__ import annotations

import pytest

from typeset.pattern.sound import SNARE, SOUNDS
from typeset.pattern.stroke import Dynamic, Ornament
from typeset.taking.heard import strokes_of
from typeset.taking.loudness import dynamics_of, heaps_of
from typeset.taking.recording import Hit, Recording

HAT = SOUNDS["hi-hat"]


def heard(*hits: tuple[float, int]) -> list[tuple[int, str | None]]:
    """What hits on the snare mean, given in milliseconds and velocities: when, and with what ornament."""
    # At 500 ticks a quarter and 120 quarters a minute a tick is a millisecond.
    recording = Recording(
        "made", 500, tuple(Hit(round(at), 38, velocity) for at, velocity in hits), (), (), (), (), 4000
    )
    strokes = strokes_of(recording, {38: SNARE})
    return [(stroke.tick, stroke.ornament.value if stroke.ornament else None) for stroke in strokes]


def test_a_soft_stroke_just_before_a_loud_one_is_a_flam() -> None:
    assert heard((470, 40), (500, 90)) == [(500, "flam")]


def test_two_soft_strokes_just_before_a_loud_one_are_a_drag() -> None:
    assert heard((430, 40), (465, 42), (500, 90)) == [(500, "drag")]


def test_strokes_that_follow_fast_and_die_away_are_one_that_is_pressed() -> None:
    assert heard((500, 90), (535, 80), (570, 68), (605, 50)) == [(500, "buzz")]


def test_a_soft_stroke_that_comes_earlier_is_a_stroke_of_its_own() -> None:
    assert heard((420, 40), (500, 90)) == [(420, None), (500, None)]


def test_two_strokes_that_are_alike_are_two_however_close() -> None:
    assert heard((470, 90), (500, 90)) == [(470, None), (500, None)]


def test_a_roll_of_even_strokes_is_no_press() -> None:
    even = [(500 + 45 * number, 90) for number in range(6)]
    assert len(heard(*even)) == 6


def test_a_foot_has_no_grace_strokes() -> None:
    recording = Recording("made", 500, (Hit(470, 36, 40), Hit(500, 36, 90)), (), (), (), (), 4000)
    assert [stroke.ornament for stroke in strokes_of(recording, {36: SOUNDS["kick"]})] == [None, None]


def test_a_change_of_tempo_changes_what_is_close() -> None:
    slow = ((0, 5_000_000),)
    recording = Recording("made", 500, (Hit(495, 38, 40), Hit(500, 38, 90)), (), slow, (), (), 4000)
    assert [stroke.ornament for stroke in strokes_of(recording, {38: SNARE})] == [Ornament.FLAM]
    recording = Recording("made", 500, (Hit(485, 38, 40), Hit(500, 38, 90)), (), slow, (), (), 4000)
    assert [stroke.ornament for stroke in strokes_of(recording, {38: SNARE})] == [None, None]


@pytest.mark.parametrize(
    ("velocities", "dynamics"),
    [
        ((84,), "plain"),
        ((127,), "plain"),
        ((84, 118), "plain accent"),
        ((36, 84), "ghost plain"),
        ((36, 118), "ghost accent"),
        ((36, 84, 118), "ghost plain accent"),
        ((30, 64, 100), "ghost plain accent"),
    ],
)
def test_clear_heaps_are_read_by_how_loud_they_are(velocities: tuple[int, ...], dynamics: str) -> None:
    found = dynamics_of({SNARE: velocities})
    assert " ".join(found[SNARE, velocity].value for velocity in velocities) == dynamics


def test_heaps_are_counted_through_all_sounds() -> None:
    found = dynamics_of({SNARE: [36, 36], HAT: [84, 84]})
    assert found[SNARE, 36] is Dynamic.GHOST
    assert found[HAT, 84] is Dynamic.PLAIN


def test_near_velocities_are_one_heap() -> None:
    assert heaps_of((30, 35, 60, 62, 70, 110)) == ((30, 35), (60, 62, 70), (110,))


def test_a_players_spread_is_measured_by_each_sounds_usual_loudness() -> None:
    hat, snare = [50, 55, 60, 66, 72], [30, 38, 96, 100, 104, 126]
    found = dynamics_of({HAT: hat, SNARE: snare})
    assert {found[HAT, velocity] for velocity in hat} == {Dynamic.PLAIN}
    assert [found[SNARE, velocity].value for velocity in snare] == ["ghost"] * 2 + ["plain"] * 3 + ["accent"]
