"""What a misspelt word was most likely meant to be."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

LONGEST_LIKENED = 100
"""A longer word is no slip of the pen; comparing it would take long."""


def near(word: str, words: Iterable[str]) -> str | None:
    """The one of these words that a word was most likely meant to be."""
    if len(word) > LONGEST_LIKENED:
        return None
    by_small = {known.lower(): known for known in words if len(known) <= LONGEST_LIKENED}
    found = difflib.get_close_matches(word.lower(), by_small, n=1, cutoff=0.6)
    return by_small[found[0]] if found else None


def meant(word: str, words: Iterable[str]) -> str:
    """`; did you mean 'x'?` where a word is near one of these, else nothing."""
    found = near(word, words)
    return f"; did you mean '{found}'?" if found else ""
