from collections.abc import Callable
from pathlib import Path

import pytest

from typeset.compose import Composition, compose
from typeset.manuscript import read
from typeset.manuscript.figures import standard_figures
from typeset.style.music import Spacing

Compose = Callable[[str], Composition]


@pytest.fixture
def composed(tmp_path: Path) -> Compose:
    """Composes a chapter from its text; the reader has to find nothing wrong with it."""

    def make(text: str) -> Composition:
        file = tmp_path / "chapter.yaml"
        file.write_text(text)
        reading = read(file)
        assert reading.manuscript is not None
        assert not reading.problems
        return compose(reading.manuscript, Spacing(), standard_figures())

    return make
