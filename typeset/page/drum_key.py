"""The drum key: every sound of the book on a staff of its own, drawn from the table of sounds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..compose.book import Book, SoundSpecimen
from .breaking import Piece
from .flow import body_look, text_pieces, title_piece
from .leaf import Section
from .marks import Begins, Mark, Music, Role
from .markup import Span
from .paragraph import Look, lines_of, words_of
from .setting import Setting, points
from .system import reach_of

DRUM_KEY = "page drum-key"
_MOST_COLUMNS = 4
_COLUMN_GAP = 8.0
_SCALE = 1.35


def drum_key(book: Book, setting: Setting) -> Section:
    """The sounds that the book uses, from the highest place on the staff to the lowest."""
    title = setting.words["pages.drum-key.title"]
    intro = text_pieces(setting.words["pages.drum-key.intro"], body_look(setting), setting)
    sounds = [one for one in book.specimens if isinstance(one, SoundSpecimen)]
    sounds.sort(key=lambda one: (-one.sound.place, one.sound.name))
    space = Piece(setting.unit * 4, (), keeps=True)
    return Section(title, (title_piece(title, DRUM_KEY, setting), *intro, space, *_grid(sounds, setting)))


def _grid(sounds: Sequence[SoundSpecimen], setting: Setting) -> Iterator[Piece]:
    if not sounds:
        return
    gap = points(_COLUMN_GAP)
    widest = _SCALE * max(block.right - block.left for block in (setting.blocks[one] for one in sounds))
    columns = max(1, min(_MOST_COLUMNS, int((setting.measure + gap) / (widest + gap))))
    width = (setting.measure + gap) / columns
    reach = reach_of(sounds, setting)
    for start in range(0, len(sounds), columns):
        yield _grid_row(sounds[start : start + columns], width, reach.above * _SCALE, setting)


def _grid_row(sounds: Sequence[SoundSpecimen], width: float, above: float, setting: Setting) -> Piece:
    style = setting.style
    look = Look(setting.letters, style.type.instruction, style.type.instruction * 1.2, style.greys.text)
    gap = points(_COLUMN_GAP)
    below = reach_of(sounds, setting).below * _SCALE
    marks: list[Mark] = []
    height = 0.0
    for column, sound in enumerate(sounds):
        block = setting.blocks[sound]
        x = column * width
        staff_foot = above + (block.top - block.bottom) * _SCALE
        marks.append(Begins(Role.TEXT))
        marks.append(Music(x - block.left * _SCALE, staff_foot + block.bottom * _SCALE, sound, _SCALE))
        y = staff_foot + max(below, points(1.5)) + look.size * 1.3
        name = [Span(setting.words[f"sounds.{sound.sound.name}"])]
        for line in lines_of(words_of(name, look), width - gap):
            marks += line.marks(x, y)
            y += look.leading
        height = max(height, y - look.leading + look.size * 0.3)
    return Piece(setting.rounded(height), tuple(marks), setting.unit * 5, setting.unit * 3)
