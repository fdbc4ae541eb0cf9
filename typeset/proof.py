"""Reading an author's text for characters that the style's faces cannot print, before anything is set."""

from __future__ import annotations

from collections.abc import Iterator

from .manuscript.marked import Marked
from .manuscript.models import Manuscript
from .page import described, missing_characters
from .problem import Problem
from .style import Style

_PROSE = ("title", "subtitle", "author", "edition", "say", "note", "text")


def proofread(manuscript: Manuscript, style: Style) -> Iterator[Problem]:
    """A problem for each text with characters that no face of the style has, naming them."""
    yield from _of(manuscript, style)
    for chapter in manuscript.chapters:
        for words in (chapter.title, chapter.intro):
            missing = missing_characters(words, style)
            if missing:
                yield Problem(chapter.mark, _told(missing))
        for item in chapter.items:
            yield from _of(item, style)


def _of(part: Marked, style: Style) -> Iterator[Problem]:
    for key in _PROSE:
        words = getattr(part, key, None)
        if isinstance(words, str):
            missing = missing_characters(words, style)
            if missing:
                yield Problem(part.marks(key), _told(missing))


def _told(missing: tuple[str, ...]) -> str:
    characters = ", ".join(described(character) for character in missing[:5])
    more = f", and {len(missing) - 5} more" if len(missing) > 5 else ""
    return f"this style's typefaces cannot print {characters}{more}; write it another way"
