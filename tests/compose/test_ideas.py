"""What there is to learn in an exercise, and where it has it from."""

from pathlib import Path

from typeset.compose import compose
from typeset.compose.ideas import Idea, Tracer, ideas_in
from typeset.compose.names import Names
from typeset.manuscript import read
from typeset.manuscript.figures import standard_figures
from typeset.style.music import Spacing

CHAPTER = """\
chapter: C
sequences: {stairs: R! L r K L}
exercises:
  - id: plain
    start: stairs
    steps: [{rotate: 2}]
  - id: child
    start: plain
    steps:
      - remeter: 3/4
      - ornament: {at: [1], as: drag}
  - series: family
    start: stairs
    each: {displace: [0, 1], grid: [8ths, [16ths, triplets]]}
  - {id: from-a-member, start: family/2, steps: [{voice: {R: ride}}]}
"""


def tracer(tmp_path: Path) -> Tracer:
    file = tmp_path / "c.yaml"
    file.write_text(CHAPTER)
    manuscript = read(file).manuscript
    assert manuscript is not None
    book = compose(manuscript, Spacing(), standard_figures()).book
    return Tracer(Names(manuscript), {one.id: one for one in book.exercises})


def names(ideas: object, kind: str) -> set[str]:
    return {idea.name for idea in ideas if idea.kind == kind}  # type: ignore[attr-defined]


def test_bars_and_strokes_show_meters_grids_sounds_and_dynamics(tmp_path: Path) -> None:
    ideas = ideas_in(tracer(tmp_path).printed["plain"].pattern)
    assert names(ideas, "meter") == {"4/4"}
    assert names(ideas, "grid") == {"16ths"}
    assert names(ideas, "sound") == {"snare", "kick"}
    assert names(ideas, "step") == {"accent", "ghost"}


def test_a_child_has_its_parent_s_steps_too_and_takes_them_over(tmp_path: Path) -> None:
    found = tracer(tmp_path)
    ideas = found.ideas("child")
    assert names(ideas, "step") == {"rotate", "accent", "ghost"}
    assert (names(ideas, "meter"), names(ideas, "ornament")) == ({"3/4"}, {"drag"})
    taken = found.taken_over(found.text("child"), ideas)
    assert Idea("step", "rotate") in taken and set(taken.values()) == {"plain"}
    assert not {Idea("meter", "3/4"), Idea("ornament", "drag")} & set(taken)


def test_what_differs_in_a_series_is_an_idea_and_each_member_has_its_own_grid(tmp_path: Path) -> None:
    found = tracer(tmp_path)
    assert "displace" in names(found.ideas("family/1"), "step")
    assert names(found.ideas("family/1"), "grid") == {"8ths"}
    assert names(found.ideas("family/2"), "grid") == {"16ths", "triplets"}


def test_an_exercise_is_followed_back_through_a_member_of_a_series_to_its_sequence(tmp_path: Path) -> None:
    found = tracer(tmp_path)
    text = found.text("from-a-member")
    assert found.origins(text) == ("family/2",)
    assert found.sequences(text) == {"stairs"}
    assert "displace" in names(found.ideas("from-a-member"), "step")
