"""Every text of a book that its author wrote, with what it is called, for the characters to be looked at."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ..compose.book import Book, Chapter, Exercise, Task, Text
from ..pattern.limb import Limb
from ..style import Style
from .families import CUTS
from .refusals import MissingCharacters
from .repertoire import described, missing_characters

Named = tuple[str, str | None]
"""What a text is called, and the text, where there is one."""


def refuse_missing(texts: Iterable[Named], style: Style) -> None:
    """Raise MissingCharacters for the first text with a character that the style's faces lack."""
    for name, text in texts:
        missing = missing_characters(text, style) if text else ()
        if text and missing:
            faces = " and ".join(
                dict.fromkeys(CUTS[family].name for family in (style.type.text, style.type.letters))
            )
            those = ", ".join(map(described, missing))
            raise MissingCharacters(f"{name}: {faces} cannot print {those}; leave it out", text, missing)


def texts_of(book: Book) -> Iterator[Named]:
    """A book's texts."""
    for name in ("title", "subtitle", "author", "edition", "date"):
        yield f"the book's {name}", getattr(book, name)
    for chapter in book.chapters:
        yield from _chapter(chapter, for_teacher=book.for_teacher)


def style_texts(style: Style) -> Iterator[Named]:
    """What a style prints: its letters and the syllables of its counts."""
    letters = (style.letters.of(limb) for limb in Limb)
    syllables = (syllable for listed in style.counts.by_slots.values() for syllable in listed)
    yield f"the style '{style.name}'", " ".join((*letters, *syllables))


def called(exercise: Exercise) -> str:
    """What messages call an exercise."""
    return f"exercise {exercise.number} ({exercise.id})"


def _chapter(chapter: Chapter, *, for_teacher: bool) -> Iterator[Named]:
    name = f"chapter {chapter.number}"
    yield f"the title of {name}", chapter.title
    yield f"the intro of {name}", chapter.intro
    for item in chapter.items:
        match item:
            case Text(text):
                yield f"a text in {name}", text
            case Exercise():
                yield f"the title of {called(item)}", item.title
                yield called(item), " ".join(item.instruction)
            case Task():
                yield f"task {item.number}", " ".join((item.title, item.asks, *item.answer, item.accepts or ""))
        if for_teacher and not isinstance(item, Text):
            yield f"a note in {name}", item.note
