"""Where things lie: what travels with the program, `styles/` and `shared/`, the store, and the engraver."""

from __future__ import annotations

import os
from functools import cache
from pathlib import Path
from typing import Literal

from .installed import version

STORE_VARIABLE = "SHEDBOOK_STORE"

_PROGRAM = Path(__file__).resolve().parent


def shelf(name: Literal["styles", "shared"]) -> Path:
    """The folder of that name: inside the installed package, or at the top of a checkout."""
    installed = _PROGRAM / "data" / name
    return installed if installed.is_dir() else _PROGRAM.parent / name


def store_folder() -> Path:
    """Where what can be made again is kept: the folder that SHEDBOOK_STORE names, else the user's cache."""
    named = os.environ.get(STORE_VARIABLE)
    if named:
        return Path(named)
    import platformdirs

    return platformdirs.user_cache_path("shedbook")


@cache
def engraver_version() -> str:
    """What tells one LilyPond from another, without starting it.

    The package's version, or the size and date of the program on PATH; empty where there is neither.
    """
    packaged = version("lilypond")
    if packaged is not None:
        return packaged
    import shutil

    found = shutil.which("lilypond")
    if found is None:
        return ""
    about = Path(found).stat()
    return f"{found} {about.st_size} {about.st_mtime_ns}"
