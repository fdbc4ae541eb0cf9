from pathlib import Path

import pytest

from typeset.compose.ground import Work
from typeset.compose.judging import Judge
from typeset.compose.names import Names
from typeset.compose.works import Workshop
from typeset.manuscript import read
from typeset.manuscript.figures import standard_figures

CHAPTER = """\
chapter: Judged
set: {meter: 4/4, grid: 16ths}
exercises:
  - id: even
    start: R L L K
    steps: [voice: {R: ride, L: snare}]
  - id: swung
    start: R L L K
    feel: swing-8ths
    grid: 8ths
  - id: opened
    start: R . . L
    pickup: L L
"""


@pytest.fixture
def judge() -> Judge:
    return Judge(standard_figures())


@pytest.fixture(params=["even", "swung", "opened"])
def work(request: pytest.FixtureRequest, judge: Judge, tmp_path: Path) -> Work:
    file = tmp_path / "judged.yaml"
    file.write_text(CHAPTER)
    manuscript = read(file).manuscript
    assert manuscript is not None
    made = Workshop(Names(manuscript), judge).work(request.param)
    assert made is not None
    return made


def test_a_level_asked_for_alone_is_that_of_the_whole_judgement(judge: Judge, work: Work) -> None:
    assert judge.level(work) == judge(work).level


def test_a_ceiling_asked_for_alone_is_that_of_the_whole_judgement(judge: Judge, work: Work) -> None:
    assert judge.ceiling(work) == judge(work).ceiling


def test_a_work_is_judged_once(judge: Judge, work: Work) -> None:
    assert judge(work) is judge(work)
