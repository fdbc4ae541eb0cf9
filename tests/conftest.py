from __future__ import annotations

import os
import signal
from collections.abc import Iterator

import pytest
from hypothesis import settings

from typeset.shipped import STORE_VARIABLE

# How long an example takes is the machine's affair, and it may be busy.
settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")

# A shell lets what it starts in the background be deaf to Ctrl-C, and so would be every command that a test starts.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)


@pytest.fixture(autouse=True, scope="session")
def store_of_its_own(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """The tests engrave into a store of their own, and leave the user's alone."""
    before = os.environ.get(STORE_VARIABLE)
    os.environ[STORE_VARIABLE] = str(tmp_path_factory.mktemp("store"))
    yield
    if before is None:
        del os.environ[STORE_VARIABLE]
    else:
        os.environ[STORE_VARIABLE] = before
