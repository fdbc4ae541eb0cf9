"""Reading an author's text before anything is set: characters that no face has, hands that are misspelt."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache
from itertools import chain
from typing import TYPE_CHECKING

from .compose.book import Book
from .manuscript.exercise import ExerciseText
from .manuscript.marked import Marked
from .manuscript.models import Chapter, Manuscript, prose_keys
from .manuscript.series import SeriesText
from .nearest import near
from .page import described, missing_characters
from .page.texts import Named, style_texts, texts_of
from .problem import Mark, Problem, Weight, errors_of
from .style import Style

if TYPE_CHECKING:
    from .manuscript.curriculum import CurriculumText

_HANDS = ("right", "left")
_IN_BRACES = re.compile(r"\{([a-zA-Z]{3,8})\}")


def proofread(manuscript: Manuscript, style: Style, book: Book | None = None) -> tuple[Problem, ...]:
    """A problem for each text with characters that no face of the style has, naming them, or a misspelt hand.

    What is wrong with none of the author's texts may be so with what was made of them in the `book`: a name
    out of a shared group, or the style's own letters.
    """
    chapters = (_of_chapter(chapter, style) for chapter in manuscript.chapters)
    found = (*_of(manuscript, style), *chain.from_iterable(chapters))
    if errors_of(found) or book is None:
        return found
    made = (style_texts(style), texts_of(book))
    wrong = next(filter(None, (tuple(_of_made(texts, manuscript.mark, style)) for texts in made)), ())
    return (*found, *wrong)


def proofread_curriculum(text: CurriculumText, style: Style) -> tuple[Problem, ...]:
    """The same for a curriculum's own texts."""
    return (*_of(text, style), *(one for term in text.terms for one in _of(term, style)))


def _of_chapter(chapter: Chapter, style: Style) -> Iterator[Problem]:
    yield from _of(chapter.head, style)
    for item in chapter.items:
        yield from _of(item, style, item.id if isinstance(item, ExerciseText | SeriesText) else None)


def _of(part: Marked, style: Style, name: str | None = None) -> Iterator[Problem]:
    """Of every key of running text that a part declares; `name` is an exercise's."""
    for key in _keys_of(type(part)):
        words = getattr(part, key.replace("-", "_"))
        if isinstance(words, str):
            yield from _told(words, part.marks(key), style)
            yield from _misspelt(words, part.marks(key), name)


@cache
def _keys_of(model: type[Marked]) -> tuple[str, ...]:
    """The keys of running text that a model declares, in their order."""
    return tuple(sorted(prose_keys(model)))


def _misspelt(words: str, mark: Mark, of: str | None) -> Iterator[Problem]:
    """A hand in braces that is nearly one would be printed with its braces."""
    for said in _IN_BRACES.findall(words):
        meant = near(said, _HANDS)
        if meant and said not in _HANDS:
            what = f"'{{{said}}}' is printed as it stands; did you mean '{{{meant}}}'?"
            yield Problem(mark, what, Weight.WARNING, of)


def _of_made(texts: Iterable[Named], mark: Mark, style: Style) -> Iterator[Problem]:
    for name, words in texts:
        yield from _told(words or "", mark, style, f"{name}: ")


def _told(words: str, mark: Mark, style: Style, whose: str = "") -> Iterator[Problem]:
    missing = missing_characters(words, style)
    if missing:
        characters = ", ".join(map(described, missing[:5]))
        more = f", and {len(missing) - 5} more" if len(missing) > 5 else ""
        what = f"{whose}this style's typefaces cannot print {characters}{more}; write it another way"
        yield Problem(mark, what)
