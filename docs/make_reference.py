"""Writes the reference pages of docs/ from what the program declares. `make docs` runs it; a test checks."""

from __future__ import annotations

import inspect
from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_args, get_type_hints

from typer.models import ArgumentInfo, OptionInfo

from typeset import reference
from typeset.cli import COMMANDS
from typeset.pattern.bar import empty_bar
from typeset.pattern.counts import counts_of
from typeset.pattern.grid import GRIDS, Grid, goes_with
from typeset.pattern.meter import Meter
from typeset.pattern.steps import STEPS
from typeset.style import reference as styles

DOCS = Path(__file__).parent
METERS = ("2/4", "3/4", "4/4", "5/4", "7/4", "2/2", "3/8", "5/8", "6/8", "7/8", "9/8", "12/8", "15/8")
_WRITTEN = "<!-- Written by `make docs` from what the program declares; change the declarations instead. -->"


def pages() -> dict[str, str]:
    """The reference pages by the names of their files."""
    return {
        "steps.md": "\n".join(_steps()) + "\n",
        "counts.md": "\n".join(_counts()) + "\n",
        "commands.md": "\n".join(_commands()) + "\n",
        "styles.md": styles.reference(),
    }


def _steps() -> Iterator[str]:
    yield from ("# Steps", "", _WRITTEN, "", "What `shedbook steps` tells, all of it at once.", "")
    yield from ("```", reference.all_steps(), "```")
    for key in STEPS:
        told = map(str.rstrip, reference.one_step(key).splitlines())
        yield from ("", f"## {key}", "", "```", *told, "```")


def _counts() -> Iterator[str]:
    yield from ("# Counts", "", _WRITTEN, "", "What every slot of a bar is called, and so how a place is written.")
    yield "A place in bar 2 has `2|` before it. On any grid `n.k` is the k-th slot from the number n as well."
    for name in METERS:
        meter = Meter.parse(name)
        yield from ("", f"## {name}", "", "| grid | counts |", "| --- | --- |")
        for grid in (Grid.of(one) for one in GRIDS):
            if goes_with(grid, meter):
                told = " ".join(str(count) for count in counts_of(empty_bar(meter, grid)))
                yield f"| `{grid}` | `{told}` |"


def _commands() -> Iterator[str]:
    yield from ("# Commands", "", _WRITTEN, "")
    yield "Exit status: 0 done, 1 the book has errors, 2 the command was used wrongly, 3 something outside failed."
    for name, command in COMMANDS.items():
        told = [_told(field, hint) for field, hint in get_type_hints(command, include_extras=True).items()]
        found = [one for one in told if one]
        arguments = " ".join(shown for shown, _, is_option in found if not is_option)
        typed = f"shedbook {name} {arguments}".rstrip()
        yield from ("", f"## {name}", "", inspect.getdoc(command) or "", "", f"`{typed}`")
        yield from ("", "| | |", "| --- | --- |", *(f"| `{shown}` | {about} |" for shown, about, _ in found))


def _told(field: str, hint: Any) -> tuple[str, str, bool] | None:
    """How a parameter is written, what it is for, and whether it is an option; None for what is no parameter."""
    info = next((one for one in get_args(hint) if isinstance(one, OptionInfo | ArgumentInfo)), None)
    if info is None:
        return None
    metavar = (info.metavar or field.upper()).replace("|", "\\|")
    if isinstance(info, ArgumentInfo):
        return metavar, info.help or "", False
    # In Annotated the first name that an option is given stands where a default would.
    flags = [
        one for one in (info.default, *(info.param_decls or ())) if isinstance(one, str) and one.startswith("-")
    ]
    flag = ", ".join(flags or [f"--{field.replace('_', '-')}"])
    is_switch = get_args(hint)[0] is bool
    return flag if is_switch else f"{flag} {metavar}", info.help or "", True


def main() -> None:
    """Write the pages."""
    for name, text in pages().items():
        (DOCS / name).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
