"""Words as strings in a page's content: which codes show them, in which part of a font, and what is kerned."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from itertools import groupby

from .codes import codes_of, name_of
from .kerning import kerning_of
from .repertoire import refuse_uncovered

_ESCAPED = {code: chr(code) if 32 <= code < 127 else f"\\{code:03o}" for code in range(256)} | {
    ord(mark): f"\\{mark}" for mark in "()\\"
}


def shown(words: str, font: str, size: float, ending: str = "") -> str:
    """The operators that show words in a font, and what ends them, which is not kerned.

    Raises MissingCharacters where the font lacks one.
    """
    refuse_uncovered(words, font)
    known = _written(font)
    codes = [known[character] for character in words + ending]
    kerning = dict(kerning_of(words, font))
    return " ".join(
        f"/{name_of(font, part)} {size:.2f} Tf {_operator(codes, places, kerning)}" for part, places in _runs(codes)
    )


@cache
def _written(font: str) -> Mapping[str, tuple[int, str]]:
    """For each character the part of a font that has it, and its code there as it is written."""
    return {character: (part, _ESCAPED[byte]) for character, (part, byte) in codes_of(font).items()}


def _runs(codes: Sequence[tuple[int, str]]) -> list[tuple[int, range]]:
    """The parts of a font that characters are in, one after the other, and the places of those in each."""
    runs: list[tuple[int, range]] = []
    start = 0
    for part, run in groupby(part for part, _ in codes):
        end = start + len(list(run))
        runs.append((part, range(start, end)))
        start = end
    return runs


def _operator(codes: Sequence[tuple[int, str]], places: range, kerning: Mapping[int, float]) -> str:
    """The codes at places as they are shown, some nearer together or farther apart (ISO 32000-1, 9.4.3)."""
    written = [code for _, code in codes[places.start : places.stop]]
    moved = [place for place in kerning if place in places]
    for place in moved:
        written[place - places.start] += f"){-kerning[place]:g}("
    string = "".join(written)
    return f"[({string})] TJ" if moved else f"({string}) Tj"
