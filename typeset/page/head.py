"""What stands over an exercise: number, title, tempo mark, where it came from, what to do."""

from __future__ import annotations

from collections.abc import Sequence

from ..compose.book import Exercise
from ..compose.engraving import NoteSpecimen
from ..pattern.grid import QUARTER
from ..pattern.tempo import Tempo
from ..wording.markup import Span, one_line, plain, spans
from .faces import cap_height, width_of
from .flow import small_look
from .marks import Anchor, Begins, Entry, Link, Mark, Music, Role, Words, moved
from .paragraph import Look, lines_of, title_lines, words_of
from .setting import Setting, points
from .stack import Part

NUMBER_GAP = 2.9
"""Millimetres between a hanging number and the music."""

_MOST_BESIDE = 2
"""The most lines of a title beside its tempo; under one that would take more the tempo has a line of its own."""

_NOTE_RISE = 0.72
"""The height of a tempo mark's note over that of its figures' capitals, as it is scaled."""

_FALL = 0.26
"""Ems that descenders reach under their baseline."""


def head_box(exercise: Exercise, staff: float, room: float, setting: Setting, *, inside: bool = False) -> Part:
    """A head over a staff of that length, in a frame as wide as `room`, both in points.

    Where it stands `inside` of the measure, beside another, no number hangs in the white between them.
    Its sentences run on past the end of a short staff. Its height ends at the last line's descenders.
    """
    marks, bottom = _title(exercise, staff, room, setting, inside=inside)
    look = small_look(setting)
    told, rows = _told(exercise, min(room, setting.text_width), setting)
    if rows:
        bottom += look.leading * 1.06
        marks += moved(told, 0, bottom)
        bottom += (rows - 1) * look.leading
    return Part(tuple(marks), bottom + look.size * _FALL)


def title_box(exercise: Exercise, staff: float, room: float, setting: Setting) -> Part:
    """A head whose sentences stand elsewhere."""
    marks, bottom = _title(exercise, staff, room, setting, inside=False)
    return Part(tuple(marks), bottom + setting.style.type.exercise * _FALL)


def told_box(exercise: Exercise, width: float, setting: Setting) -> Part:
    """The sentences of a head alone, from the top of their capitals to their descenders."""
    look = small_look(setting)
    told, rows = _told(exercise, width, setting)
    rise = look.size * cap_height(look.cuts.regular)
    height = rise + (rows - 1) * look.leading + look.size * _FALL if rows else 0.0
    return Part((Begins(Role.TEXT), *moved(told, 0, rise)), height)


def _title(
    exercise: Exercise, staff: float, room: float, setting: Setting, *, inside: bool
) -> tuple[list[Mark], float]:
    """Number, title and tempo, and the baseline of the title's last line."""
    style = setting.style
    size = style.type.exercise
    baseline = size * cap_height(setting.text.strong) + 1
    hangs = style.exercises.number == "hanging" and not inside
    inline = [] if hangs else _inline_number(exercise, setting)
    tempo = _tempo_row(exercise, setting, with_level=not hangs)
    tempo_width = _width(tempo)
    look = Look(setting.text, size, size * 1.18, style.greys.text, setting.hyphened)
    left = _width(inline) + (size * 0.6 if inline else 0.0)
    beside = room - left - (tempo_width + points(5) if tempo else 0)
    lines = title_lines(exercise.title, look, beside, strong=True)
    goes_under = bool(tempo) and len(lines) > _MOST_BESIDE
    if goes_under:
        lines = title_lines(exercise.title, look, room - left, strong=True)
    marks: list[Mark] = [Anchor(baseline - size, exercise.id)]
    marks.append(Entry(baseline - size, 1, f"{exercise.number}  {one_line(exercise.title)}"))
    marks.append(Begins(Role.SUBHEADING))
    marks += moved(inline, 0, baseline)
    if hangs:
        marks += _hanging_number(exercise, baseline, setting)
    for index, line in enumerate(lines):
        marks += line.marks(left, baseline + index * look.leading)
    marks.append(Begins(Role.TEXT))
    bottom = baseline + (len(lines) - 1) * look.leading
    if goes_under:
        bottom += look.leading
        return [*marks, *moved(tempo, left, bottom)], bottom
    right = min(room, max(staff, left + max(line.width for line in lines) + points(5) + tempo_width))
    return [*marks, *moved(tempo, right - tempo_width, baseline)], bottom


def _hanging_number(exercise: Exercise, baseline: float, setting: Setting) -> list[Mark]:
    style = setting.style
    font, size = setting.letters.strong, style.type.exercise
    edge = -points(NUMBER_GAP)
    width = width_of(exercise.number, font, size)
    marks: list[Mark] = [Words(edge - width, baseline, exercise.number, font, size, style.greys.text)]
    if style.exercises.level:
        words = setting.words.say("exercise.level", level=exercise.level)
        small = style.type.small * 0.9
        width = width_of(words, setting.letters.regular, small)
        x, y = edge - width, baseline + style.type.leading * 0.9
        marks.append(Words(x, y, words, setting.letters.regular, small, style.greys.quiet))
    return marks


def _inline_number(exercise: Exercise, setting: Setting) -> list[Mark]:
    """The number before the title; from x 0 on baseline 0."""
    font, size = setting.letters.strong, setting.style.type.exercise
    return [Words(0, 0, exercise.number, font, size, setting.style.greys.text)]


def _width(marks: Sequence[Mark]) -> float:
    """How far a row of words that begins at 0 reaches."""
    ends = [0.0]
    for mark in marks:
        if isinstance(mark, Words):
            ends.append(mark.x + width_of(mark.words, mark.font, mark.size))
    return max(ends)


def _tempo_row(exercise: Exercise, setting: Setting, *, with_level: bool) -> list[Mark]:
    """Level where it has no place in the margin, feel, tempo, number of times: from x 0 on baseline 0."""
    marks: list[Mark] = []
    x = 0.0
    gap = points(3)
    font, size, ink = setting.letters.regular, setting.style.type.instruction, setting.style.greys.text
    if setting.style.exercises.level and with_level:
        words = setting.words.say("exercise.level", level=exercise.level)
        marks.append(Words(x, 0, words, font, size, setting.style.greys.quiet))
        x += width_of(words, font, size) + gap
    if f"exercise.{exercise.feel}" in setting.words:
        words = setting.words[f"exercise.{exercise.feel}"]
        marks.append(Words(x, 0, words, font, size, ink))
        x += width_of(words, font, size) + gap
    if exercise.tempo and setting.style.exercises.tempo:
        mark = tempo_mark(exercise, size, setting)
        marks += moved(mark, x)
        x += _width(mark) + gap
    if exercise.times:
        words = setting.words.count("exercise.times", exercise.times)
        marks.append(Words(x, 0, words, font, size, ink))
    return marks


def tempo_words(tempo: Tempo) -> str:
    """A tempo as it is printed: `60–100`."""
    return str(tempo.start) if tempo.start == tempo.goal else f"{tempo.start}–{tempo.goal}"


def tempo_mark(exercise: Exercise, size: float, setting: Setting) -> list[Mark]:
    """The note that is counted, and how many of it in a minute, from x 0 on baseline 0."""
    if exercise.tempo is None:
        return []
    note = NoteSpecimen(exercise.tempo_unit)
    block = setting.blocks[note]
    left, bottom, right, top = block.ink
    font = setting.letters.regular
    scale = size * cap_height(font) / _NOTE_RISE / (top - bottom)
    gap, ink = size * 0.24, setting.style.greys.text
    equals = (right - left) * scale + gap
    figures = equals + width_of("=", font, size) + gap
    return [
        Music(-left * scale, bottom * scale, note, scale),
        Words(equals, 0, "=", font, size, ink),
        Words(figures, 0, tempo_words(exercise.tempo), font, size, ink),
    ]


def _told(exercise: Exercise, width: float, setting: Setting) -> tuple[list[Mark], int]:
    """The exercise it grew out of, and what to do, the first line on baseline 0; and how many lines there are."""
    look = small_look(setting)
    label = _lineage(exercise, setting)
    first = _width(label) + (points(2.4) if label else 0)
    lines = lines_of(words_of(_instruction(exercise, setting), look), width, first)
    marks = list(label)
    for index, line in enumerate(lines):
        marks += line.marks(0 if index else first, index * look.leading)
    return marks, max(len(lines), 1 if label else 0)


def _instruction(exercise: Exercise, setting: Setting) -> tuple[Span, ...]:
    """What to do, as one paragraph: the author's words with their marks, or the steps' plain sentences."""
    words = " ".join(exercise.instruction)
    said = spans(setting.sided(words)) if exercise.said else plain(words)
    return (*said, *plain(f" {setting.words['exercise.fast']}")) if _is_fast(exercise, setting) else said


def _is_fast(exercise: Exercise, setting: Setting) -> bool:
    """True where the goal is faster than the style prints without a reminder to take care."""
    if exercise.tempo is None:
        return False
    quarters = exercise.tempo.goal * exercise.tempo_unit / QUARTER
    return quarters > setting.style.exercises.care_above


def _lineage(exercise: Exercise, setting: Setting) -> list[Mark]:
    """The label that names the parent and leads to it, from x 0 on baseline 0."""
    if not (exercise.parent and exercise.parent_number and setting.style.exercises.lineage):
        return []
    words = setting.words.say("exercise.from", number=exercise.parent_number)
    # A little smaller than the sentence it stands before, but never below the smallest of the style.
    font, size = setting.letters.regular, max(setting.style.type.small, setting.style.type.instruction * 0.9)
    width = width_of(words, font, size)
    return [
        Words(0, 0, words, font, size, setting.style.greys.quiet),
        Link(0, -size * 0.8, width, size * 0.25, exercise.parent),
    ]
