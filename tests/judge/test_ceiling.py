"""Ceilings worked out by hand from round figures."""

from fractions import Fraction

import pytest

from typeset.judge.ceiling import Kind, ceiling
from typeset.manuscript.figures import standard_figures
from typeset.pattern.bar import Bar, Beat, Pattern, empty_bar
from typeset.pattern.grid import Grid
from typeset.pattern.limb import Limb
from typeset.pattern.meter import Meter
from typeset.pattern.sound import SOUNDS
from typeset.pattern.stroke import Stroke
from typeset.pattern.swing import EIGHTH, SIXTEENTH, Swing
from typeset.pattern.tempo import FASTEST

BY_HAND = {
    # Each hand strikes every eighth, 200 ms: 60 / (2 × 0.2) = 150.
    "single strokes": ({"order": "R L"}, 150, Kind.ALTERNATING, "1", "1&"),
    # Two sixteenths of one hand, 100 ms: 60 / (4 × 0.1) = 150.
    "doubles": ({"order": "R R L L"}, 150, Kind.REBOUND, "1", "1e"),
    # One hand on every sixteenth, 150 ms: 60 / (4 × 0.15) = 100.
    "one hand": ({"order": "R"}, 100, Kind.REPEATED, "1", "1e"),
    # One hand on triplets, 150 ms: 60 / (3 × 0.15) = 133.3.
    "one hand in triplets": ({"order": "R", "grid": "triplets"}, 133, Kind.REPEATED, "1", "1trip"),
    # Two sixteenths on the kick, 150 ms: 60 / (4 × 0.15) = 100.
    "kicks in pairs": ({"order": "K K . ."}, 100, Kind.REBOUND, "1", "1e"),
    # Kick and hi-hat foot by turns in eighths: the hi-hat foot needs 300 ms for a quarter: 60 / 0.3 = 200.
    "feet by turns": ({"order": "K H", "grid": "8ths"}, 200, Kind.ALTERNATING, "1&", "2&"),
    # From the snare to the floor tom in an eighth, 150 + 90 ms: 60 / (2 × 0.24) = 125.
    "a move": ({"order": "L", "grid": "8ths", "sounds": {6: "floor-tom"}}, 125, Kind.REPEATED, "3", "3&"),
    # An accent and a ghost a sixteenth later, 180 ms: 60 / (4 × 0.18) = 83.3.
    "a ghost after an accent": ({"order": "R! r L L"}, 83, Kind.GHOST, "1", "1e"),
    # The left hand's eighth to the grace stroke of the right hand's flam, 190 ms: 60 / (2 × 0.19) = 157.9.
    "a flam": ({"order": "R L", "grid": "8ths", "ornaments": {3: "flam"}}, 157, Kind.GRACE, "1&", "2"),
    # The same to the graces of a drag, 260 ms: 60 / (2 × 0.26) = 115.4.
    "a drag": ({"order": "R L", "grid": "8ths", "ornaments": {3: "drag"}}, 115, Kind.DRAG, "1&", "2"),
    # A buzz, then the same hand an eighth later, 210 ms: 60 / (2 × 0.21) = 142.9.
    "a buzz": ({"order": "R L", "ornaments": {2: "buzz"}}, 142, Kind.BUZZ, "1e", "1a"),
    # A diddle on an eighth is two sixteenths, 100 ms: 150.
    "a diddle": ({"order": "R L", "grid": "8ths", "ornaments": {2: "diddle"}}, 150, Kind.REBOUND, "1&", "1&"),
    # 6/8 counts dotted quarters, three eighths each: 60 / (3 × 0.2) = 100.
    "dotted quarters": ({"order": "R L", "meter": "6/8"}, 100, Kind.ALTERNATING, "1", "2"),
    # 2/2 counts halves, four eighths each: 60 / (4 × 0.2) = 75.
    "halves": ({"order": "R L", "meter": "2/2"}, 75, Kind.ALTERNATING, "1", "1e"),
    # 7/8 counts eighths: 60 / 0.2 = 300.
    "eighths": ({"order": "R L", "meter": "7/8"}, 300, Kind.ALTERNATING, "1", "2"),
    # Only the sextuplet on 2 is too fast for the pace of the rest: 60 / (3 × 0.2) = 100.
    "a mixed grid": ({"order": "R L", "grid": "16ths sextuplets"}, 100, Kind.ALTERNATING, "2", "2.3"),
}


@pytest.mark.parametrize("name", BY_HAND)
def test_ceilings_come_out_as_worked_out_by_hand(name, played, player, kit) -> None:
    music, tempo, kind, start, end = BY_HAND[name]
    found = ceiling(played(**music), True, player, kit)
    assert found.tempo == tempo
    assert found.cause is not None
    assert (found.cause.kind, str(found.cause.start), str(found.cause.end)) == (kind, start, end)


SWUNG = {
    # After twice the time the short third of a quarter is a rebound: 60 / (3 × 0.1) = 200.
    "one hand in swung eighths": ({"order": "R", "grid": "8ths"}, EIGHTH, 200, "1&", "2"),
    # A move from the late eighth to the next beat, 150 + 90 ms: 60 / (3 × 0.24) = 83.3; straight it was 125.
    "a move in swung eighths": ({"order": "L", "grid": "8ths", "sounds": {6: "floor-tom"}}, EIGHTH, 83, "3&", "4"),
    # A double from the late sixteenth to the next, a sixth of a quarter: 60 / (6 × 0.1) = 100.
    "doubles across swung sixteenths": ({"order": "L R R L"}, SIXTEENTH, 100, "1e", "1&"),
    # Doubles that begin with the long sixteenth have a third of a quarter, and the way back to the same hand
    # two thirds: 60 × 2 ÷ (3 × 0.2) = 200. Straight, the doubles would set 150.
    "doubles on swung sixteenths": ({"order": "R R L L"}, SIXTEENTH, 200, "1", "1e"),
    # Each hand keeps to its own side of the pair, an eighth apart: as straight, 60 / (2 × 0.2) = 150.
    "single strokes in swung sixteenths": ({"order": "R L"}, SIXTEENTH, 150, "1", "1&"),
    # Triplets are what they are: 60 / (3 × 0.15) = 133.3.
    "triplets": ({"order": "R", "grid": "triplets"}, EIGHTH, 133, "1", "1trip"),
}


@pytest.mark.parametrize("name", SWUNG)
def test_in_a_swung_exercise_the_short_gaps_limit(name, played, player, kit) -> None:
    music, note, tempo, start, end = SWUNG[name]
    found = ceiling(played(**music), True, player, kit, Swing(note=note))
    assert found.tempo == tempo
    assert found.cause is not None
    assert (str(found.cause.start), str(found.cause.end)) == (start, end)


def test_a_harder_swing_has_a_lower_ceiling(played, player, kit) -> None:
    pattern = played("R", grid="8ths")
    # A quarter of the beat, a rebound: 60 / (4 × 0.1) = 150. Two fifths: 60 × 2 ÷ (5 × 0.15) = 160.
    assert ceiling(pattern, True, player, kit, Swing(3, 1, EIGHTH)).tempo == 150
    assert ceiling(pattern, True, player, kit, Swing(3, 2, EIGHTH)).tempo == 160


def test_a_diddle_in_a_late_slot_has_half_of_what_is_left(played, player, kit) -> None:
    found = ceiling(played("R L", grid="8ths", ornaments={2: "diddle"}), True, player, kit, Swing(note=EIGHTH))
    # A sixth of a quarter: 60 / (6 × 0.1) = 100.
    assert (found.tempo, found.cause and found.cause.length) == (100, Fraction(1, 24))


def test_the_cause_tells_limb_sounds_places_and_time(played, player, kit) -> None:
    cause = ceiling(played("L", grid="8ths", sounds={6: "floor-tom"}), True, player, kit).cause
    assert cause is not None
    assert (cause.limb, cause.start_sound.name, cause.end_sound.name) == (Limb.LEFT, "snare", "floor-tom")
    assert (cause.length, cause.needs, cause.moving) == (Fraction(1, 8), 240_000, 90_000)


def test_places_name_their_bar_when_there_are_several(played, player, kit) -> None:
    cause = ceiling(played("R . . . . . . . . . . . . . . . R R . .", bars=2), True, player, kit).cause
    assert cause is not None
    assert (str(cause.start), str(cause.end)) == ("2|1", "2|1e")


def test_a_loops_end_leads_to_its_start(played, player, kit) -> None:
    pattern = played("R . . . . . . . . . . . . . . R")
    around = ceiling(pattern, True, player, kit)
    assert around.tempo == 150
    assert around.cause is not None
    assert around.cause.wraps
    assert (str(around.cause.start), str(around.cause.end)) == ("4a", "1")


def test_played_once_the_end_leads_nowhere(played, player, kit) -> None:
    once = ceiling(played("R . . . . . . . . . . . . . . R"), False, player, kit)
    assert (once.tempo, once.cause) == (FASTEST, None)


def test_without_transitions_only_the_fastest_tempo_offered_limits(played, player, kit) -> None:
    found = ceiling(played("R . . . K . . . L . . . H . . ."), False, player, kit)
    assert (found.tempo, found.cause) == (FASTEST, None)


def test_silence_has_no_ceiling_of_its_own(player, kit) -> None:
    silence = Pattern((empty_bar(Meter.parse("4/4"), Grid.of("8ths")),))
    assert ceiling(silence, True, player, kit).tempo == FASTEST


def test_a_pair_after_a_rest_is_a_rebound_and_a_third_is_not(played, player, kit) -> None:
    assert ceiling(played("R R . . . . . ."), True, player, kit).tempo == 150
    assert ceiling(played("R R R . . . . ."), True, player, kit).tempo == 100


def test_a_second_stroke_elsewhere_is_no_rebound(played, player, kit) -> None:
    # 150 ms for the stroke and 50 ms for the way to the hi-hat: 60 / (4 × 0.2) = 75.
    found = ceiling(played("L R R L", bars=1, sounds={3: "hi-hat"}), True, player, kit)
    assert (found.tempo, found.cause.kind) == (75, Kind.REPEATED)


def test_a_foot_in_between_leaves_a_hand_its_rebound(played, player, kit) -> None:
    # The hand's two strokes, an eighth in 100 ms, would allow 300; the kick's two in 150 ms set 200. Were the
    # kick counted as a hand in between, 200 ms would set 150.
    found = ceiling(played("R K R K L . L ."), True, player, kit)
    assert (found.tempo, found.cause.limb) == (200, Limb.KICK)


def test_a_hand_at_the_same_time_is_not_in_between(played, player, kit) -> None:
    assert ceiling(played("R+L . R . R+L . R ."), True, player, kit).tempo == 200


def test_of_equal_causes_the_earliest_is_named(played, player, kit) -> None:
    cause = ceiling(played("L R"), True, player, kit).cause
    assert cause is not None
    assert (cause.limb, str(cause.start)) == (Limb.LEFT, "1")


def test_better_players_have_higher_ceilings(played) -> None:
    figures = standard_figures()
    for order in ("R L", "R R L L", "R", "K .", "R! l R K L! R l K"):
        pattern = played(order)
        tempos = [ceiling(pattern, True, one, figures.kit).tempo for one in figures.players.values()]
        assert tempos == sorted(set(tempos))


def test_ordinary_exercises_have_the_ceilings_that_teachers_know(played) -> None:
    """Common practice, no source: what an intermediate player keeps up, in quarters a minute."""
    figures = standard_figures()

    def tempo(order: str, **music: object) -> int:
        return ceiling(played(order, **music), True, figures.players["intermediate"], figures.kit).tempo

    assert 140 <= tempo("R L") <= 150
    assert 120 <= tempo("R R L L") <= 130
    assert 100 <= tempo("R") <= 110
    assert 200 <= tempo("R", grid="8ths", voices={"R": "hi-hat"}) <= 220
    assert 150 <= tempo("K", grid="8ths") <= 160
    assert 100 <= tempo("K K . .") <= 110


def test_a_finer_cut_of_the_same_beat_changes_nothing(player, kit) -> None:
    """Two eighths are two eighths, whether their beat has two slots or four."""
    right = (Stroke(Limb.RIGHT, SOUNDS["snare"]),)
    meter = Meter.parse("2/4")
    coarse = Pattern((Bar(meter, (Beat(Fraction(1, 4), (right, right)),) * 2),))
    fine = Pattern((Bar(meter, (Beat(Fraction(1, 4), (right, (), right, ())),) * 2),))
    assert ceiling(coarse, True, player, kit).tempo == ceiling(fine, True, player, kit).tempo
