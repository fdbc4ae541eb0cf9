"""The demo book, worked out once for all checks of it."""

from __future__ import annotations

from pathlib import Path

from typeset import pipeline

DEMO = pipeline.check(Path(__file__).parents[2] / "books" / "quiet-doors").sound_book()
