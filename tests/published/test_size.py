"""A book's size beside LilyPond's own PDF of the same music: at most three times as large. The limit is ours.

The same systems as the scores of one file, set by LilyPond as it comes, with its default back end.
"""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

from typeset import pipeline
from typeset.built import Run
from typeset.compose.book import System
from typeset.engrave import lilypond
from typeset.engrave.lilypond import engraver
from typeset.engrave.sheet import sheet_of

DEMO = Path(__file__).parents[2] / "books" / "quiet-doors"


def test_the_demo_book_is_at_most_three_times_as_large_as_its_music_alone(tmp_path: Path) -> None:
    checked = pipeline.check(DEMO)
    assert checked.style is not None
    staff = checked.style.staff
    systems = [one for one in checked.sound_book().engravings if isinstance(one, System)]
    scores = "\n".join(sheet_of(system, staff).music for system in systems)
    (tmp_path / "all.ly").write_text(f"{lilypond._header(staff.height)}\\book {{\n{scores}\n}}\n")
    faster = {**os.environ, "GC_DONT_GC": "1"}
    command = [engraver(), "--loglevel=ERROR", "all.ly"]
    subprocess.run(command, cwd=tmp_path, env=faster, check=True, capture_output=True)
    alone = (tmp_path / "all.pdf").stat().st_size
    (built,) = pipeline.make(DEMO, None, Run())
    assert len(built.pdf) <= 3 * alone
