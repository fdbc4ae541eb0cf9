"""The plan of a term: week by week what to learn and what to settle, with minutes a day and tempos."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, zip_longest

from ..compose.curriculum import Curriculum, Term
from ..compose.plan import Block, Practice, Week
from ..wording.markup import one_line
from .breaking import Piece
from .faces import cap_height, width_of
from .flow import body_look, kept, text_pieces
from .leaf import Section
from .marks import Anchor, Entry, Mark, Rule, Words, moved
from .paragraph import Look, title_lines
from .setting import Setting, points

_WEEK, _GAP = 12.0, 6.0
"""Millimetres for the number of the week, more where its head is wider, and between learning and settling."""

_LEARN_SHARE = 0.5
_NARROWEST_TITLE = 9.0
"""Where titles have less room, in ems, what settles stands under what is learnt."""

_AIR = 2.0
"""Millimetres of white between the columns of a line."""

PLAN = "page plan"
"""With the number of a term the anchor of its plan."""

_NOTHING = Piece(0.0, ())


@dataclass(frozen=True, slots=True)
class Side:
    """One side of the table, in points: where it begins and how wide it is, and the columns of its lines.

    `number` and `minutes` and `tempo` are as wide as their widest words, with white.
    """

    left: float
    width: float
    number: float
    minutes: float
    tempo: float

    @property
    def title(self) -> float:
        """The room of an exercise's title."""
        return self.width - self.number - self.minutes - self.tempo


def term_plan(curriculum: Curriculum, number: int, setting: Setting) -> Section:
    """A term on pages of its own, each with the table's head."""
    term = curriculum.terms[number - 1]
    titles = {name: one_line(curriculum.volume(name).book.title) for name in _books(term)}
    book = {"book": next(iter(titles.values()), "")}
    facts = text_pieces(_facts(term, titles, setting), body_look(setting), setting, book)
    intro = text_pieces(term.intro, body_look(setting), setting)
    style = setting.style
    small = replace(body_look(setting), size=style.type.instruction, leading=style.type.leading * 0.9)
    how = text_pieces(setting.words["pages.plan.how"], small, setting, width=setting.measure)
    space = Piece(setting.unit * 2, (), keeps=True)
    parts = [part for part in (facts, intro, how) if part]
    opening = [_title(term, number, setting)]
    for part in parts:
        opening += [*kept(part), space]
    return Section(one_line(term.title), (*opening, *_table(term, titles, opening, setting)))


def _title(term: Term, number: int, setting: Setting) -> Piece:
    """The term's title at the head of the page: a plan needs the room that a chapter leaves free."""
    style = setting.style
    look = Look(setting.light_text, style.type.chapter, style.type.chapter * 1.15, style.greys.text)
    y = look.size * cap_height(setting.text.light)
    marks: list[Mark] = [Anchor(0, f"{PLAN} {number}"), Entry(0, 0, one_line(term.title))]
    lines = title_lines(term.title, look, setting.measure)
    for index, line in enumerate(lines):
        marks += line.marks(0, y + index * look.leading)
    return Piece(setting.rounded(y + (len(lines) - 1) * look.leading), tuple(marks), setting.unit * 3, keeps=True)


Titles = Mapping[str, str]
"""The titles of a term's books, by what the curriculum calls them."""


def _books(term: Term) -> tuple[str, ...]:
    """What the curriculum calls the books of a term, in the order in which they are practised."""
    return tuple(dict.fromkeys(stretch.volume for stretch in term.stretches))


def _facts(term: Term, titles: Titles, setting: Setting) -> str:
    """How many weeks, how many minutes a day, on how many days of the week; `{book}` where there is one."""
    counted = (("weeks", len(term.weeks)), ("minutes", term.minutes), ("days", term.days))
    said = [setting.words.count(f"pages.plan.{what}", count) for what, count in counted]
    return f"**{', '.join(said)}**" + (" — *{book}*" if len(titles) == 1 else "")


def _table(term: Term, titles: Titles, opening: Sequence[Piece], setting: Setting) -> Iterator[Piece]:
    """The weeks under the table's head; a week goes to the next page whole where a page can hold it."""
    learn, settle = _sides(term, setting)
    head = _head(learn, settle, setting)
    left = setting.depth - sum(piece.height + piece.after for piece in opening) - head.height
    yield head
    for number, week in enumerate(term.weeks, start=1):
        rows = _rows(number, week, titles, (learn, settle), setting)
        height = sum(row.height for row in rows)
        fits_a_page = height <= setting.depth - head.height
        for place, row in enumerate(rows):
            needed = height if place == 0 and fits_a_page else row.height
            if needed > left:
                yield replace(head, starts_page=True)
                left = setting.depth - head.height
            yield row
            left -= row.height


def _sides(term: Term, setting: Setting) -> tuple[Side, Side]:
    """What is learnt and what settles, their columns as wide as they need to be.

    They stand side by side, or both on the whole width where titles would have too little of it.
    """
    head = width_of(setting.words["pages.plan.number"], setting.letters.regular, setting.style.type.small)
    left, gap = max(points(_WEEK), head + points(_AIR)), points(_GAP)
    room = setting.measure - left - gap
    sides = [
        [practice for block in blocks for practice in block.practices]
        for blocks in ([week.learn for week in term.weeks], [week.settle for week in term.weeks])
    ]
    width = room * _LEARN_SHARE
    learn = _side(left, width, sides[0], setting)
    settle = _side(left + width + gap, room - width, sides[1], setting)
    if min(learn.title, settle.title) < _NARROWEST_TITLE * _size(setting):
        both = _side(left, setting.measure - left, [*sides[0], *sides[1]], setting)
        return both, both
    return learn, settle


def _side(left: float, width: float, practices: Sequence[Practice], setting: Setting) -> Side:
    size, air = _size(setting), points(_AIR)
    strong, font = setting.letters.strong, setting.letters.regular

    def widest(words: Iterator[str], face: str) -> float:
        return max((width_of(word, face, size) + air for word in words if word), default=0.0)

    return Side(
        left,
        width,
        widest((one.exercise.number for one in practices), strong),
        widest((_minutes(one, setting) for one in practices), font),
        widest((_tempo(one) for one in practices), font),
    )


def _size(setting: Setting) -> float:
    return setting.style.type.small + 0.5


def _minutes(practice: Practice, setting: Setting) -> str:
    minutes = practice.minutes
    return "" if minutes is None else setting.words.say("pages.plan.practice", minutes=minutes)


def _tempo(practice: Practice) -> str:
    """The tempos of a week, as a range."""
    tempo = practice.tempo
    if tempo is None:
        return ""
    return str(tempo.goal) if tempo.start == tempo.goal else f"{tempo.start}–{tempo.goal}"


def _head(learn: Side, settle: Side, setting: Setting) -> Piece:
    font, size, ink = setting.letters.regular, setting.style.type.small, setting.style.greys.quiet
    height = setting.unit * 4
    y = height - size * 0.6
    heads = [(0.0, "number"), (learn.left, "learn")]
    heads += [(settle.left, "settle")] if settle != learn else []
    words = [Words(x, y, setting.words[f"pages.plan.{name}"], font, size, ink) for x, name in heads]
    return Piece(height, tuple(words), keeps=True)


def _rows(number: int, week: Week, titles: Titles, sides: tuple[Side, Side], setting: Setting) -> list[Piece]:
    """A week's lines, what is learnt beside what settles, under a rule; white under the last one."""
    learn = list(_cell_lines(week.learn, titles, sides[0], setting, is_new=True))
    settle = list(_cell_lines(week.settle, titles, sides[1], setting, is_new=False))
    if sides[0] == sides[1]:
        head = _said(setting.words["pages.plan.settle"], sides[1], setting) if settle else ()
        learn, settle = [*learn, *head, *settle], []
    pairs = zip_longest(learn, settle, fillvalue=_NOTHING)
    white = setting.unit * 0.75
    style = setting.style
    size = _size(setting)
    first: list[Mark] = [Rule(0, 0, setting.measure, 0, 0.35, style.greys.rule)]
    first.append(
        Words(0, white + _baseline(setting), str(number), setting.letters.strong, size + 1, style.greys.text)
    )
    rows = [
        Piece(max(one.height, other.height), (*moved(one.marks, sides[0].left), *moved(other.marks, sides[1].left)))
        for one, other in pairs
    ]
    rows[0] = Piece(rows[0].height + white, (*first, *moved(rows[0].marks, 0, white)))
    rows[-1] = replace(rows[-1], height=rows[-1].height + white)
    return rows


def _cell_lines(block: Block, titles: Titles, side: Side, setting: Setting, *, is_new: bool) -> Iterator[Piece]:
    """The lines of one side of a week: a book's title over its exercises, where there are several books."""
    if is_new and not block.practices:
        yield from _said(setting.words["pages.plan.nothing-new"], side, setting)
    if block.in_turn:
        yield from _said(setting.words.count("pages.plan.in-turn", block.minutes), side, setting)
    for book, practices in groupby(block.practices, key=lambda practice: practice.book):
        if len(titles) > 1:
            yield from _said(titles[book], side, setting)
        for practice in practices:
            yield from _practice(practice, side, setting)


def _look(setting: Setting) -> Look:
    size = _size(setting)
    return Look(setting.text, size, size * 1.35, setting.style.greys.text, setting.hyphened)


def _baseline(setting: Setting) -> float:
    """How far down in its line the baseline of a cell's text stands."""
    return _look(setting).leading - _size(setting) * 0.35


def _said(words: str, side: Side, setting: Setting) -> Iterator[Piece]:
    """Words across the side, in italics, line by line."""
    look = _look(setting)
    look = replace(look, cuts=replace(look.cuts, regular=look.cuts.italic), ink=setting.style.greys.quiet)
    for line in title_lines(words, look, side.width):
        yield Piece(look.leading, line.marks(0, _baseline(setting)))


def _practice(practice: Practice, side: Side, setting: Setting) -> Iterator[Piece]:
    """Number, title, minutes a day and tempos on a line; what is left of a long title on further ones."""
    look, y = _look(setting), _baseline(setting)
    font = setting.letters.regular
    first, *further = title_lines(practice.exercise.title, look, side.title - points(_AIR))
    marks: list[Mark] = [Words(0, y, practice.exercise.number, setting.letters.strong, look.size, look.ink)]
    marks += first.marks(side.number, y)
    ends = ((side.width - side.tempo, _minutes(practice, setting)), (side.width, _tempo(practice)))
    for right, words in ends:
        marks.append(Words(right - width_of(words, font, look.size), y, words, font, look.size, look.ink))
    yield Piece(look.leading, tuple(marks))
    for line in further:
        yield Piece(look.leading, line.marks(side.number, y))
