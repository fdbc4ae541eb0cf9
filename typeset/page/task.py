"""Tasks as pieces of a page: what is asked, the music with room to write, and the answer where it belongs."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import zip_longest

from ..compose.book import Exercise, Task
from ..compose.engraving import System
from ..wording.markup import plain, spans
from .aside import aside, label_part, note_part, words_part
from .breaking import Piece
from .changes import changes_by_system
from .exercise import has_columns, head_gap, is_half, with_words
from .faces import cap_height, width_of
from .flow import small_look
from .head import NUMBER_GAP
from .lines import Kind
from .marks import Anchor, Begins, Mark, Role, Words, scaled
from .paragraph import Look, title_lines
from .setting import Setting, points
from .stack import Part, pile, stacked
from .system import Reach, Wanted, reach_of, system_box
from .texts import called

_PENCIL = {"find-the-accents": (4.0, 0.0), "write-the-notes": (9.0, 2.0)}
"""Millimetres over and under the staff for what is written there."""

_FALL = 0.26
"""Ems that a title's descenders reach under its baseline."""

_COMPARED = 3.0
"""Millimetres between two systems that are compared."""


def anchor_of_task(task: Task) -> str:
    """The name that links lead to; no id has a space in it."""
    return f"task {task.number}"


def task_pieces(task: Task, setting: Setting) -> tuple[Piece, ...]:
    """A task as one piece, or as several when it is taller than a page."""
    parts = _asked(task, setting)
    if task.is_inline:
        label = label_part(setting.words["pages.answers.one"], setting)
        parts.append(aside([label, *answer_parts(task, setting)], setting.unit * 2, setting))
    note = note_part(task.note, setting.measure, setting)
    if note:
        parts.append(note)
    return stacked(_named(task), parts, points(setting.style.exercises.systems), setting)


def _asked(task: Task, setting: Setting) -> list[Part]:
    """What is asked, and the systems to write on; on half a line the words stand beside them."""
    first, *others = _systems(task, setting)
    title, asks = _title(task, setting), spans(setting.sided(task.asks))
    look = small_look(setting)
    if others or not has_columns(setting) or not all(is_half(systems, setting) for systems in task.asked):
        head = title.over(words_part(asks, look, setting.text_width), look.size * 0.3)
        return [head.over(first, head_gap(setting)), *others]
    column = (setting.measure - points(setting.style.spacing.gap)) / 2
    pencil, _ = _PENCIL.get(task.kind, (0.0, 0.0))
    return [with_words(title, first, [words_part(asks, look, column)], points(pencil), setting)]


def _asked_line(task: Task) -> Kind | None:
    """The line under the staff that is asked for, and so not given."""
    if not task.shows_sticking:
        return "sticking"
    return None if task.shows_counts else "counting"


def task_words(task: Task, setting: Setting) -> str:
    """What a task is called: `Task 3`."""
    return setting.words.say("exercise.task", number=task.number)


def answer_parts(task: Task, setting: Setting) -> Iterator[Part]:
    """What is right: the music in small with the line that was asked for, and what there is to say."""
    exercise = task.of[-1]
    reach = reach_of(exercise.systems, setting)
    scale = setting.style.exercises.answers
    needed = _asked_line(task)
    changes = changes_by_system(exercise.systems, tuple(_differing(task)))
    for system, changed in zip(exercise.systems, changes, strict=True):
        wanted = Wanted(needed=needed, changed=changed)
        part = system_box(system, reach, setting.measure, _named(task), setting, wanted).part
        yield Part(scaled(part.marks, scale), part.height * scale)
    look = small_look(setting)
    said = [
        words_part(plain(sentence), look, setting.text_width)
        for sentence in (*task.answer, *filter(None, [task.accepts]))
    ]
    if said:
        yield pile(said, look.leading - look.size)


def _differing(task: Task) -> Iterator[int]:
    """The slots, from 0, in which two exercises that are compared differ."""
    if len(task.of) > 1:
        slots = zip(*(exercise.pattern.slots for exercise in task.of), strict=True)
        yield from (index for index, (before, after) in enumerate(slots) if before != after)


def _named(task: Task) -> str:
    """What messages call a task."""
    return f"task {task.number} ({task.kind} of {', '.join(called(one) for one in task.of)})"


def _title(task: Task, setting: Setting) -> Part:
    """Number and title."""
    style = setting.style
    font, size = setting.letters.strong, style.type.exercise
    look = Look(setting.text, size, size * 1.18, style.greys.text)
    baseline = size * cap_height(setting.text.strong) + 1
    number = task_words(task, setting)
    left = width_of(number, font, size) + size * 0.7
    lines = title_lines(task.title, look, setting.measure - left, strong=True)
    marks: list[Mark] = [Anchor(baseline - size, anchor_of_task(task))]
    marks.append(Begins(Role.SUBHEADING))
    marks.append(Words(0, baseline, number, font, size, style.greys.quiet))
    for index, line in enumerate(lines):
        marks += line.marks(left, baseline + index * look.leading)
    return Part(tuple(marks), baseline + (len(lines) - 1) * look.leading + size * _FALL)


def _systems(task: Task, setting: Setting) -> Iterator[Part]:
    """The systems to write on; two exercises that are compared stand line over line."""
    over, under = _PENCIL.get(task.kind, (0.0, 0.0))
    reach = reach_of([system for systems in task.asked for system in systems], setting)
    reach = Reach(reach.above + points(over), reach.below + points(under))
    if len(task.asked) == 1:
        yield from (_box(task, system, reach, setting) for system in task.asked[0])
        return
    for systems in zip_longest(*task.asked):
        group: Part | None = None
        for exercise, system in zip(task.of, systems, strict=True):
            if system is not None:
                box = _box(task, system, reach, setting, exercise)
                group = group.over(box, points(_COMPARED)) if group else box
        if group:
            yield group


def _box(task: Task, system: System, reach: Reach, setting: Setting, labelled: Exercise | None = None) -> Part:
    """A system with what the task gives, its exercise's number beside its staff where that must be told."""
    wanted = Wanted(asked=_asked_line(task))
    box = system_box(system, reach, setting.measure, _named(task), setting, wanted)
    if labelled is None:
        return box.part
    middle = dict(box.names)["staff"]
    label = _label(labelled.number, middle, box.staff, setting)
    return Part((*box.marks, label), box.height)


def _label(number: str, middle: float, staff: float, setting: Setting) -> Words:
    """In the margin where numbers hang there, else over the staff's left end."""
    style = setting.style
    font, size = setting.letters.strong, style.type.sticking
    if style.exercises.number == "hanging":
        x = -points(NUMBER_GAP) - width_of(number, font, size)
        return Words(x, middle + size * cap_height(font) / 2, number, font, size, style.greys.text)
    return Words(0, staff - size * 0.3, number, font, size, style.greys.text)
