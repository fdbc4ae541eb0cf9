"""The command that looks after what is kept between builds."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Annotated

import typer

from .terminal import say

# Everything else is imported where it is used, so that --help answers at once.
if TYPE_CHECKING:
    from ..kept import Kept


def store(
    clear: Annotated[
        bool, typer.Option("--clear", help="Remove everything in it; it is made again when needed.")
    ] = False,
) -> None:
    """Tell what is kept of earlier builds, and where; or clear it away."""
    from ..kept import LIMIT_VARIABLE, kept_in, limit
    from ..kept import clear as clear_away
    from ..shipped import STORE_VARIABLE, store_folder

    folder = store_folder()
    if clear:
        removed = clear_away(folder)
        say(f"{folder}: {_amount(removed, 'file')} removed")
        return
    kept = kept_in(folder)
    rows = {
        "folder": f"{folder} (another: {STORE_VARIABLE})",
        "systems": _amount([one for one in kept if one.kind == "block"], "system"),
        "chapters": _amount([one for one in kept if one.kind == "chapter"], "drawn chapter"),
        "books": _amount([one for one in kept if one.kind == "build"], "finished build"),
        "limit": f"{limit() // 1_000_000} MB (another: {LIMIT_VARIABLE})",
    }
    if kept:
        rows |= {"last used": _day(kept[-1]), "unused since": _day(kept[0])}
    width = max(map(len, rows))
    for name, value in rows.items():
        say(f"{name:<{width}}  {value}")


def _amount(kept: Sequence[Kept], what: str) -> str:
    megabytes = sum(one.size for one in kept) / 1_000_000
    return f"{len(kept)} {what}{'' if len(kept) == 1 else 's'}, {megabytes:.1f} MB"


def _day(one: Kept) -> str:
    """When something was last used, on this machine's clock."""
    return datetime.fromtimestamp(one.used).strftime("%Y-%m-%d %H:%M")
