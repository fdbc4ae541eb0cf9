"""The key of signs at the foot of a handout: what is on that sheet, in a few words each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from ..compose.book import Exercise
from ..compose.engraving import Engraving, SoundSpecimen, StrokeSpecimen
from ..compose.sheet import Sheet
from ..pattern.stroke import Dynamic
from .changes import change_marks
from .faces import cap_height, width_of
from .lines import Letter, counting_letters
from .marks import Begins, Mark, Role, Words, moved
from .rows import LIMB_WORDS, Figure, limbs_of, music_figure
from .setting import Setting

_MOST_LINES = 3
_SCALE = 0.56
"""Its staves against those of the exercises: as small as cues are set; common practice, no source."""

_TO_WORDS, _TO_NEXT, _TO_LINE = 0.45, 1.5, 0.45
"""Ems from a figure to its words, from there to the next figure, and from line to line at least."""

_PLAIN = StrokeSpecimen(Dynamic.PLAIN.value)


@dataclass(frozen=True, slots=True)
class _Sample:
    """A sign as it is printed, how wide it is, and what it means."""

    figure: Figure
    width: float
    words: str


@dataclass(frozen=True, slots=True)
class SignKey:
    """The key's marks from its top left corner, and its height."""

    marks: tuple[Mark, ...]
    height: float


def sign_key(sheet: Sheet, room: float, setting: Setting) -> SignKey | None:
    """What explains the signs of a sheet: its letters, sounds and signs, in a few lines no taller than `room`.

    Where not all of it fits, what any teacher of notes explains is left out first, and then the sounds; None
    where there is no room for the others either.
    """
    letters, sounds = tuple(_letters(sheet.exercises, setting)), tuple(_sounds(sheet, setting))
    strokes, signs = tuple(_strokes(sheet, setting)), tuple(_signs(sheet, setting))
    ways = ((*letters, *sounds, *strokes, *signs), (*letters, *sounds, *strokes), (*letters, *strokes))
    keys = (_set(samples, setting) for samples in ways)
    return next((key for key in keys if key and key.height <= room), None)


def _letters(exercises: Sequence[Exercise], setting: Setting) -> Iterator[_Sample]:
    """Who plays, and what is counted without being played."""
    style = setting.style
    if style.lines.sticking != "none":
        for limb in limbs_of(exercises):
            letter = Letter(
                0, style.letters.of(limb), setting.letters.strong, style.type.sticking, style.greys.text
            )
            yield _of_letter(letter, setting.words[f"limbs.{LIMB_WORDS[limb]}"])
    if style.lines.counting != "none" and style.greys.silent != style.greys.text:
        counts = counting_letters((bar for one in exercises for bar in one.pattern.every_bar), setting)
        silent = next((one for one in counts if one.ink == style.greys.silent and one.text != "."), None)
        if silent:
            yield _of_letter(silent, setting.words["pages.sheet.key.silent"])


def _sounds(sheet: Sheet, setting: Setting) -> Iterator[_Sample]:
    """From the highest on the staff to the lowest."""
    sounds = [one for one in sheet.specimens if isinstance(one, SoundSpecimen)]
    for specimen in sorted(sounds, key=lambda one: (-one.sound.place, one.sound.name)):
        yield _of_music(specimen, setting.words[f"sounds.{specimen.sound.name}"], setting)


def _strokes(sheet: Sheet, setting: Setting) -> Iterator[_Sample]:
    """How strokes are played, and the marks of what changed."""
    style = setting.style
    for specimen in sheet.specimens:
        if isinstance(specimen, StrokeSpecimen) and specimen != _PLAIN:
            yield _of_music(specimen, setting.words[f"pages.sheet.key.{specimen.kind}"], setting)
    if style.lines.counting != "none" and style.exercises.changes != "none":
        changed = next((one for one in sheet.exercises if one.changed), None)
        if changed:
            yield _of_change(changed, setting)


def _signs(sheet: Sheet, setting: Setting) -> Iterator[_Sample]:
    """What else stands on a staff."""
    for sign in sheet.signs:
        if sign.kind != "same-bar" or setting.style.staff.repeated_bars:
            yield _of_music(sign.system, setting.words[f"pages.sheet.key.{sign.kind}"], setting)


def _of_letter(letter: Letter, words: str) -> _Sample:
    cap = letter.size * cap_height(letter.font)
    return _Sample(Figure((letter.mark(letter.width / 2, cap, 1.0),), cap, cap / 2), letter.width, words)


def _of_music(specimen: Engraving, words: str, setting: Setting) -> _Sample:
    left, _, right, _ = setting.blocks[specimen].ink
    return _Sample(music_figure(specimen, _SCALE, setting), (right - left) * _SCALE, words)


def _of_change(exercise: Exercise, setting: Setting) -> _Sample:
    """The count of the first note that differs from the exercise it grew out of, marked."""
    letter = counting_letters(exercise.pattern.bars, setting, lit=True)[exercise.changed[0]]
    cap = letter.size * cap_height(letter.font)
    reach = max(letter.width, letter.size)
    middles = (reach / 2, 1.5 * reach)
    changes, foot = change_marks(middles[:1], middles, 0.0, cap, setting)
    marks = (*changes, letter.mark(middles[0], cap, 1.0))
    return _Sample(Figure(marks, foot, cap / 2), reach, setting.words["pages.sheet.key.changed"])


def _set(samples: Sequence[_Sample], setting: Setting) -> SignKey | None:
    """Samples in lines beside the key's title; None where these are too many or a sample is longer than a line."""
    font, size, greys = setting.letters.regular, setting.style.type.small, setting.style.greys
    title, cap = setting.words["pages.sheet.key.title"], size * cap_height(font)
    indent = width_of(title, font, size) + _TO_NEXT * size
    lines = _broken(samples, setting.measure - indent, setting)
    if not 0 < len(lines) <= _MOST_LINES:
        return None
    marks: list[Mark] = [Begins(Role.TEXT)]
    bottom = 0.0
    for number, line in enumerate(lines):
        middle = bottom + max(cap / 2, *(one.figure.middle for one in line)) + (_TO_LINE * size if number else 0.0)
        if not number:
            marks.append(Words(0, middle + cap / 2, title, font, size, greys.quiet))
        x = indent
        for one in line:
            marks += moved(one.figure.marks, x, middle - one.figure.middle)
            x += one.width + _TO_WORDS * size
            marks.append(Words(x, middle + cap / 2, one.words, font, size, greys.text))
            x += width_of(one.words, font, size) + _TO_NEXT * size
        bottom = middle + max(size - cap / 2, *(one.figure.height - one.figure.middle for one in line))
    return SignKey(tuple(marks), bottom)


def _broken(samples: Iterable[_Sample], measure: float, setting: Setting) -> list[list[_Sample]]:
    """Samples in lines, each as full as it can be; none where a sample is longer than a line."""
    font, size = setting.letters.regular, setting.style.type.small
    lines: list[list[_Sample]] = []
    used = measure
    for sample in samples:
        width = sample.width + _TO_WORDS * size + width_of(sample.words, font, size)
        if width > measure:
            return []
        used += _TO_NEXT * size + width
        if used > measure:
            lines.append([])
            used = width
        lines[-1].append(sample)
    return lines
