"""Whatever stands in a file, the reader answers with problems that have their places."""

from collections.abc import Callable

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.fuzz.mutation import SIGNS
from typeset.manuscript import Reading

from .test_read import FIRST

edits = st.lists(
    st.tuples(st.integers(0, len(FIRST)), st.integers(0, 12), st.sampled_from(["", *SIGNS])), min_size=1, max_size=6
)


@settings(
    max_examples=150,
    derandomize=True,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(edits)
def test_a_damaged_chapter_is_read_to_its_end(
    chapter: Callable[[str], Reading], edits: list[tuple[int, int, str]]
) -> None:
    text = FIRST
    for at, cut, sign in edits:
        text = text[:at] + sign + text[at + cut :]
    reading = chapter(text)
    for problem in reading.problems:
        assert 1 <= problem.mark.line <= text.count("\n") + 1 and problem.mark.column >= 1
        assert "this is no YAML" not in problem.what and "Input should" not in problem.what
    for part in reading.manuscript.chapters[0].items if reading.manuscript else ():
        assert part.mark.line >= 1
