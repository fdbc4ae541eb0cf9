"""A book of one exercise: what `show` puts on paper."""

from __future__ import annotations

from dataclasses import replace

from .book import Book, Chapter, Exercise
from .specimens import specimens_of


def book_of_one(book: Book, exercise: Exercise) -> Book:
    """A book without front and back that has this one exercise."""
    chapter = Chapter(1, "", "", (exercise,))
    return replace(
        book,
        title=exercise.title,
        chapters=(chapter,),
        front=(),
        back=(),
        specimens=specimens_of([exercise]),
        signs=(),
    )
