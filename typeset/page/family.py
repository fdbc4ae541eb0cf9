"""The family page: which exercise grew out of which, as trees."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from ..compose.book import Book, Exercise
from .breaking import Piece
from .faces import width_of
from .flow import body_look, kept, text_pieces, title_piece
from .leaf import Section
from .marks import Link, Mark, Rule, Words
from .paragraph import Look, title_lines
from .setting import Setting, points

FAMILY = "page family"
_STEP = 7.0
"""Millimetres from one generation to the next, less where there are so many that titles would have no room."""

_TREE_SHARE = 0.45
"""The most of a line that generations take."""

_ROOM_FOR_PAGE = 12.0


@dataclass(frozen=True, slots=True)
class Member:
    """An exercise in its tree.

    `lines` says for each generation above it, its own last, whether a younger one is still to come
    there.
    """

    exercise: Exercise
    lines: tuple[bool, ...]


def family(book: Book, pages: Mapping[str, int], setting: Setting) -> Section:
    """A tree for every exercise that others grew out of, with the pages they stand on."""
    title = setting.words["pages.family.title"]
    intro = text_pieces(setting.words["pages.family.intro"], body_look(setting), setting)
    pieces = [title_piece(title, FAMILY, setting), *kept(intro), Piece(setting.unit * 4, (), keeps=True)]
    for tree in trees(book.exercises):
        step = _step(tree, setting)
        rows = [_row(member, step, pages, setting) for member in tree]
        pieces += [replace(rows[0], keeps=True), *rows[1:-1]]
        pieces.append(replace(rows[-1], after=setting.unit * 4, stretch=setting.unit * 2, reluctance=0.0))
    return Section(title, tuple(pieces))


def trees(exercises: Sequence[Exercise]) -> tuple[tuple[Member, ...], ...]:
    """The exercises that have descendants and no parent, each with its descendants in the book's order."""
    ids = {exercise.id for exercise in exercises}
    children: dict[str, list[Exercise]] = {}
    for exercise in exercises:
        if exercise.parent in ids and exercise.parent:
            children.setdefault(exercise.parent, []).append(exercise)
    roots = (one for one in exercises if one.parent not in ids and one.id in children)
    return tuple(tuple(_members(root, children)) for root in roots)


def _members(root: Exercise, children: Mapping[str, Sequence[Exercise]]) -> Iterator[Member]:
    """A root and everything under it, however deep: a child comes before its younger brothers and sisters."""
    waiting = [Member(root, ())]
    while waiting:
        member = waiting.pop()
        yield member
        below = children.get(member.exercise.id, ())
        waiting += [Member(child, (*member.lines, child is not below[-1])) for child in reversed(below)]


def _step(tree: Sequence[Member], setting: Setting) -> float:
    """How far each generation of a tree moves in, in points."""
    generations = max(len(member.lines) for member in tree)
    return min(points(_STEP), setting.text_width * _TREE_SHARE / max(1, generations))


def _row(member: Member, step: float, pages: Mapping[str, int], setting: Setting) -> Piece:
    style = setting.style
    look = Look(setting.text, style.type.instruction + 0.25, setting.unit * 5, style.greys.text)
    strong, font = setting.letters.strong, setting.letters.regular
    number, page = member.exercise.number, str(pages.get(member.exercise.id, ""))
    left = step * len(member.lines)
    words = left + max(width_of(number, strong, look.size), width_of("0.00", strong, look.size)) + look.size
    y = look.leading - look.size * 0.3
    lines = title_lines(member.exercise.title, look, setting.text_width - words - points(_ROOM_FOR_PAGE))
    marks: list[Mark] = [Words(left, y, number, strong, look.size, look.ink)]
    for index, line in enumerate(lines):
        marks += line.marks(words, y + index * look.leading)
    right = setting.text_width - width_of(page, font, look.size)
    marks.append(Words(right, y, page, font, look.size, style.greys.quiet))
    height = len(lines) * look.leading
    marks += _branches(member, step, y - look.size * 0.3, height, setting)
    marks.append(Link(left, 0, setting.text_width, height, member.exercise.id))
    return Piece(height, tuple(marks), reluctance=1.0)


def _branches(member: Member, step: float, middle: float, height: float, setting: Setting) -> Iterator[Mark]:
    """The lines that lead down from older exercises, and the one that turns off to this one."""
    ink = setting.style.greys.rule
    for generation, goes_on in enumerate(member.lines):
        x = step * (generation + 0.35)
        is_own = generation == len(member.lines) - 1
        if is_own:
            yield Rule(x, middle, step * (generation + 0.8), middle, 0.6, ink)
        if goes_on or is_own:
            yield Rule(x, 0, x, height if goes_on else middle, 0.6, ink)
