"""Time and room for a trial: what takes more is a failure, and no wait."""

from __future__ import annotations

import resource
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from ..fuzz.trial import within

_PAGE = resource.getpagesize()


@contextmanager
def bounded(seconds: int = 60, megabytes: int = 700) -> Iterator[None]:
    """Raise Hang after so long, MemoryError where so much more room is taken than now."""
    soft, hard = resource.getrlimit(resource.RLIMIT_AS)
    now = int(Path("/proc/self/statm").read_text().split()[0]) * _PAGE
    resource.setrlimit(resource.RLIMIT_AS, (now + megabytes * 1024 * 1024, hard))
    try:
        with within(seconds):
            yield
    finally:
        resource.setrlimit(resource.RLIMIT_AS, (soft, hard))
