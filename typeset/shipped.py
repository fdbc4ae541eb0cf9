"""Where things lie: what travels with the program, `styles/` and `shared/`, and the store."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Literal

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
