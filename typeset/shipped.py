"""Where the material that travels with the program lies: `styles/` and `shared/`."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

_PROGRAM = Path(__file__).resolve().parent


def shelf(name: Literal["styles", "shared"]) -> Path:
    """The folder of that name: inside the installed package, or at the top of a checkout."""
    installed = _PROGRAM / "data" / name
    return installed if installed.is_dir() else _PROGRAM.parent / name
