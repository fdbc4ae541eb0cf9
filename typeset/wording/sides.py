"""The hands in an author's text: `{right}` and `{left}`, which change places in a left-handed copy."""

from __future__ import annotations

import re

from .catalogue import Wording, wording

_OTHER = {"right": "left", "left": "right"}
_SIDE = re.compile(r"\{(right|left)\}(?=(\w)?)")


def sided(text: str, language: str, is_mirrored: bool) -> str:
    """A text with its hands as words of a language, exchanged in a left-handed copy."""
    return with_sides(text, wording(language), is_mirrored)


def with_sides(text: str, words: Wording, is_mirrored: bool) -> str:
    """`{right}` and `{left}` as words, with a capital where a sentence begins.

    Where letters follow, they are the ending of a stem: `die {right}e Hand` is `die rechte Hand`.
    """

    def word(found: re.Match[str]) -> str:
        side = _OTHER[found[1]] if is_mirrored else found[1]
        said = words[f"sides.{side}.{'stem' if found[2] else 'word'}"]
        before = text[: found.start()].rstrip(" \n*[")
        return said if before and not before.endswith((".", "!", "?", "-")) else f"{said[:1].upper()}{said[1:]}"

    return _SIDE.sub(word, text)
