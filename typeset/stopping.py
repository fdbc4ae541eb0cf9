"""How a command ends: at once, and on Ctrl-C with one line and one exit status."""

from __future__ import annotations

import os
import sys
from typing import NoReturn

FAILED_OUTSIDE = 3
"""The exit status where something outside failed, such as a full disk."""

STOPPED = 130
"""The exit status: 128 and the number of the signal, as shells tell it."""


def stopped(*_: object) -> None:
    """End there and then: what threads still do is not waited for, as they write nothing that lasts."""
    try:
        sys.stdout.flush()
        os.write(2, b"shedbook: stopped; what was built before is as it was\n")
    finally:
        os._exit(STOPPED)


def ended(status: int) -> NoReturn:
    """End with a status, once everything is written: the system puts away what was worked out, and Python does not.

    That would take Python an eighth of a build.
    """
    try:
        sys.stdout.flush()
        sys.stderr.flush()
    except BrokenPipeError:
        status = FAILED_OUTSIDE  # whoever read it has gone
    except OSError as error:
        os.write(2, f"shedbook: what was to be said cannot be written: {error.strerror}\n".encode())
        status = FAILED_OUTSIDE
    os._exit(status)
