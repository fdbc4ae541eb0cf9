import pytest

from typeset.pattern.counts import Place
from typeset.pattern.draft import Draft, Setting, set_in_time
from typeset.pattern.grid import Grid
from typeset.pattern.limb import Limb
from typeset.pattern.meter import Meter
from typeset.pattern.order import read_order, write_order
from typeset.pattern.selection import Selection
from typeset.pattern.sound import SOUNDS
from typeset.pattern.steps import Passage, StepError
from typeset.pattern.steps.shape import Answer, Land, Omit, Splice, Stop, Thin
from typeset.pattern.steps.voicing import Voice


def draft(order: str, bars: int = 2) -> Draft:
    return set_in_time(read_order(order), Meter.parse("2/4"), Grid.of("8ths"), Setting(bars))


def test_the_stroke_at_a_stop_sounds_and_nothing_after_it() -> None:
    stopped = Stop(Place.parse("2|1&")).change(draft("R L R L"))
    assert write_order(stopped.pattern.slots) == "R L R L R L . ."


def test_without_a_bar_a_stop_is_in_the_last_bar() -> None:
    stopped = Stop(Place.parse("1")).change(draft("R L R L"))
    assert write_order(stopped.pattern.slots) == "R L R L R . . ."


def test_what_stops_is_played_once() -> None:
    assert not Stop(Place.parse("1")).change(draft("R L")).loops


def test_a_stop_needs_a_stroke() -> None:
    with pytest.raises(StepError, match="no stroke on 1& to stop on"):
        Stop(Place.parse("1&")).change(draft("R . R ."))


def test_omit_leaves_silence() -> None:
    omitted = Omit(Selection(limb=(Limb.LEFT,))).change(draft("R L R+L L", bars=1))
    assert write_order(omitted.pattern.slots) == "R . R ."


def test_omitting_everything_is_refused() -> None:
    with pytest.raises(StepError, match="nothing to play"):
        Omit(Selection(all=True)).change(draft("R L"))


def test_thin_keeps_the_chosen_strokes_alone() -> None:
    thinned = Thin(Selection(at=(Place.parse("1"), Place.parse("2&")))).change(draft("R L R L", bars=1))
    assert write_order(thinned.pattern.slots) == "R . . L"


def test_an_answer_has_the_hands_exchanged() -> None:
    answered = Answer("hands").change(draft("R L L K", bars=1))
    assert [write_order(bar.slots) for bar in answered.pattern.bars] == ["R L L K", "L R R K"]


def test_an_answer_goes_backwards() -> None:
    answered = Answer("backwards").change(draft("R L L K", bars=1))
    assert [write_order(bar.slots) for bar in answered.pattern.bars] == ["R L L K", "K L L R"]


def splice(use: Passage, at: str = "2", grid: Grid | None = None) -> Draft:
    voiced = Voice(((Limb.RIGHT, SOUNDS["ride"]),)).change(draft("R L R L"))
    return Splice(Place.parse(at), use, grid).change(voiced)


def test_a_splice_fills_its_bar_to_the_end_and_is_cut_there() -> None:
    spliced = splice(Passage("roll", read_order("L L R")))
    assert [write_order(bar.slots) for bar in spliced.pattern.bars] == ["R L R L", "R L L L"]


def test_a_splice_may_change_the_grid_from_a_beat_on() -> None:
    spliced = splice(Passage("roll", read_order("L R")), grid=Grid.of("sextuplets"))
    assert [len(beat.slots) for beat in spliced.pattern.bars[1].beats] == [2, 6]
    assert len(spliced.origins) == len(spliced.pattern.slots)


def test_another_grid_cannot_begin_inside_a_beat() -> None:
    with pytest.raises(StepError, match="begins with a beat"):
        splice(Passage("roll", read_order("L R")), at="1&", grid=Grid.of("sextuplets"))


def test_a_spliced_sequence_takes_the_sounds_in_force_and_an_exercise_keeps_its_own() -> None:
    order = read_order("R")
    assert splice(Passage("roll", order)).pattern.slots[-1][0].sound.name == "ride"
    assert splice(Passage("roll", order, voiced=True)).pattern.slots[-1][0].sound.name == "snare"


def test_landing_adds_a_bar_that_sounds_on_its_first_beat() -> None:
    landed = Land(((Limb.RIGHT, SOUNDS["crash"]), (Limb.KICK, SOUNDS["kick"]))).change(draft("R L R L", bars=1))
    assert [write_order(bar.slots) for bar in landed.finished.bars] == ["R L R L", "R+K . . ."]
    assert not landed.loops


def test_a_foot_cannot_land_on_a_cymbal() -> None:
    with pytest.raises(StepError, match="cannot play crash"):
        Land(((Limb.KICK, SOUNDS["crash"]),))
