"""A book's size beside LilyPond's own PDF of the same music. The limits are ours.

The same systems as the scores of one file, set by LilyPond with its default back end: as it comes, when every note
is a link to its place in the source, and without these links, which a book has no use for.
"""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

from typeset import pipeline
from typeset.built import Run
from typeset.compose.engraving import System
from typeset.engrave import lilypond
from typeset.engrave.lilypond import engraver
from typeset.engrave.sheet import sheet_of

DEMO = Path(__file__).parents[2] / "books" / "quiet-doors"


AS_IT_COMES, WITHOUT_LINKS = 3.0, 3.5
"""How many times as large as either the book may be, with all its words, letters and readings."""


def test_the_demo_book_is_not_much_larger_than_its_music_alone(tmp_path: Path) -> None:
    checked = pipeline.check(DEMO)
    assert checked.style is not None
    staff = checked.style.staff
    systems = [one for one in checked.sound_book().engravings if isinstance(one, System)]
    scores = "\n".join(sheet_of(system, staff).music for system in systems)
    (tmp_path / "all.ly").write_text(f"{lilypond._header(staff.height)}\\book {{\n{scores}\n}}\n")
    (built,) = pipeline.make(DEMO, None, Run())
    assert len(built.pdf) <= AS_IT_COMES * _alone(tmp_path)
    assert len(built.pdf) <= WITHOUT_LINKS * _alone(tmp_path, "-dno-point-and-click")


def _alone(folder: Path, *options: str) -> int:
    """How large LilyPond's own PDF is."""
    faster = {**os.environ, "GC_DONT_GC": "1"}
    command = [engraver(), "--loglevel=ERROR", *options, "all.ly"]
    subprocess.run(command, cwd=folder, env=faster, check=True, capture_output=True)
    return (folder / "all.pdf").stat().st_size
