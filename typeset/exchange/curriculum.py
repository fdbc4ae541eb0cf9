"""A curriculum as plain text: a line for each chapter in its term."""

from __future__ import annotations

from collections.abc import Iterator

from ..compose.curriculum import Curriculum, Stretch, Term

_HEAD = ("term", "weeks", "book", "chapter", "exercises", "levels")


def curriculum_text(curriculum: Curriculum) -> str:
    """The chapters in the order in which they are practised, with their weeks and levels, in columns."""
    rows = [_HEAD, *(row for term in curriculum.terms for row in _rows(curriculum, term))]
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    lines = ("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)) for row in rows)
    return "\n".join(line.rstrip() for line in lines)


def _rows(curriculum: Curriculum, term: Term) -> Iterator[tuple[str, ...]]:
    for place, stretch in enumerate(term.stretches):
        yield (term.title if place == 0 else "", *_row(curriculum, stretch))


def _row(curriculum: Curriculum, stretch: Stretch) -> tuple[str, ...]:
    book = curriculum.volume(stretch.volume).book
    chapter = book.chapters[stretch.chapter - 1]
    levels = [exercise.level for exercise in chapter.exercises]
    return (
        _span(stretch.first_week, stretch.last_week),
        book.title,
        f"{chapter.number} {chapter.title}",
        str(len(levels)),
        _span(min(levels), max(levels)),
    )


def _span(first: int, last: int) -> str:
    return str(first) if first == last else f"{first}-{last}"
