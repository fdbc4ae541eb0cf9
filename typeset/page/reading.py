"""How to read these pages: explained on the book's own music, and only what the book uses."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from ..compose.book import Book, Exercise
from ..compose.engraving import Engraving, SoundSpecimen, StrokeSpecimen
from ..pattern.bar import Bar, Beat
from ..pattern.grid import GRIDS, QUARTER, Grid, divide
from ..pattern.limb import Limb
from ..pattern.meter import Meter
from ..pattern.stroke import SILENCE
from .breaking import Piece
from .changes import change_marks
from .example import example
from .faces import cap_height, width_of
from .flow import title_piece
from .head import tempo_mark
from .ladder import ladder, way_of
from .leaf import Section
from .lines import Letter, counting_letters
from .marks import Dot, Mark, Rule, Words, moved
from .paragraph import Look
from .recording import recording_code
from .rows import LIMB_WORDS, Figure, left_width, limbs_of, music_figure, row, small_row, words_figure
from .setting import Setting, points

HOW_TO_READ = "page how-to-read"
_SHOWN_RUNGS = 3
_IN_LIST, _IN_SIGNS = 12.0, 1.0
"""How bad it is to part rows that belong together, and rows of signs, each of which stands for itself."""

_COUNT_LEADING = 1.9
"""From line to line of counts, in their heights."""

_GRACED = {StrokeSpecimen("flam"), StrokeSpecimen("drag")}
"""What a book shows where it has grace notes, whose letters are small."""


def how_to_read(book: Book, setting: Setting) -> Section:
    """The pages that explain staff, sticking, count, marks, repeats and tempo."""
    title = setting.words["pages.how-to-read.title"]
    pieces = [title_piece(title, HOW_TO_READ, setting), *example(book, setting), *_rows(book, setting)]
    return Section(title, tuple(pieces))


def _rows(book: Book, setting: Setting) -> Iterator[Piece]:
    if not book.exercises:
        return
    key = "pages.how-to-read."
    say = setting.words
    lines = setting.style.lines
    yield row(None, say[f"{key}staff"], setting)
    if lines.sticking != "none":
        limbs = limbs_of(book.exercises)
        named = ", ".join(f"{setting.style.letters.of(limb)} {say[f'limbs.{LIMB_WORDS[limb]}']}" for limb in limbs)
        told = say[f"{key}sticking"]
        if not _GRACED.isdisjoint(book.specimens):
            told = f"{told.rstrip()} {say[f'{key}graces']}"
        yield row(_letters_figure(limbs, setting), told, setting, {"limbs": named})
    if lines.counting != "none":
        yield row(None, say[f"{key}counting"], setting)
        yield from _last_with_space(_count_rows(book, setting), setting)
    yield from _last_with_space(_stroke_rows(book, setting), setting)
    yield from _last_with_space(_sign_rows(book, setting), setting, _IN_SIGNS)
    yield from _play_rows(book, setting)


def _last_with_space(pieces: Iterator[Piece], setting: Setting, reluctance: float = _IN_LIST) -> Iterator[Piece]:
    """The rows of a list, parted unwillingly, with as much white after the last as after a text."""
    rows = list(pieces)
    yield from (replace(row, reluctance=reluctance) for row in rows[:-1])
    if rows:
        yield replace(rows[-1], after=setting.unit * 3, stretch=setting.unit * 3)


def _stroke_rows(book: Book, setting: Setting) -> Iterator[Piece]:
    for specimen in book.specimens:
        if isinstance(specimen, StrokeSpecimen):
            words = setting.words[f"pages.how-to-read.strokes.{specimen.kind}"]
            yield small_row(_music_figure(specimen, setting), words, setting)


def _sign_rows(book: Book, setting: Setting) -> Iterator[Piece]:
    """Rows on what else stands on a staff: the open hi-hat's circle, tuplets, endings, swells, sums as meters."""
    key = "pages.how-to-read.signs."
    for specimen in book.specimens:
        if isinstance(specimen, SoundSpecimen) and specimen.sound.open:
            yield _sign_row(_music_figure(specimen, setting), setting.words[f"{key}open"], setting)
    for sign in book.signs:
        if sign.kind != "same-bar" or setting.style.staff.repeated_bars:
            yield _sign_row(_music_figure(sign.system, setting), setting.words[f"{key}{sign.kind}"], setting)
    stated = (bar.meter for one in book.exercises for bar in one.pattern.bars if bar.meter.stated)
    meter = next(stated, None)
    if meter:
        yield _sign_row(_sum_figure(meter, setting), setting.words[f"{key}sum"], setting)


def _sign_row(figure: Figure, words: str, setting: Setting) -> Piece:
    """With more white than a stroke's: what stands over these staves would touch the row above."""
    return replace(small_row(figure, words, setting), after=setting.unit * 2)


def _play_rows(book: Book, setting: Setting) -> Iterator[Piece]:
    """Rows on how an exercise is played: tempo, repeats, feel, lineage, level."""
    key = "pages.how-to-read."
    say, style = setting.words, setting.style
    size = style.type.instruction
    label = Look(setting.letters, size, size * 1.2, style.greys.text)
    quiet = replace(label, ink=style.greys.quiet)
    timed = [one for one in book.exercises if one.tempo]
    if timed and style.exercises.tempo:
        ranged = [one for one in timed if one.tempo and one.tempo.start != one.tempo.goal]
        text = say[f"{key}tempo" if ranged else f"{key}once-tempo"]
        yield row(_tempo_figure((ranged or timed)[0], setting), text, setting)
    way = next(filter(None, (way_of(one, setting) for one in book.exercises)), ())
    ticks = ladder(way[:_SHOWN_RUNGS], left_width(setting), setting)
    if ticks:
        yield row(Figure(ticks.marks, ticks.height, ticks.height / 2), say[f"{key}ladder"], setting)
    if any(one.plays_on for one in book.exercises):
        once = any(not one.plays_on for one in book.exercises)
        text = f"{say[f'{key}repeat']} {say[f'{key}once'] if once else ''}"
        yield row(_repeat_figure(setting), text, setting)
    times = next((one.times for one in book.exercises if one.times), None)
    if times:
        figure = words_figure(say.count("exercise.times", times), label, setting)
        yield row(figure, say[f"{key}times"], setting)
    for feel in sorted({one.feel for one in book.exercises}):
        if f"exercise.{feel}" in say:
            figure = words_figure(say[f"exercise.{feel}"], label, setting)
            yield row(figure, say[f"{key}swing"], setting)
    parents = [one.parent_number for one in book.exercises if one.parent_number]
    if parents and style.exercises.lineage:
        figure = words_figure(say.say("exercise.from", number=parents[0]), quiet, setting)
        yield row(figure, say[f"{key}lineage"], setting, {"number": parents[0]})
    if any(one.changed for one in book.exercises) and style.exercises.changes != "none":
        yield row(_changes_figure(setting), say[f"{key}changes.{style.exercises.changes}"], setting)
    code = next(filter(None, (recording_code(one, setting) for one in book.exercises)), None)
    if code:
        yield row(Figure(code.marks, code.height, code.height / 2), say[f"{key}recording"], setting)
    if style.exercises.level and book.exercises:
        figure = words_figure(say.say("exercise.level", level=book.exercises[0].level), quiet, setting)
        yield row(figure, say[f"{key}level"], setting)


def _letters_figure(limbs: tuple[Limb, ...], setting: Setting) -> Figure:
    font, size = setting.letters.strong, setting.style.type.sticking * 1.2
    step = left_width(setting) / 6
    cap = size * cap_height(font)
    marks = tuple(
        Words(index * step, cap, setting.style.letters.of(limb), font, size, setting.style.greys.text)
        for index, limb in enumerate(limbs)
    )
    return Figure(marks, cap, cap / 2)


def _changes_figure(setting: Setting) -> Figure:
    """Three letters, the second of which has changed."""
    figure = _letters_figure((Limb.KICK, Limb.RIGHT, Limb.LEFT), setting)
    middles = [
        mark.x + width_of(mark.words, mark.font, mark.size) / 2 for mark in figure.marks if isinstance(mark, Words)
    ]
    changes, foot = change_marks(middles[1:2], middles, 0.0, figure.height, setting)
    return Figure((*changes, *figure.marks), foot, figure.middle)


def _count_rows(book: Book, setting: Setting) -> Iterator[Piece]:
    """One row for each grid of the book: how a whole bar of it is counted."""
    names = {QUARTER / slots: name for name, slots in GRIDS.items()}
    seen: dict[tuple[int, Fraction], tuple[Meter, tuple[Letter, ...]]] = {}
    for bar in _shapes(book):
        for beat in bar.beats:
            slot_length = beat.length / len(beat.slots)
            if (bar.meter.bottom, slot_length) not in seen:
                whole = bar if len({*bar.slot_lengths}) == 1 else _filled(bar.meter, names[slot_length])
                seen[bar.meter.bottom, slot_length] = bar.meter, counting_letters([whole], setting, lit=True)
    for key in sorted(seen, key=lambda key: (key[0], -key[1])):
        slot_length, (meter, letters) = key[1], seen[key]
        grid = setting.words[f"grids.{names[slot_length]}"]
        text = setting.words.say("pages.how-to-read.grid", grid=grid, meter=f"{meter.top}/{meter.bottom}")
        yield small_row(_count_figure(letters, setting), text, setting)


def _shapes(book: Book) -> tuple[Bar, ...]:
    """One bar of the book for each way in which its bars are divided."""
    found: dict[object, Bar] = {}
    for exercise in book.exercises:
        for bar in exercise.pattern.bars:
            found.setdefault((bar.meter, tuple((beat.length, len(beat.slots)) for beat in bar.beats)), bar)
    return tuple(found.values())


def _filled(meter: Meter, grid: str) -> Bar:
    """A bar of a meter in one grid, where the book has it only beside others."""
    return Bar(meter, tuple(Beat(length, (SILENCE,) * count) for length, count in divide(meter, Grid.of(grid))))


def _count_figure(letters: tuple[Letter, ...], setting: Setting) -> Figure:
    """A bar of counts, an even step apart; in as few lines as have room for them, each from a number on."""
    cap = setting.style.type.count * cap_height(setting.letters.regular)
    widest = max(letter.width for letter in letters) * 1.15
    in_row = _in_row(letters, left_width(setting) / widest, setting)
    step = max(left_width(setting) / max(6, in_row), min(widest, left_width(setting) / in_row))
    scale = min(1.0, step / widest)
    marks: list[Mark] = []
    for place, letter in enumerate(letters):
        line, column = divmod(place, in_row)
        marks.append(letter.mark(letters[0].width / 2 + column * step, cap * (1 + line * _COUNT_LEADING), scale))
    lines = -(-len(letters) // in_row)
    return Figure(tuple(marks), cap * (1 + (lines - 1) * _COUNT_LEADING), cap / 2)


def _in_row(letters: tuple[Letter, ...], most: float, setting: Setting) -> int:
    """How many letters make a line that begins with a number: no more than so many if that can be."""
    numbers = [place for place, letter in enumerate(letters) if letter.font == setting.letters.strong]
    ways = [*filter(None, numbers), len(letters)]
    fitting = [count for count in ways if count <= most] or ways[:1]
    lines = -(-len(letters) // fitting[-1])
    return next(count for count in fitting if count * lines >= len(letters))


def _music_figure(specimen: Engraving, setting: Setting) -> Figure:
    """A specimen, smaller where it is wider than a figure may be."""
    left, _, right, _ = setting.blocks[specimen].ink
    return music_figure(specimen, min(1.0, left_width(setting) / (right - left)), setting)


def _sum_figure(meter: Meter, setting: Setting) -> Figure:
    """A meter whose beats are told as a sum, over what it counts."""
    font, size = setting.letters.strong, setting.style.type.instruction * 1.1
    cap = size * cap_height(font)
    parts = ("+".join(map(str, meter.groups)), str(meter.bottom))
    widths = [width_of(words, font, size) for words in parts]
    marks = tuple(
        Words((max(widths) - width) / 2, cap * (1 + 1.25 * line), words, font, size, setting.style.greys.text)
        for line, (words, width) in enumerate(zip(parts, widths, strict=True))
    )
    return Figure(marks, cap * 2.25, cap * 1.125)


def _tempo_figure(exercise: Exercise, setting: Setting) -> Figure:
    size = setting.style.type.instruction * 1.1
    cap = size * cap_height(setting.letters.regular)
    return Figure(moved(tempo_mark(exercise, size, setting), 0, cap), cap, cap / 2)


def _repeat_figure(setting: Setting) -> Figure:
    """An empty staff between repeat signs."""
    height = points(setting.style.staff.height)
    width = left_width(setting) * 0.6
    space, ink = height / 4, setting.style.greys.text
    marks: list[Mark] = [Rule(0, y * space, width, y * space, 0.4, ink) for y in range(5)]
    for edge, inward in ((0.0, 1.0), (width, -1.0)):
        thick = edge + inward * space * 0.25
        thin = edge + inward * space * 0.95
        marks.append(Rule(thick, -0.2, thick, height + 0.2, space * 0.5, ink))
        marks.append(Rule(thin, -0.2, thin, height + 0.2, 0.8, ink))
        marks += [Dot(edge + inward * space * 1.55, y * space, space * 0.2, ink) for y in (1.5, 2.5)]
    return Figure(tuple(marks), height, height / 2)
