"""A chapter: its opening, and its texts, exercises and tasks in order."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from functools import partial

from ..compose.book import Chapter, Exercise, Item, Task, Text
from ..wording.markup import one_line
from .breaking import Piece
from .exercise import can_share, exercise_pieces
from .faces import cap_height
from .flow import body_look, intro_look, kept, text_pieces
from .leaf import Section
from .marks import Anchor, Begins, Entry, Mark, Role, Words
from .paragraph import Look, title_lines
from .setting import Setting, points
from .task import task_pieces

ExerciseSetter = Callable[[tuple[Exercise, ...]], tuple[Piece, ...]]
"""What sets exercises that share a line."""

_SHORT = 0.25
"""A text between exercises that takes less than this share of a page is not parted."""


def chapter_section(chapter: Chapter, setting: Setting) -> Section:
    """A chapter as a section of the book."""
    title = one_line(chapter.title)
    pieces = (*_opening(chapter, setting), *item_pieces(chapter.items, setting))
    return Section(title, pieces, on_right=setting.style.chapters.begins == "right-hand-page")


def anchor_of(chapter: Chapter) -> str:
    """The name that links lead to; no id has a space in it."""
    return f"chapter {chapter.number}"


def _opening(chapter: Chapter, setting: Setting) -> tuple[Piece, ...]:
    """Number, title and opening text, held together with what comes first.

    Where there is no room for that too, the text is not parted, so that the chapter's first page has all of it.
    """
    style = setting.style
    intro = text_pieces(chapter.intro, intro_look(setting), setting)
    space = points(style.exercises.space)
    title = _title(chapter, setting)
    if not intro and not one_line(chapter.title):
        return ()
    if not intro:
        return (replace(title, after=space, keeps=True),)
    return (title, *kept(intro[:-1]), replace(intro[-1], after=space, stretch=space / 2, keeps=True))


def _title(chapter: Chapter, setting: Setting) -> Piece:
    style = setting.style
    label = setting.words.say("pages.chapter", number=chapter.number)
    small = style.type.small + 1
    y = points(style.chapters.sink) + small
    marks: list[Mark] = [
        Anchor(0, anchor_of(chapter)),
        Entry(0, 0, f"{chapter.number}  {one_line(chapter.title)}"),
        Begins(Role.HEADING),
        Words(0, y, label, setting.letters.regular, small, style.greys.quiet),
    ]
    size = style.type.chapter
    cuts = setting.light_text
    look = Look(cuts, size, size * 1.12, style.greys.text)
    y += size * cap_height(cuts.regular) + points(3.6)
    for line in title_lines(chapter.title, look, setting.measure):
        marks += line.marks(-size * 0.03, y)
        y += look.leading
    return Piece(setting.rounded(y - look.leading + size * 0.42), tuple(marks), setting.unit * 3, keeps=True)


def item_pieces(
    items: Iterable[Item], setting: Setting, set_exercises: ExerciseSetter | None = None
) -> Iterator[Piece]:
    """Texts, exercises and tasks in order, exercises of one bar side by side.

    `set_exercises` may know exercises that it has set in this setting before.
    """
    items = list(items)
    set_exercises = set_exercises or partial(exercise_pieces, setting=setting)
    while items:
        item = items.pop(0)
        if isinstance(item, Text):
            yield from _between(item, setting, has_more=bool(items))
            continue
        if isinstance(item, Task):
            first, *rest = task_pieces(item, setting)
        else:
            follower = items[0] if items else None
            if isinstance(follower, Exercise) and can_share(item, follower, setting):
                items.pop(0)
                first, *rest = set_exercises((item, follower))
            else:
                first, *rest = set_exercises((item,))
        yield replace(first, starts_page=item.new_page)
        yield from rest


def _between(text: Text, setting: Setting, *, has_more: bool) -> Iterator[Piece]:
    """Text between exercises; it introduces what follows, so its end, or all of a short one, stays with that."""
    pieces = text_pieces(text.text, body_look(setting), setting)
    if pieces:
        is_short = sum(piece.height + piece.after for piece in pieces) <= _SHORT * setting.depth
        yield from kept(pieces[:-1]) if is_short else pieces[:-1]
        space = points(setting.style.exercises.space) * 0.8
        yield replace(pieces[-1], after=space, stretch=space / 2, keeps=has_more)
