from __future__ import annotations

import os
from collections.abc import Iterator

import pytest
from hypothesis import settings

from typeset.shipped import STORE_VARIABLE

# How long an example takes is the machine's affair, and it may be busy.
settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")


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
