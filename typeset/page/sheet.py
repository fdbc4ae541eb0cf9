"""Handouts: a head with lines to fill in, the exercises, ruled lines in what is left, and a key of the signs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache, partial

from ..compose.engraving import Engraving
from ..compose.sheet import Sheet
from ..engrave.block import Block
from ..style.model import Style
from ..wording import wording
from ..wording.markup import one_line
from .breaking import Piece, break_pages, shares_of, spread
from .chapter import ExerciseSetter, item_pieces
from .exercise import exercise_pieces
from .faces import cap_height, width_of
from .leaf import Leaf, Pageful, as_drawn, in_order
from .marks import Anchor, Entry, Link, Mark, Rule, Words, moved
from .pages import Pages
from .paragraph import Look, title_lines
from .plates import pages_of
from .refusals import DoesNotFit
from .setting import Setting, points
from .sign_key import sign_key

_FIELD = 9
"""Steps of the page's rhythm from one line of the head to the next: room to write by hand."""

_LEAST_NAME = 5.0
"""The smallest that a name is set, in points, to fit on its line."""

_NAME_SHARE = 0.62
"""How much of the measure the name's line takes."""

_CLOSER = 0.5
"""How much of the white between exercises has to stay."""

_OVER_KEY = 0.5
"""How much of it stands over the key at least."""

_NOTE = 6
"""Steps of the page's rhythm from one line for notes to the next,"""

_FEWEST_NOTES = 2
"""and how many of them there are at least; where there is less room there are none."""


def lay_out_sheets(
    sheets: Sequence[Sheet], style: Style, blocks: Mapping[Engraving, Block], two_sided: bool = False
) -> Pages:
    """Set handouts one after the other; when they are printed `two_sided`, each on paper of its own.

    `blocks` holds a block for each of their engravings. Raises DoesNotFit where something is wider or taller
    than its room, OutsideError where a typeface is missing.
    """
    setting = Setting(style, wording(sheets[0].language), blocks)
    return _one_after_another(sheets, _set(sheets, setting), setting, two_sided)


def lay_out_roster(
    sheets: Sequence[Sheet], style: Style, blocks: Mapping[Engraving, Block], two_sided: bool = False
) -> tuple[Pages, ...]:
    """Set handouts each by itself, and last all of them one after the other as `lay_out_sheets` does."""
    setting = Setting(style, wording(sheets[0].language), blocks)
    leaves = _set(sheets, setting)
    alone = (_one_after_another([one], [own], setting) for one, own in zip(sheets, leaves, strict=True))
    return (*alone, _one_after_another(sheets, leaves, setting, two_sided))


def _set(sheets: Sequence[Sheet], setting: Setting) -> tuple[tuple[Leaf, ...], ...]:
    """The pages of each sheet; an exercise that several of them print is set once, and a page is drawn once."""
    settings = {mirrored: replace(setting, mirrored=mirrored) for mirrored in (False, True)}
    setters = {mirrored: cache(partial(exercise_pieces, setting=one)) for mirrored, one in settings.items()}
    pages = (tuple(_leaves(one, settings[one.mirrored], setters[one.mirrored])) for one in sheets)
    return tuple(own if setting.is_cut else tuple(map(as_drawn, own)) for own in pages)


def _one_after_another(
    sheets: Sequence[Sheet], leaves: Sequence[Sequence[Leaf]], setting: Setting, two_sided: bool = False
) -> Pages:
    pagefuls = (Pageful(tuple(_own(own, number)), two_sided) for number, own in enumerate(leaves))
    return pages_of(sheets[0], in_order(pagefuls), setting)


def _leaves(sheet: Sheet, setting: Setting, set_exercises: ExerciseSetter) -> Iterator[Leaf]:
    """A sheet's pages; what is over goes to notes on its last one, and is not spread between exercises."""
    pages = _pages((_head(sheet, setting), *item_pieces(sheet.exercises, setting, set_exercises)), setting)
    shares = [*shares_of(pages, setting.depth)[:-1], 0.0]
    for index, pieces in enumerate(pages):
        tops = spread(pieces, shares[index], setting.unit)
        marks: list[Mark] = []
        for piece, top in zip(pieces, tops, strict=True):
            marks += moved(piece.marks, 0, top)
        if index == len(pages) - 1:
            marks += _foot(sheet, tops[-1] + pieces[-1].height, setting)
        marks += _edges(sheet, index, len(pages), setting)
        yield Leaf(tuple(marks), bare=True)


def _pages(pieces: Sequence[Piece], setting: Setting) -> Sequence[Sequence[Piece]]:
    """The pages of a sheet, its exercises closer together where that saves one."""
    head, *others = pieces
    closer = [replace(piece, after=setting.rounded(piece.after * _CLOSER)) for piece in others]
    ways = [break_pages(way, setting.depth) for way in (pieces, [head, *closer])]
    return min(ways, key=len)


def _own(leaves: Iterable[Leaf], number: int) -> Iterator[Leaf]:
    """Pages whose anchors and links are this sheet's alone, though others print the same exercises."""
    for leaf in leaves:
        links = tuple((_own_link(link, number), section) for link, section in leaf.drawn.links)
        places = tuple(_own_place(place, number) for place in leaf.drawn.places)
        marks = tuple(_own_mark(mark, number) for mark in leaf.marks)
        yield replace(leaf, marks=marks, drawn=leaf.drawn._replace(links=links, places=places))


def _own_mark(mark: Mark, number: int) -> Mark:
    if isinstance(mark, Anchor | Entry):
        return _own_place(mark, number)
    return _own_link(mark, number) if isinstance(mark, Link) else mark


def _own_place(place: Anchor | Entry, number: int) -> Anchor | Entry:
    return place._replace(name=f"{number} {place.name}") if isinstance(place, Anchor) else place


def _own_link(link: Link, number: int) -> Link:
    return link if link.outside else link._replace(to=f"{number} {link.to}")


def _head(sheet: Sheet, setting: Setting) -> Piece:
    """The title, and lines for the name, the date and the goal."""
    style, say = setting.style, setting.words
    size = style.type.chapter * 0.85
    look = Look(setting.light_text, size, size * 1.12, style.greys.text)
    marks: list[Mark] = [Entry(0, 0, one_line(sheet.name or sheet.title)), Anchor(0, "head")]
    y = size * cap_height(look.cuts.regular)
    for index, line in enumerate(title_lines(sheet.title, look, setting.measure)):
        marks += line.marks(-size * 0.03, y + index * look.leading)
        bottom = y + index * look.leading
    row = setting.unit * _FIELD
    y = setting.rounded(bottom) + row
    name_end = setting.measure * _NAME_SHARE
    marks += _field(say["pages.sheet.name"], one_line(sheet.name or ""), 0, name_end, y, setting)
    marks += _hand(sheet, name_end, y, setting)
    marks += _field(say["pages.sheet.date"], "", name_end + points(6), setting.measure, y, setting)
    marks += _field(say["pages.sheet.goal"], "", 0, setting.measure, y + row, setting)
    return Piece(setting.rounded(y + row), tuple(marks), setting.rounded(points(style.exercises.space)), keeps=True)


def _hand(sheet: Sheet, right: float, y: float, setting: Setting) -> Iterator[Mark]:
    """Whose hands the sheet is for, at the end of the name's line, where they are not the usual ones."""
    if sheet.mirrored:
        words, font = setting.words["pages.left-handed"], setting.letters.regular
        size = setting.style.type.small
        yield Words(right - width_of(words, font, size), y, words, font, size, setting.style.greys.quiet)


def _field(label: str, filled: str, left: float, right: float, y: float, setting: Setting) -> Iterator[Mark]:
    """A label and a line to write on, from `left` to `right` on the baseline y, or what stands there already."""
    style = setting.style
    font, small = setting.letters.regular, style.type.small
    yield Words(left, y, label, font, small, style.greys.quiet)
    start = left + width_of(label, font, small) + points(2)
    yield Rule(start, y + 2.5, right, y + 2.5, 0.5, style.greys.rule)
    if filled:
        width = width_of(filled, setting.text.regular, style.type.exercise)
        size = style.type.exercise * min(1.0, (right - start) / width)
        if size < _LEAST_NAME:
            raise DoesNotFit(f"'{filled[:40]}...' is longer than its line; write it shorter")
        yield Words(start, y, filled, setting.text.regular, size, style.greys.text)


def _foot(sheet: Sheet, bottom: float, setting: Setting) -> Iterator[Mark]:
    """What goes under the last exercise: the key of signs at the foot of the text block, notes down to that."""
    space = points(setting.style.exercises.space) * _OVER_KEY
    key = sign_key(sheet, setting.depth - bottom - space, setting)
    if key is None:
        yield from _notes(bottom, setting.depth, setting)
        return
    yield from _notes(bottom, setting.depth - setting.rounded(key.height + space), setting)
    yield from moved(key.marks, 0, setting.depth - key.height)


def _notes(bottom: float, foot: float, setting: Setting) -> Iterator[Mark]:
    """Ruled lines from under the last exercise to a foot."""
    style = setting.style
    step = setting.unit * _NOTE
    top = setting.rounded(bottom + points(style.exercises.space))
    count = int((foot - top) / step + 1e-6)
    if count < _FEWEST_NOTES:
        return
    first = foot - (count - 1) * step
    font, small = setting.letters.regular, style.type.small
    label = setting.words["pages.sheet.notes"]
    yield Words(0, first - 1.5, label, font, small, style.greys.quiet)
    for index in range(count):
        left = 0.0 if index else width_of(label, font, small) + points(2)
        y = first + index * step
        yield Rule(left, y, setting.measure, y, 0.5, style.greys.rule)


def _edges(sheet: Sheet, index: int, pages: int, setting: Setting) -> Iterator[Mark]:
    """Where the exercises come from at the foot, and on further pages whose they are at the head."""
    style = setting.style
    font, size, ink = setting.letters.regular, style.type.small, style.greys.quiet
    foot = points(style.paper.height - style.margins.top - style.running.foot)
    look = Look(setting.letters, size, size, ink)
    page = setting.words.say("pages.sheet.page", page=index + 1, pages=pages) if pages > 1 else ""
    right = setting.measure - width_of(page, font, size)
    source = setting.words.say("pages.sheet.source", book=one_line(sheet.source))
    yield from title_lines(source, look, right - points(4))[0].marks(0, foot)
    if page:
        yield Words(right, foot, page, font, size, ink)
    if index:
        head = points(style.running.head - style.margins.top)
        whose = ", ".join(filter(None, (sheet.title, sheet.name)))
        yield from title_lines(whose, look, setting.measure)[0].marks(0, head)
