"""Where words may be parted, by the hyphenation patterns of their language."""

from __future__ import annotations

import re
from functools import cache, lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pyphen import Pyphen

_SHORTEST = 6
_LEAST_LEFT, _LEAST_RIGHT = 2, 3
_JOINT = re.compile(r"(?<=[^\W\d_]{3}-)(?=[^\W\d_]{3})")
"""After a hyphen that the word has itself, with three letters or more on either side."""


@lru_cache(maxsize=16384)
def syllables(word: str, language: str | None) -> tuple[str, ...]:
    """A word in the parts that a hyphen may stand between, or has one already; whole where it is short, or no
    plain word. Without a language only hyphens of its own part it.

    The patterns of a language are loaded when its first word is asked for.
    """
    return tuple(part for piece in _JOINT.split(word) for part in _parts(piece, language))


def _parts(word: str, language: str | None) -> tuple[str, ...]:
    core = word.strip("().,;:!?…“”„‘’«»¡¿-\u00a0")
    if language is None or len(core) < _SHORTEST or not core.isalpha():
        return (word,)
    patterns = _patterns(language)
    if patterns is None:
        return (word,)
    before = word.index(core)
    places = [before + place for place in patterns.positions(core)]
    return tuple(word[start:end] for start, end in zip([0, *places], [*places, len(word)], strict=True))


@cache
def _patterns(language: str) -> Pyphen | None:
    """A language's patterns, or those of a language that it is a kind of; None where there are none."""
    import pyphen

    known = pyphen.language_fallback(language)
    return pyphen.Pyphen(lang=known, left=_LEAST_LEFT, right=_LEAST_RIGHT) if known else None
