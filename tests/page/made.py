"""Books and blocks made by hand, so that pages are tested without an engraver."""

from __future__ import annotations

import io
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import cache

from reportlab.pdfgen.canvas import Canvas

from typeset.compose.book import Book, Chapter, Exercise, Item, Task
from typeset.compose.engraving import Ending, Engraving, NoteSpecimen, SoundSpecimen, StrokeSpecimen, System
from typeset.engrave.block import Block
from typeset.manuscript.figures import standard_figures
from typeset.page.breaking import Piece
from typeset.page.draw import Press
from typeset.page.marks import Mark, moved
from typeset.page.pages import Pages
from typeset.page.pen import drawn
from typeset.page.setting import Setting, points
from typeset.pattern.bar import Bar, Beat, Pattern
from typeset.pattern.grid import Grid, divide
from typeset.pattern.limb import Limb
from typeset.pattern.meter import Meter
from typeset.pattern.sound import SOUNDS
from typeset.pattern.stroke import Slot, plain_stroke, slot_of
from typeset.pattern.tempo import Tempo
from typeset.pdf import bind
from typeset.pdf.forms import finish
from typeset.style import Style, load_style
from typeset.wording import wording

STAFF = points(6.2)
OVER, UNDER = 16.0, 6.0


def a_style(**parts: object) -> Style:
    """The workbook with some parts changed."""
    base = load_style("a4-workbook").model_dump()
    for part, keys in parts.items():
        base[part] = {**base[part], **keys} if isinstance(keys, dict) else keys
    return Style.model_validate(base)


def slot(letters: str) -> Slot:
    """`R`, `R+K`, or `.` as a slot."""
    return slot_of(plain_stroke(Limb(letter)) for letter in letters.split("+")) if letters != "." else ()


def bars_of(order: str, meter: str = "4/4", grid: Sequence[str] = ("16ths",), bars: int = 1) -> tuple[Bar, ...]:
    """An order, repeated through so many bars."""
    letters = order.split()
    at = 0
    made = []
    written = Meter.parse(meter)
    for _ in range(bars):
        beats = []
        for length, count in divide(written, Grid.of(*grid)):
            beats.append(Beat(length, tuple(slot(letters[(at + i) % len(letters)]) for i in range(count))))
            at += count
        made.append(Bar(written, tuple(beats)))
    return tuple(made)


def system_of(bars: Sequence[Bar], quarter: float = 18.5, lead: float = 16.0) -> System:
    """A system whose quarters are that many millimetres wide."""
    quarters = sum((bar.meter.length for bar in bars), Fraction(0)) * 4
    return System(tuple(bars), quarter, lead, lead + quarter * float(quarters), (0,), True, Ending.REPEAT)


def an_exercise(
    number: str,
    order: str = "R L R K L",
    *,
    title: str = "On one surface",
    systems: int = 1,
    bars: int = 2,
    meter: str = "4/4",
    grid: Sequence[str] = ("16ths",),
    quarter: float = 18.5,
    **more: object,
) -> Exercise:
    """An exercise of some systems, each of some bars."""
    music = bars_of(order, meter, grid, bars * systems)
    parts = [music[start : start + bars] for start in range(0, len(music), bars)]
    given = {
        "instruction": ("Move the strokes on 3& and 3a to the toms.",),
        "steps": (),
        "tempo": Tempo(60, 100),
        "plays_on": True,
        "times": None,
        "feel": "straight",
        "level": 3,
        "ceiling": 120,
        "order": tuple(slot(letters) for letters in order.split()),
        **more,
    }
    return Exercise(
        id=f"no-{number}",
        number=number,
        title=title,
        pattern=Pattern(music),
        systems=tuple(system_of(part, quarter) for part in parts),
        **given,  # type: ignore[arg-type]
    )


def a_task(kind: str, of: Sequence[Exercise], *, number: int = 1, **more: object) -> Task:
    """A task about some exercises, whose systems it prints as they are."""
    asked = tuple(one.systems for one in of)
    return Task(kind, number, "The title", "Do it.", tuple(of), asked, **more)  # type: ignore[arg-type]


def a_chapter(number: int, items: Sequence[Item], intro: str = "Slow is a tempo too.") -> Chapter:
    return Chapter(number, f"First steps {number}", intro, tuple(items))


def a_book(*chapters: Chapter, **more: object) -> Book:
    """A book with the specimens that its exercises need."""
    exercises = [exercise for chapter in chapters for exercise in chapter.exercises]
    sounds = {stroke.sound.name for exercise in exercises for stroke in exercise.pattern.strokes}
    units = dict.fromkeys(exercise.tempo_unit for exercise in exercises if exercise.tempo)
    given = {
        "title": "Quiet Doors",
        "subtitle": "Forty ways through five strokes",
        "author": "Lantern Yard Studio",
        "edition": "First edition",
        "date": "2026-09-01",
        "language": "en",
        "front": ("title-page", "imprint", "contents", "how-to-read", "drum-key", "care"),
        "back": ("practice-log", "index"),
        "specimens": (
            *(SoundSpecimen(sound) for name, sound in SOUNDS.items() if name in sounds),
            *(StrokeSpecimen(kind) for kind in ("plain", "accent", "ghost")),
            *(NoteSpecimen(unit) for unit in units),
        ),
        "kit": standard_figures().kit,
        **more,
    }
    return Book(chapters=chapters, **given)  # type: ignore[arg-type]


@cache
def fake_block(engraving: Engraving) -> Block:
    """Five lines with a dot in every slot that has a stroke: the geometry of an engraving without its music."""
    if isinstance(engraving, NoteSpecimen):
        return _drawn(6.0, 16.0, 0.0, [3.0], 0.0)
    if not isinstance(engraving, System):
        return _drawn(points(24), STAFF, UNDER, [points(18)], OVER)
    starts: list[float] = []
    at = Fraction(0)
    for bar in engraving.every_bar:
        starts += [float((at + onset - bar.onsets[0]) * 4) for onset in bar.onsets]
        at += bar.length
    slots = [points(engraving.lead + engraving.quarter * start) for start in starts]
    return _drawn(points(engraving.width), STAFF, UNDER, slots, OVER)


def _drawn(length: float, staff: float, under: float, slots: Sequence[float], over: float) -> Block:
    edge = 4.0
    width, height = length + 2 * edge, staff + under + over + 2 * edge
    paper = io.BytesIO()
    canvas = Canvas(paper, pagesize=(width, height), invariant=1)
    bottom = edge + under
    for line in range(5 if over else 0):
        y = bottom + line * staff / 4
        canvas.setLineWidth(0.5)
        canvas.line(edge, y, edge + length, y)
    for x in slots:
        canvas.circle(edge + x, bottom + staff / 2, 2.4, stroke=0, fill=1)
    canvas.save()
    pdf = finish(paper.getvalue(), -1, (width, height))
    ink = (edge, edge, edge + length, height - edge)
    middles = tuple(edge + x for x in slots)
    if not over:
        return Block(pdf, width, height, edge, edge, edge, edge, ink, middles)
    return Block(pdf, width, height, edge, edge + length, bottom, bottom + staff, ink, middles)


def say(engraving: Engraving, withheld: str | None) -> str:
    """What is read aloud in place of music."""
    return f"{type(engraving).__name__} without {withheld}"


def without_music(pages: Pages) -> bytes:
    """Pages as a PDF, with nothing where their music stands."""
    return bind(replace(pages, placements=()), {}, a_style(), say)


def a_page_with(marks: Iterable[Mark], width: float, height: float) -> bytes:
    """A PDF of one page with these marks, measured from its upper left corner."""
    text = "SourceSerifPro-Regular"
    press = Press(width, height, text)
    press.page(drawn(marks), 0, 0)
    return without_music(
        Pages(
            contents=press.contents,
            fonts=press.fonts(),
            width=width,
            height=height,
            placements=(),
            headings=(),
            links=(),
            sections=tuple(press.sections),
            labels=("1",),
            title="",
            author=None,
            language="en",
            date=None,
        )
    )


def blocks_of(book: Book) -> Mapping[Engraving, Block]:
    """A fake block for everything the book needs."""
    return {engraving: fake_block(engraving) for engraving in book.engravings}


def a_setting(book: Book, style: Style | None = None) -> Setting:
    return Setting(style or a_style(), wording("en"), blocks_of(book))


def as_one(pieces: Sequence[Piece]) -> tuple[Mark, ...]:
    """The marks of pieces that stand under one another on a page."""
    marks: list[Mark] = []
    y = 0.0
    for piece in pieces:
        marks += moved(piece.marks, 0, y)
        y += piece.height + piece.after
    return tuple(marks)
