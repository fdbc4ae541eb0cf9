"""What LilyPond cannot set is told at the lines of the exercises that have it, all at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.engrave.failing import failing_lilypond
from typeset import handouts, pipeline
from typeset.built import Run, SheetOrder
from typeset.engrave import lilypond
from typeset.problem import BookError
from typeset.shipped import STORE_VARIABLE

CHAPTER = """\
chapter: Bells
exercises:
  - id: plain
    start: R L
  - id: bell
    start: R L
    steps: [{voice: {R: cowbell, L: snare}}]
  - series: turns
    start: R R L
    each: {rotate: [0, 1]}
    steps: [{voice: {R: snare, L: cowbell}}]
  - task: write-the-sticking
    of: bell
"""


@pytest.fixture
def chapter(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A chapter, and a LilyPond that fails at its cowbells."""
    program = failing_lilypond(tmp_path, "fails")
    monkeypatch.setattr(lilypond, "engraver", lambda: program)
    monkeypatch.setenv(STORE_VARIABLE, str(tmp_path / "store"))
    file = tmp_path / "bells.yaml"
    file.write_text(CHAPTER)
    return file


def test_each_exercise_is_told_with_its_line_and_the_next_build_sets_only_those(
    chapter: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(BookError) as caught:
        pipeline.make(chapter, None, Run(jobs=1))
    told = [(problem.mark.line, problem.what.split(":")[0]) for problem in caught.value.problems]
    assert told == [
        (1, "LilyPond cannot engrave the sample of cowbell"),
        (5, "LilyPond cannot engrave 1.2 (bell)"),
        (8, "LilyPond cannot engrave 1.3 (turns/1)"),
        (8, "LilyPond cannot engrave 1.4 (turns/2)"),
    ]
    assert all("its last words: cannot set this; leave it out" in one.what for one in caught.value.problems)
    monkeypatch.undo()
    monkeypatch.setenv(STORE_VARIABLE, str(chapter.parent / "store"))
    (built,) = pipeline.make(chapter, None, Run(jobs=1))
    assert (built.engraved, built.stored) == (4, 3)


def test_a_handout_tells_it_too(chapter: Path) -> None:
    with pytest.raises(BookError, match=r":5:5: LilyPond cannot engrave 1.2 \(bell\)"):
        handouts.make_sheet(chapter, SheetOrder(("bell",)), Run(jobs=1))
