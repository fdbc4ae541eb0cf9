"""The command `shedbook`: every command by its name, and what becomes of whatever goes wrong."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Callable, Iterable

import typer

from ..stopping import FAILED_OUTSIDE, STOPPED, stopped
from . import keeping, making, seeing, telling
from .terminal import HAS_ERRORS, refuse, stop, tell
from .words import Command, Commands

# What a command works out stays to its end. Looking through it for cycles as often as Python does by itself takes
# a third of a build (docs/speed.md).
_COLLECTED_AT = (100_000, 50, 100)

COMMANDS: dict[str, Callable[..., None]] = {
    "new": making.new,
    "check": telling.check,
    "build": making.build,
    "list": telling.list_exercises,
    "show": telling.show,
    "sheet": making.sheet,
    "sound": making.sound,
    "take": making.take,
    "steps": telling.steps,
    "watch": seeing.watch,
    "schema": telling.schema,
    "store": keeping.store,
}


def _command_line(names: Iterable[str]) -> typer.Typer:
    """The command with these subcommands."""
    made = typer.Typer(
        cls=Commands,
        callback=_before_any,
        no_args_is_help=True,
        pretty_exceptions_enable=False,
        rich_markup_mode=None,
        help="Turn short orders of strokes into printed drum books.",
    )
    for name in names:
        made.command(name=name, cls=Command)(COMMANDS[name])
    return made


def _before_any() -> None:
    """Nothing; but without it Typer would make one subcommand alone the whole command."""


app = _command_line(COMMANDS)


def main() -> None:
    """Run the command; whatever goes wrong becomes a message and an exit status, never a traceback."""
    from ..problem import BookError, NotThere, OutsideError

    gc.set_threshold(*_COLLECTED_AT)
    # Nobody else's plugins have a part in reading a book, and pydantic would look through every package for some.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "true")
    asked = sys.argv[1:2]
    try:
        # Typer works every subcommand out before it runs one, which is a tenth of a build that is found.
        (_command_line(asked) if COMMANDS.keys() & asked else app)()
    except NotThere as error:
        refuse(str(error))
    except BookError as error:
        tell(error.problems)
        sys.exit(HAS_ERRORS)
    except OutsideError as error:
        stop(str(error), FAILED_OUTSIDE)
    except BrokenPipeError:
        # Whoever read our output has gone; there is no one to tell.
        sys.exit(FAILED_OUTSIDE)
    except OSError as error:
        where = f"{error.filename}: " if error.filename else ""
        stop(f"{where}{error.strerror or error}", FAILED_OUTSIDE)
    except KeyboardInterrupt:
        stopped()
    except SystemExit as ended:
        # Typer makes this of an interrupt, and says nothing.
        if ended.code == STOPPED:
            stopped()
        raise
    except Exception as error:
        if os.environ.get("SHEDBOOK_DEBUG"):
            raise
        stop(
            f"this is a mistake in shedbook itself ({type(error).__name__}: {error}); "
            "set SHEDBOOK_DEBUG=1 to see where, and please report it with the book that caused it",
            FAILED_OUTSIDE,
        )
