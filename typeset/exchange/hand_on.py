"""Every form that music leaves the program in other than paper: which there are, and making one."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..compose.book import Book, Chapter, Exercise
from ..sound.performance import AS_WRITTEN, Performance

if TYPE_CHECKING:
    from .musicxml import Score

FORMS = ("text", "json", "midi", "wav", "opus", "musicxml", "mxl")
"""`mxl` is compressed MusicXML."""

SCORES = ("musicxml", "mxl")
"""The forms that hold a chapter or a whole book as well as one exercise."""


def hand_on(
    book: Book, chosen: Exercise | Chapter | Book, form: str, performance: Performance = AS_WRITTEN
) -> bytes:
    """One of a book's exercises in a form, or in a score's form a chapter or all of it.

    `performance` counts for what is heard. Raises OutsideError without the packages that audio needs.
    """
    if form in SCORES:
        from .musicxml import compressed, musicxml

        text = musicxml(_score(book, chosen))
        return compressed(text) if form == "mxl" else text.encode()
    assert isinstance(chosen, Exercise)  # the pipeline asks for more only in a score's form
    match form:
        case "json":
            from .json import exercise_json

            return f"{exercise_json(chosen)}\n".encode()
        case "text":
            from .beside import beside_text
            from .text import exercise_text

            text = exercise_text(chosen, book.language)
            parent = book.find(chosen.parent) if chosen.parent else None
            return (text + (beside_text(parent, chosen, book.language) if parent else "")).encode()
        case "midi":
            from ..sound.midi import midi_file

            return midi_file(chosen, performance)
        case _:
            from ..sound.audio import render, tags_of

            return render(chosen, form, tags_of(book, chosen), performance)


def _score(book: Book, chosen: Exercise | Chapter | Book) -> Score:
    from .musicxml import Score

    match chosen:
        case Exercise():
            return Score(chosen.title, (chosen,), book.author, chosen.number)
        case Chapter():
            return Score(chosen.title, chosen.exercises, book.author, str(chosen.number))
        case Book():
            openings = frozenset(chapter.exercises[0].number for chapter in book.chapters if chapter.exercises)
            return Score(book.title, book.exercises, book.author, breaks=openings)
