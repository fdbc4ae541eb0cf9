from pathlib import Path

import pytest

from typeset import reference
from typeset.compose.judging import Judge
from typeset.compose.names import Names
from typeset.compose.works import Workshop
from typeset.manuscript import read
from typeset.manuscript.figures import standard_figures
from typeset.pattern.order import write_played
from typeset.pattern.steps import STEPS, Phase
from typeset.pattern.written import write_music

EVERY_STEP = pytest.mark.parametrize("key", STEPS)

CHAPTER = """\
chapter: An example
set: {{meter: {meter}, grid: {grid}}}
exercises:
  - id: example
    start: {start}
    steps:
{steps}
"""


@EVERY_STEP
def test_an_example_gives_what_it_says(key: str, tmp_path: Path) -> None:
    example = STEPS[key].example
    steps = [step for step in (example.first, f"{key}: {example.value}") if step]
    file = tmp_path / "example.yaml"
    listed = "\n".join(f"      - {step}" for step in steps)
    file.write_text(CHAPTER.format(meter=example.meter, grid=example.grid, start=example.start, steps=listed))
    reading = read(file)
    assert reading.manuscript is not None and not reading.problems
    workshop = Workshop(Names(reading.manuscript), Judge(standard_figures()))
    work = workshop.work("example")
    assert work is not None, workshop.problems
    if STEPS[key].phase is Phase.ORDER:
        assert work.draft.order is not None
        assert write_played(work.draft.order) == example.after
    else:
        assert write_music(work.draft.finished) == example.after


@EVERY_STEP
def test_every_step_is_explained(key: str) -> None:
    explained = reference.one_step(key)
    assert STEPS[key].about.split()[0] in explained
    assert STEPS[key].example.after in explained


@EVERY_STEP
def test_every_step_has_tests_of_its_family(key: str) -> None:
    family = STEPS[key].__module__.rsplit(".", 1)[1]
    tests = Path(__file__).parent / "pattern" / "steps" / f"test_{family}.py"
    assert f"{STEPS[key].__name__}(" in tests.read_text()


def test_all_steps_are_listed() -> None:
    listed = reference.all_steps()
    assert all(f"  {key}" in listed for key in STEPS)


def test_an_unknown_step_is_answered_with_the_nearest() -> None:
    with pytest.raises(KeyError, match="did you mean 'rotate'"):
        reference.one_step("rotat")
