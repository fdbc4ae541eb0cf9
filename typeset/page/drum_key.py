"""The drum key: every sound of the book on a staff of its own, drawn from the table of sounds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache

from ..compose.book import Book
from ..compose.engraving import SoundSpecimen
from ..wording.markup import Span
from .breaking import Piece, break_pages
from .flow import body_look, kept, text_pieces, title_piece
from .kit.picture import kit_picture
from .leaf import Section
from .marks import Begins, Mark, Music, Role
from .paragraph import Look, lines_of, words_of
from .setting import Setting, points
from .system import reach_of

DRUM_KEY = "page drum-key"
_COLUMN_GAP = 8.0
_FEWEST_COLUMNS = 4

_LARGE_TO_SMALL = ((1.9, 1.35, 4), (1.65, 1.35, 4), (1.65, 1.25, 6), (1.4, 1.05, 6))
"""Points for a centimetre of the picture, the scale of staves, and their most columns; smaller to save a page."""


def drum_key(book: Book, setting: Setting) -> Section:
    """The sounds that the book uses: where they are on the kit, and from the highest to the lowest on the staff."""
    title = setting.words["pages.drum-key.title"]
    player = setting.words[f"pages.drum-key.player.{'left' if book.mirrored else 'right'}"]
    intro = text_pieces(setting.words["pages.drum-key.intro"], body_look(setting), setting, {"player": player})
    sounds = [one for one in book.specimens if isinstance(one, SoundSpecimen)]
    sounds.sort(key=lambda one: (-one.sound.place, one.sound.name))
    opening = (title_piece(title, DRUM_KEY, setting), *kept(intro), Piece(setting.unit * 5, (), keeps=True))

    @cache
    def way(largest: float, scale: float, columns: int) -> tuple[Piece, ...]:
        return (*opening, *kit_picture(book, largest, setting), *_grid(sounds, scale, columns, setting))

    def pages(pieces: tuple[Piece, ...]) -> int:
        return len(break_pages(pieces, setting.depth))

    large = way(*_LARGE_TO_SMALL[0])
    if pages(large) == 1:
        return Section(title, large)
    fewest = pages(way(*_LARGE_TO_SMALL[-1]))
    return Section(title, next(way(*one) for one in _LARGE_TO_SMALL if pages(way(*one)) <= fewest))


def _grid(sounds: Sequence[SoundSpecimen], scale: float, most: int, setting: Setting) -> Iterator[Piece]:
    if not sounds:
        return
    gap = points(_COLUMN_GAP)
    widest = scale * max(block.right - block.left for block in (setting.blocks[one] for one in sounds))
    fitting = max(1, min(most, int((setting.measure + gap) / (widest + gap))))
    rows = -(-len(sounds) // fitting)
    columns = -(-len(sounds) // rows)
    width = (setting.measure + gap) / max(columns, min(fitting, _FEWEST_COLUMNS))
    for start in range(0, len(sounds), columns):
        yield _grid_row(sounds[start : start + columns], scale, width, setting)


def _grid_row(sounds: Sequence[SoundSpecimen], scale: float, width: float, setting: Setting) -> Piece:
    style = setting.style
    size = style.type.instruction
    look = Look(setting.letters, size, size * 1.2, style.greys.text, setting.hyphened)
    gap = points(_COLUMN_GAP)
    reach = reach_of(sounds, setting)
    above, below = reach.above * scale, reach.below * scale
    marks: list[Mark] = []
    height = 0.0
    for column, sound in enumerate(sounds):
        block = setting.blocks[sound]
        x = column * width
        staff_foot = above + (block.top - block.bottom) * scale
        marks.append(Begins(Role.TEXT))
        marks.append(Music(x - block.left * scale, staff_foot + block.bottom * scale, sound, scale))
        y = staff_foot + max(below, points(1.5)) + look.size * 1.3
        name = [Span(setting.words[f"sounds.{sound.sound.name}"])]
        for line in lines_of(words_of(name, look), width - gap):
            marks += line.marks(x, y)
            y += look.leading
        height = max(height, y - look.leading + look.size * 0.3)
    return Piece(setting.rounded(height), tuple(marks), setting.unit * 5, setting.unit * 3)
