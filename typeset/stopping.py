"""What Ctrl-C comes to: one line, and one exit status."""

from __future__ import annotations

import os
import sys

STOPPED = 130
"""The exit status: 128 and the number of the signal, as shells tell it."""


def stopped(*_: object) -> None:
    """End there and then: what threads still do is not waited for, as they write nothing that lasts."""
    try:
        sys.stdout.flush()
        os.write(2, b"shedbook: stopped; what was built before is as it was\n")
    finally:
        os._exit(STOPPED)
