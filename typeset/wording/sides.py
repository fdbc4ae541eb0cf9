"""The hands in an author's text: `{right}` and `{left}`, which change places in a left-handed copy."""

from __future__ import annotations

import re

from .catalogue import wording


def sided(text: str, language: str, is_mirrored: bool) -> str:
    """A text with its hands as words of a language, exchanged in a left-handed copy."""
    words = wording(language)
    right, left = words["right"], words["left"]
    return with_sides(text, left, right) if is_mirrored else with_sides(text, right, left)


def with_sides(text: str, right: str, left: str) -> str:
    """`{right}` and `{left}` as words, with a capital where a sentence begins."""

    def word(found: re.Match[str]) -> str:
        said = right if found[1] == "right" else left
        before = text[: found.start()].rstrip(" \n*[")
        return said if before and not before.endswith((".", "!", "?", "-")) else f"{said[:1].upper()}{said[1:]}"

    return re.sub(r"\{(right|left)\}", word, text)
