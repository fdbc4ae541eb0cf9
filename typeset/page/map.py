"""The map of a curriculum on one page: books as columns, levels as height, exercises as dots, families joined."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise

from ..compose.curriculum import Curriculum
from ..wording.markup import one_line
from .breaking import Piece
from .faces import cap_height, width_of
from .leaf import Section
from .marks import Anchor, Dot, Entry, Mark, Rule, Words, moved
from .paragraph import Look, title_lines
from .setting import Setting, points
from .spots import AXIS, Column, Plot, Spot, columns_of, levels_of, radius_of, scale_of, spots_of

MAP = "page map"
_FEET = 16.0
"""Millimetres under the columns for chapters and terms."""

_CURVE_STEPS = 12


def curriculum_map(curriculum: Curriculum, setting: Setting) -> Section:
    """The map, which takes up the whole text block of one page."""
    title, below = _title(curriculum, setting)
    columns = columns_of(curriculum.volumes, setting)
    heads, top = _heads(columns, below, setting)
    legend = tuple(_legend(curriculum, setting))
    foot = min(mark.y for mark in legend if isinstance(mark, Words)) - setting.style.type.small
    plot = Plot(top, foot - points(_FEET) * scale_of(setting), levels_of(curriculum.volumes))
    marks: list[Mark] = [*title, *heads, *_grid(plot, columns, setting)]
    for column in columns:
        spots = spots_of(column, plot, setting)
        marks += _families(spots, plot, setting)
        for spot in spots:
            marks += _dot(spot, setting)
        marks += _chapters(column, plot, setting)
        marks += _terms(column, plot, curriculum, setting)
    marks += legend
    return Section(one_line(curriculum.title), (Piece(setting.depth, tuple(marks)),))


def _title(curriculum: Curriculum, setting: Setting) -> tuple[list[Mark], float]:
    """Title and subtitle, and where the page goes on under them."""
    style = setting.style
    size, ink = style.type.chapter * 0.85, style.greys.text
    look = Look(setting.light_text, size, size * 1.15, ink)
    marks: list[Mark] = [Anchor(0, MAP), Entry(0, 0, one_line(curriculum.title))]
    y = size * cap_height(setting.text.light)
    for line in title_lines(curriculum.title, look, setting.measure):
        marks += line.marks(0, y)
        y += look.leading
    y += style.type.leading - look.leading
    small = Look(setting.text, style.type.body, style.type.leading, style.greys.quiet)
    for line in title_lines(curriculum.subtitle or "", small, setting.measure):
        marks += line.marks(0, y + 2)
        y += small.leading
    return marks, y


def _heads(columns: Sequence[Column], y: float, setting: Setting) -> tuple[list[Mark], float]:
    """The books' titles over their columns, standing on one line, and where the columns begin."""
    style = setting.style
    look = Look(setting.text, style.type.instruction + 0.5, style.type.leading * 0.9, style.greys.text)
    titles = [title_lines(one.volume.book.title, look, one.width, strong=True) for one in columns]
    most = max(map(len, titles))
    marks: list[Mark] = []
    for column, lines in zip(columns, titles, strict=True):
        for index, line in enumerate(lines):
            marks += line.marks(column.left, y + (most - len(lines) + index + 1) * look.leading)
    return marks, y + most * look.leading + setting.unit * 1.5


def _grid(plot: Plot, columns: Sequence[Column], setting: Setting) -> Iterator[Mark]:
    """Lines between the levels of each book, and the levels' numbers on the left."""
    style = setting.style
    for level in range(plot.levels + 1):
        y = plot.bottom - level * plot.band
        for column in columns:
            yield Rule(column.left, y, column.left + column.width, y, 0.3, style.greys.rule * 0.8)
    size, font = style.type.small, setting.letters.strong
    for level in range(1, plot.levels + 1):
        x = (points(AXIS) - points(3.5)) * scale_of(setting) - width_of(str(level), font, size)
        yield Words(x, plot.middle(level) + size * 0.35, str(level), font, size, style.greys.text)
    yield Words(
        0, plot.top - 3, setting.words["pages.map.level"], setting.letters.regular, size - 1, style.greys.quiet
    )


def _families(spots: Sequence[Spot], plot: Plot, setting: Setting) -> Iterator[Mark]:
    """A curve from each exercise to every one that grew out of it."""
    by_id = {spot.exercise.id: spot for spot in spots}
    for child in spots:
        parent = by_id.get(child.exercise.parent or "")
        if parent:
            yield from _curve(parent, child, plot.band, setting.style.greys.quiet)


def _curve(parent: Spot, child: Spot, band: float, ink: float) -> Iterator[Rule]:
    """From one exercise to another: on one height as a slur; else up from the lower, and down upon the higher.

    So a curve keeps away from the numbers, which stand under their dots, and from the dots in between.
    """
    lower, higher = sorted((parent, child), key=lambda spot: -spot.y)
    is_level = lower.y - higher.y < band / 2
    x = (lower.x + higher.x) / 2 if is_level else lower.x
    y = higher.y - min(band / 2, 4 + 0.3 * abs(child.x - parent.x))
    yield from _bent((lower.x, lower.y), (x, y), (higher.x, higher.y), ink)


_Point = tuple[float, float]


def _bent(start: _Point, towards: _Point, end: _Point, ink: float) -> Iterator[Rule]:
    """A quadratic Bézier curve in short straight lines."""
    shares = [step / _CURVE_STEPS for step in range(_CURVE_STEPS + 1)]
    weights = [((1 - t) ** 2, 2 * t * (1 - t), t**2) for t in shares]
    xs, ys = ([a * start[axis] + b * towards[axis] + c * end[axis] for a, b, c in weights] for axis in (0, 1))
    for (x0, x1), (y0, y1) in zip(pairwise(xs), pairwise(ys), strict=True):
        yield Rule(x0, y0, x1, y1, 0.45, ink)


def _dot(spot: Spot, setting: Setting) -> Iterator[Mark]:
    """A dot, hollow where the curriculum leaves it out, with white round it, and its number."""
    greys, font = setting.style.greys, setting.letters.regular
    if spot.label:
        words = spot.exercise.number
        width, y = width_of(words, font, spot.label), spot.y + spot.radius + 0.5 + spot.label * 0.75
        middle = y - spot.label * 0.33
        yield Rule(spot.x - width / 2, middle, spot.x + width / 2, middle, spot.label * 0.8, 0)
        yield Words(spot.x - width / 2, y, words, font, spot.label, greys.text)
    yield Dot(spot.x, spot.y, spot.radius + 0.6, 0)
    if spot.is_practised:
        yield Dot(spot.x, spot.y, spot.radius, greys.text)
    else:
        yield from _ring(spot.x, spot.y, spot.radius, greys.text)


def _ring(x: float, y: float, radius: float, ink: float) -> Iterator[Mark]:
    """A hollow dot."""
    yield Dot(x, y, radius, ink)
    yield Dot(x, y, radius * 2 / 3, 0)


def _chapters(column: Column, plot: Plot, setting: Setting) -> Iterator[Mark]:
    """Under each chapter's dots a line and its number."""
    style = setting.style
    font, size = setting.letters.strong, style.type.small - 0.5
    y = plot.bottom + points(2) * scale_of(setting)
    for chapter, term, start, end in column.places():
        ink = style.greys.text if term else style.greys.silent
        inset = min(0.8, (end - start) / 4)
        yield Rule(start + inset, y, end - inset, y, 0.8, ink)
        words = str(chapter.number)
        x = (start + end - width_of(words, font, size)) / 2
        yield Words(x, y + size + 1, words, font, size, ink)


def _terms(column: Column, plot: Plot, curriculum: Curriculum, setting: Setting) -> Iterator[Mark]:
    """Under the chapters the terms that they belong to, where their titles have room, else the terms' numbers."""
    style = setting.style
    size = style.type.small - 1
    look = Look(setting.text, size, size * 1.1, style.greys.text)
    y = plot.bottom + points(6.5) * scale_of(setting)
    for term, places in groupby(column.places(), key=lambda place: place[1]):
        if term is None:
            continue
        chapters = list(places)
        start, end = chapters[0][2], chapters[-1][3]
        yield Rule(start, y, end, y, 0.4, style.greys.rule)
        title = curriculum.terms[term - 1].title
        lines = title_lines(title, look, max(end - start, size))
        longest = max(width_of(word, setting.text.regular, size) for word in one_line(title).split() or [""])
        if len(lines) > 2 or longest > end - start:
            lines = title_lines(str(term), look, setting.measure)
        for index, line in enumerate(lines):
            yield from line.marks((start + end - line.width) / 2, y + (index + 1) * look.leading + 1)


def _legend(curriculum: Curriculum, setting: Setting) -> Iterator[Mark]:
    """What dots, rings, curves and the lines under the columns mean, at the foot of the page."""
    style = setting.style
    size, font, ink = style.type.small, setting.text.regular, style.greys.text
    gap, room = points(5), setting.measure
    rows: list[list[Mark]] = [[]]
    x = 0.0
    for name, width, marks in _signs(curriculum, setting):
        words = setting.words[f"pages.map.{name}"]
        wide = width + size / 2 + width_of(words, font, size)
        if x and x + wide > room:
            rows.append([])
            x = 0.0
        rows[-1] += [*moved(marks, x), Words(x + width + size / 2, 0, words, font, size, ink)]
        x += wide + gap
    for number, row in enumerate(reversed(rows)):
        yield from moved(row, 0, setting.depth - setting.unit - number * size * 1.6)


def _signs(curriculum: Curriculum, setting: Setting) -> Iterator[tuple[str, float, tuple[Mark, ...]]]:
    """What the legend explains: its name, how wide its sign is, and the sign over a baseline."""
    greys, scale = setting.style.greys, scale_of(setting)
    radius, middle = radius_of(setting), -setting.style.type.small * 0.3
    yield "exercise", 2 * radius, (Dot(radius, middle, radius, greys.text),)
    if any(None in volume.terms for volume in curriculum.volumes):
        yield "left-out", 2 * radius, tuple(_ring(radius, middle, radius, greys.text))
    width = 16 * scale
    yield "family", width, tuple(_bent((0, 0), (width / 2, -10 * scale), (width, 0), greys.quiet))
    yield "chapter", width, (Rule(0, middle, width, middle, 0.8, greys.text),)
    yield "term", width, (Rule(0, middle, width, middle, 0.4, greys.rule),)
