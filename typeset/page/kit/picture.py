"""The picture of a book's kit: its instruments from above, and round them what they are called."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from ...compose.book import Book
from ...pattern.limb import Limb
from ...pattern.sound import SOUNDS
from ...wording.markup import Span
from ..breaking import Piece
from ..faces import cap_height, width_of
from ..marks import Begins, Curve, Dot, Mark, Point, Role, Rule, Words, moved
from ..paragraph import Line, Look, lines_of, words_of
from ..setting import Setting, points
from .instruments import SEAT, instruments_of, seat
from .labels import Frame, Label, Placed, placed_again, placed_labels
from .parts import Instrument

_LABEL_SHARE = 0.27
"""The most of the measure that names take on either side."""

_AIR = 4.0
"""Millimetres between the names and the picture."""

_GAP = 0.8
"""White between two names, in their size."""

_ACROSS_SEAT = 1.55
"""The longest name of the seat that stands in it, in its radius."""

_END, _OFF, _HALO = 1.3, 1.5, 1.3
"""Points: a leader's dot, how far from a name it begins, and the white on either side of it."""


@dataclass(frozen=True, slots=True)
class View:
    """How the kit's centimetres become points: the left and the far end of what is drawn, and the scale."""

    left: float
    far: float
    scale: float

    def point(self, at: Point) -> Point:
        """A place on the paper, y downwards."""
        return (at[0] - self.left) * self.scale, (self.far - at[1]) * self.scale

    def curve(self, curve: Curve) -> Curve:
        """A line on the paper, as thick as before."""
        return Curve(tuple(map(self.point, curve.points)), curve.thickness, curve.ink, curve.fill)


@dataclass(frozen=True, slots=True)
class _Name:
    """What stands beside a leader: one line or more for each sound of one place."""

    lines: tuple[Line, ...]
    ends: tuple[Point, ...]
    instrument: Instrument

    @property
    def width(self) -> float:
        return max(line.width for line in self.lines)


def kit_picture(book: Book, largest: float, setting: Setting) -> tuple[Piece, ...]:
    """As much of the kit as the book uses, a centimetre of it `largest` points or less."""
    limbs = _limbs(book)
    instruments = instruments_of(book.kit, limbs)
    if not instruments:
        return ()
    look = _look(setting)
    names = [
        _Name(_lines(sounds, limbs, look, setting), ends, instrument)
        for instrument in instruments
        for sounds, ends in instrument.places
    ]
    shapes = [*seat(), *(curve for instrument in instruments for curve in instrument.shape)]
    layout = _laid_out(names, instruments, shapes, largest, setting)
    marks: list[Mark] = [Begins(Role.FIGURE, says=setting.words["pages.drum-key.picture"])]
    marks += moved(map(layout.view.curve, shapes), layout.left, layout.top)
    marks += [mark for one in layout.placed for mark in _leader(one, layout, setting)]
    words, foot = _seat_words(layout, setting)
    marks += words
    for name, one in zip(names, layout.placed, strict=True):
        words, end = _name_words(name, one, layout, look)
        marks += words
        foot = max(foot, end)
    return (Piece(setting.rounded(foot), tuple(marks), setting.unit * 6, setting.unit * 4, keeps=True),)


@dataclass(frozen=True, slots=True)
class _Layout:
    """The picture's left and upper end, width and height, and the names round it, measured from there."""

    view: View
    left: float
    top: float
    width: float
    height: float
    placed: tuple[Placed, ...]


def _laid_out(
    names: Sequence[_Name],
    instruments: Sequence[Instrument],
    shapes: Sequence[Curve],
    largest: float,
    setting: Setting,
) -> _Layout:
    """The picture between its names: once it is known who stands where, it takes the room that they leave."""

    look = _look(setting)

    def tried(left: float, right: float) -> tuple[View, list[Label], Frame]:
        view, width, height = _view(shapes, setting.measure - left - right, largest)
        labels = [_label(name, instruments, view, look) for name in names]
        return view, labels, Frame(width, height, look.size * _GAP)

    air = points(_AIR)
    widest = max(name.width for name in names) + air
    _, labels, frame = tried(widest, widest)
    placed = placed_labels(labels, frame)
    at_left, at_right = (
        max((name.width + air for name, one in zip(names, placed, strict=True) if one.at_left is side), default=0.0)
        for side in (True, False)
    )
    view, labels, frame = tried(at_left, at_right)
    left = at_left + (setting.measure - at_left - frame.width - at_right) / 2
    placed = placed_again(labels, frame, placed)
    return _Layout(view, left, -min(0.0, *(one.top for one in placed)), frame.width, frame.height, placed)


def _limbs(book: Book) -> dict[str, tuple[Limb, ...]]:
    """The sounds of a book with the limbs that play each there, in the order of the tables."""
    found: dict[str, set[Limb]] = {}
    for exercise in book.exercises:
        for stroke in exercise.pattern.strokes:
            found.setdefault(stroke.sound.name, set()).add(stroke.limb)
    return {name: tuple(limb for limb in Limb if limb in found[name]) for name in SOUNDS if name in found}


def _look(setting: Setting) -> Look:
    size = setting.style.type.instruction
    return Look(setting.letters, size, size * 1.2, setting.style.greys.text, setting.hyphened)


def _lines(
    sounds: Sequence[str], limbs: dict[str, tuple[Limb, ...]], look: Look, setting: Setting
) -> tuple[Line, ...]:
    """The sounds of one place, each on lines of its own, with the letters of the limbs that play it."""
    lines: list[Line] = []
    for sound in sounds:
        spans = [Span(setting.words[f"sounds.{sound}"])]
        if setting.style.lines.sticking != "none":
            letters = "\u00a0".join(setting.style.letters.of(limb) for limb in limbs[sound])
            spans.append(Span(f"\u00a0\u00a0{letters}", strong=True))
        lines += lines_of(words_of(spans, look), setting.measure * _LABEL_SHARE)
    return tuple(lines)


def _view(shapes: Iterable[Curve], room: float, largest: float) -> tuple[View, float, float]:
    """As large as it may be and the room's width allows; how wide and how tall the picture comes out."""
    every = [point for curve in shapes for point in curve.points]
    left, right = min(x for x, _ in every), max(x for x, _ in every)
    near, far = min(y for _, y in every), max(y for _, y in every)
    scale = min(largest, room / (right - left))
    return View(left, far, scale), (right - left) * scale, (far - near) * scale


def _label(name: _Name, instruments: Sequence[Instrument], view: View, look: Look) -> Label:
    """A name with the places where its leader may end: those that no higher instrument hides."""
    mine = name.instrument
    higher = [disc for one in instruments if one.height > mine.height for disc in one.covers]
    seen = [end for end in name.ends if not any(disc.holds(end, 1.5) for disc in higher)] or list(name.ends)
    others = [disc for one in instruments if one is not mine for disc in one.covers]
    cap = look.size * cap_height(look.cuts.regular)
    return Label(
        height=cap + (len(name.lines) - 1) * look.leading,
        middle=cap / 2,
        ends=tuple(map(view.point, seen)),
        crossed=tuple((view.point((disc.x, disc.y)), disc.radius * view.scale) for disc in others),
    )


def _seat_words(layout: _Layout, setting: Setting) -> tuple[list[Mark], float]:
    """The name of the seat, in it where it has room, else below, and where the picture ends."""
    style = setting.style
    words, font, size = setting.words["pages.drum-key.seat"], setting.text.italic, style.type.small
    width = width_of(words, font, size)
    x, y = layout.view.point((SEAT.x, SEAT.y))
    radius = SEAT.radius * layout.view.scale
    is_inside = width < radius * _ACROSS_SEAT
    y += layout.top + (size * 0.28 if is_inside else radius + size * 1.1)
    place = Words(layout.left + x - width / 2, y, words, font, size, style.greys.quiet)
    return [Begins(Role.TEXT), place], max(layout.top + layout.height, y + size * 0.25)


def _name_words(name: _Name, placed: Placed, layout: _Layout, look: Look) -> tuple[list[Mark], float]:
    """A name, ranged towards the picture, and where it ends."""
    marks: list[Mark] = [Begins(Role.TEXT)]
    y = layout.top + placed.top + look.size * cap_height(look.cuts.regular)
    air = points(_AIR)
    for line in name.lines:
        x = layout.left - air - line.width if placed.at_left else layout.left + layout.width + air
        marks += line.marks(x, y)
        y += look.leading
    return marks, y - look.leading + look.size * 0.25


def _leader(placed: Placed, layout: _Layout, setting: Setting) -> Iterator[Mark]:
    """A thin line from a name to a dot on what it names, with white beside it where it runs over lines."""
    (x0, y0), (x1, y1) = placed.start, placed.end
    outside = points(_AIR) - _OFF
    x0 += layout.left + (-outside if placed.at_left else outside)
    x1 += layout.left
    y0, y1 = y0 + layout.top, y1 + layout.top
    ink = setting.style.greys.text
    yield Rule(x0, y0, x1, y1, 2 * _HALO, 0)
    yield Rule(x0, y0, x1, y1, 0.45, ink)
    yield Dot(x1, y1, _END + _HALO * 0.6, 0)
    yield Dot(x1, y1, _END, ink)
