"""The grid worked out: even where it can be, mixed where it has to be, and named."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

import pytest

from typeset.pattern.grid import GRIDS, Grid
from typeset.pattern.meter import Meter
from typeset.pattern.sound import SNARE
from typeset.pattern.stroke import Dynamic
from typeset.taking.grids import choose_grids, lay
from typeset.taking.piece import Measure, Note


def exact(off: Fraction) -> float:
    return 1000.0 if off else 0.0


def played(off: Fraction) -> float:
    """At 120 quarters a minute, by a player who is twelve milliseconds off."""
    return float(off * 2000 / 12) ** 2


def measure(*onsets: Fraction | str, meter: str = "4/4", written: Mapping[int, str] | None = None) -> Measure:
    """Strokes at these parts of a quarter from the barline."""
    notes = tuple(Note(Fraction(onset) / 4, SNARE) for onset in onsets)
    return Measure(Meter.parse(meter), notes, written)


def quarter(number: int, slots: int, *places: int) -> list[Fraction]:
    """Places of a quarter that is divided so."""
    return [number + Fraction(place, slots) for place in places or range(slots)]


def chosen(*measures: Measure) -> list[str]:
    return [str(grid) for grid in choose_grids(measures, exact)]


@pytest.mark.parametrize("name", GRIDS)
def test_an_even_grid_is_found(name: str) -> None:
    onsets = [onset for number in range(4) for onset in quarter(number, GRIDS[name])]
    assert chosen(measure(*onsets)) == [name]


def test_the_coarsest_that_holds_everything_is_enough() -> None:
    assert chosen(measure(0, 1, 2, 3)) == ["quarters"]
    assert chosen(measure(0, 1, "5/2", 3)) == ["8ths"]


def test_one_sixteenth_makes_the_bar_sixteenths_and_not_a_mixture() -> None:
    assert chosen(measure(0, "1/2", 1, "7/4", 2, "5/2", 3, "7/2")) == ["16ths"]


def test_threes_among_fours_are_a_mixture() -> None:
    onsets = [*quarter(0, 4), *quarter(1, 4), *quarter(2, 3), *quarter(3, 4)]
    assert chosen(measure(*onsets)) == ["[16ths, 16ths, triplets, 16ths]"]


def test_a_list_that_repeats_is_written_once() -> None:
    onsets = [*quarter(0, 4), *quarter(1, 3), *quarter(2, 4), *quarter(3, 3)]
    assert chosen(measure(*onsets)) == ["[16ths, triplets]"]


def test_bars_share_their_list_where_they_can() -> None:
    first = measure(*quarter(0, 4), *quarter(1, 3))
    second = measure(0, 1, *quarter(2, 4), *quarter(3, 3))
    assert chosen(first, second)[0] == chosen(first, second)[1] == "[16ths, triplets]"


def test_a_bar_that_differs_has_its_own_grid() -> None:
    even = measure(*(onset for number in range(4) for onset in quarter(number, 4)))
    fill = measure(*quarter(0, 4), *quarter(1, 4), *quarter(2, 6), *quarter(3, 6))
    assert chosen(even, even, fill) == ["16ths", "16ths", "[16ths, 16ths, sextuplets, sextuplets]"]


@pytest.mark.parametrize(("slots", "name"), [(1, "8ths"), (2, "16ths"), (4, "32nds")])
def test_eighths_are_counted_in_compound_meters(slots: int, name: str) -> None:
    onsets = [Fraction(place, 2 * slots) for place in range(6 * slots)]
    assert chosen(measure(*onsets, meter="6/8")) == [name]


def test_a_tuplet_that_is_written_is_believed() -> None:
    onsets = quarter(0, 6, 0, 2, 4)
    assert chosen(measure(*onsets, written={0: "sextuplets"})) == ["sextuplets"]
    assert chosen(measure(*onsets, written={0: "triplets"})) == ["triplets"]


def test_a_players_unsteadiness_makes_no_rare_grid() -> None:
    late = [onset + Fraction(place % 3 - 1, 60) for place, onset in enumerate(quarter(0, 4) + quarter(1, 4))]
    assert [str(grid) for grid in choose_grids([measure(*late)], played)] == ["16ths"]


def test_each_note_goes_to_the_nearest_slot() -> None:
    made = measure("1/50", "26/50", "49/50")
    (laid,) = lay([made], [Grid.of("8ths")], loops=False)
    assert [len(notes) for notes in laid.slots] == [1, 1, 1, 0, 0, 0, 0, 0]


def test_what_is_nearest_to_the_end_begins_the_next_bar_or_the_loop() -> None:
    late = measure("99/25")
    first, second = lay([late, measure()], [Grid.of("8ths")] * 2, loops=False)
    assert (any(first.slots), bool(second.slots[0])) == (False, True)
    (looped,) = lay([late], [Grid.of("8ths")], loops=True)
    assert looped.slots[0]
    (once,) = lay([late], [Grid.of("8ths")], loops=False)
    assert once.slots[-1]


def test_of_two_notes_on_one_sound_in_one_slot_the_louder_stays() -> None:
    soft = Note(Fraction(0), SNARE, Dynamic.GHOST)
    loud = Note(Fraction(1, 100), SNARE, Dynamic.ACCENT)
    (laid,) = lay([Measure(Meter.parse("2/4"), (soft, loud))], [Grid.of("8ths")], loops=False)
    assert [note.dynamic for note in laid.slots[0]] == [Dynamic.ACCENT]
