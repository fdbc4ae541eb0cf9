"""The answers: every task that was left open, with its exercise's page and what is right."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from ..compose.book import Book, Task
from ..wording.markup import Span
from .breaking import Piece
from .faces import width_of
from .flow import title_piece
from .leaf import Section
from .marks import Link, Mark, Words, moved
from .paragraph import Look, lines_of, title_lines, words_of
from .setting import Setting, points
from .stack import Part, stacked
from .task import anchor_of_task, answer_parts, task_words

ANSWERS = "page answers"


def has_answers(book: Book) -> bool:
    """True where a task's answer does not stand beside it already."""
    return any(not task.is_inline for task in book.tasks)


def answers(book: Book, pages: Mapping[str, int], setting: Setting) -> Section:
    """The answers to a book's tasks, in order; no page where there is nothing to answer."""
    title = setting.words["pages.answers.title"]
    if not has_answers(book):
        return Section(title, ())
    pieces = [title_piece(title, ANSWERS, setting)]
    for task in book.tasks:
        if not task.is_inline:
            pieces += _answer(task, pages, setting)
    return Section(title, tuple(pieces))


def _answer(task: Task, pages: Mapping[str, int], setting: Setting) -> tuple[Piece, ...]:
    first, *others = answer_parts(task, setting)
    parts = [_heading(task, pages, setting).over(first, setting.unit * 2), *others]
    name = f"the answer to task {task.number}"
    *pieces, last = stacked(name, parts, points(setting.style.exercises.systems * 0.6), setting)
    return (*pieces, replace(last, after=setting.unit * 5, stretch=setting.unit * 4))


def _heading(task: Task, pages: Mapping[str, int], setting: Setting) -> Part:
    """The task's number and title, and at the right the exercises it is about with their pages."""
    style = setting.style
    size, leading = style.type.body, setting.unit * 4.5
    look = Look(setting.text, size, leading, style.greys.text)
    number, font = task_words(task, setting), setting.letters.strong
    left = width_of(number, font, size) + size * 0.7
    (where,) = lines_of(words_of(tuple(_where(task, pages, setting)), _letters(look, setting)), setting.measure)
    lines = title_lines(task.title, look, setting.text_width - left - where.width - points(4))
    marks: list[Mark] = [Words(0, size, number, font, size, look.ink)]
    marks.append(Link(0, 0, left, leading, anchor_of_task(task)))
    for index, line in enumerate(lines):
        marks += line.marks(left, size + index * leading)
    marks += moved(where.marks(0, size), setting.text_width - where.width)
    return Part(tuple(marks), size * 1.26 + (len(lines) - 1) * leading)


def _letters(look: Look, setting: Setting) -> Look:
    return Look(setting.letters, setting.style.type.instruction, look.leading, look.ink)


def _where(task: Task, pages: Mapping[str, int], setting: Setting) -> Iterator[Span]:
    """`1.2 p. 9, 1.3 p. 9`, each leading there."""
    for index, exercise in enumerate(task.of):
        page = setting.words.say("pages.index.page", page=pages.get(exercise.id, "0000"))
        words = f"\u00a0{page}".replace(" ", "\u00a0")
        yield Span(f"{', ' if index else ''}{exercise.number}", address=exercise.id, strong=True)
        yield Span(words, address=exercise.id)
