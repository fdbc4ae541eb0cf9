"""Breaking spans into lines, ragged right, with the raggedness spread as evenly as it can be."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from ..wording.markup import Span, one_line
from .faces import width_of
from .families import Cuts
from .hyphens import syllables
from .marks import Link, Mark, Words
from .repertoire import covers

_SPACES = re.compile(r"[ \n]+")
_HYPHEN = "-"
_LEAST_FULL = 0.7
_PARTING = 0.7
_BEHIND = 2.5
_LONGEST_SIGN = 3


@dataclass(frozen=True, slots=True)
class Look:
    """How running text looks: its face, size and ink, and the distance from line to line in points.

    Words of a `language` may be parted where lines would be very uneven; without one none are.
    """

    cuts: Cuts
    size: float
    leading: float
    ink: float = 100.0
    language: str | None = None

    def font(self, span: Span) -> str:
        """The cut that a span is set in: upright where its italic lacks a character."""
        upright, italic = (
            (self.cuts.strong, self.cuts.strong_italic) if span.strong else (self.cuts.regular, self.cuts.italic)
        )
        return italic if span.emphasis and covers(italic, span.words) else upright


@dataclass(frozen=True, slots=True)
class Fragment:
    """A part of a word that looks alike throughout."""

    words: str
    font: str
    size: float
    ink: float
    address: str | None = None

    @property
    def width(self) -> float:
        """Its width in points."""
        return width_of(self.words, self.font, self.size)


@dataclass(frozen=True, slots=True)
class Word:
    """What is not broken: fragments without a space between them.

    A part of a word that a line may end with has the width of its `hyphen`; `language` says where the
    word itself may be parted.
    """

    fragments: tuple[Fragment, ...]
    width: float
    space: float
    language: str | None = None
    hyphen: float = 0.0


@dataclass(frozen=True, slots=True)
class Line:
    """A line of words, and its width without the space at its end."""

    words: tuple[Word, ...]
    width: float

    def marks(self, x: float, y: float) -> tuple[Mark, ...]:
        """The line's marks from x on the baseline y: neighbours that look alike are one run."""
        runs: list[_Run] = []
        for index, word in enumerate(self.words):
            for fragment in word.fragments:
                spaced = index > 0 and self.words[index - 1].space > 0 and fragment is word.fragments[0]
                _join(runs, x, fragment, spaced=spaced)
                x += fragment.width
            x += word.space
        marks: list[Mark] = []
        for index, (start, run, _) in enumerate(runs):
            is_joined = index + 1 < len(runs) and not runs[index + 1][2]
            marks.append(Words(start, y, run.words, run.font, run.size, run.ink, is_joined))
            if run.address:
                marks.append(_link(start, y, run))
        return tuple(marks)


_Run = tuple[float, Fragment, bool]
"""Where a run begins, what it is, and whether there is a space before it."""


def _join(runs: list[_Run], x: float, fragment: Fragment, *, spaced: bool) -> None:
    look = (fragment.font, fragment.size, fragment.ink, fragment.address)
    if runs:
        start, last, was_spaced = runs[-1]
        if look == (last.font, last.size, last.ink, last.address):
            runs[-1] = start, Fragment(f"{last.words}{' ' if spaced else ''}{fragment.words}", *look), was_spaced
            return
    runs.append((x, fragment, spaced))


def _link(x: float, y: float, run: Fragment) -> Link:
    address = run.address or ""
    outside = address.startswith(("http://", "https://", "mailto:"))
    return Link(x, y - run.size * 0.8, x + run.width, y + run.size * 0.25, address, outside)


def words_of(spans: Iterable[Span], look: Look) -> tuple[Word, ...]:
    """The words of spans, each with the width of the space after it."""
    words: list[Word] = []
    open_: list[Fragment] = []
    for span in spans:
        font = look.font(span)
        space = width_of(" ", font, look.size)
        parts = _SPACES.split(span.words)
        for index, part in enumerate(parts):
            if index and open_:
                words.append(_word(open_, space, look))
                open_ = []
            if part:
                open_.append(Fragment(part, font, look.size, look.ink, span.address))
    if open_:
        words.append(_word(open_, 0.0, look))
    return tuple(words)


def _word(fragments: Sequence[Fragment], space: float, look: Look) -> Word:
    return Word(tuple(fragments), sum(one.width for one in fragments), space, look.language)


def lines_of(
    words: Sequence[Word], width: float, first: float = 0.0, *, may_be_uneven: bool = False
) -> tuple[Line, ...]:
    """Break words into lines no wider than `width`; the first one begins `first` points in.

    Among all ways to break, the one whose lines are most alike in length, whose last line is not one
    short word, and in which no line begins with a count. Words are parted only where lines would be very
    uneven without, which they may be in a title; a word wider than a line is parted, and cut where it has
    no parts.
    """
    lines = _broken([piece for word in words for piece in _cut(word, width - first)], width, first)
    if may_be_uneven or not _is_uneven(lines, width, first):
        return lines
    parts = [part for word in words for part in _parted(word)]
    if len(parts) == len(words):
        return lines
    return _broken([piece for part in parts for piece in _cut(part, width - first)], width, first)


def _is_uneven(lines: Sequence[Line], width: float, first: float) -> bool:
    """True when a line leaves too much of its room because the next word is too wide for it."""
    rooms = [width - first, *(width for _ in lines[1:])]
    return any(
        line.width < _LEAST_FULL * room < room < line.width + following.words[0].width
        for (line, following), room in zip(pairwise(lines), rooms, strict=False)
    )


def _hangs(word: Word) -> bool:
    """True for a count or a sign, such as `4.` or `&`, which is read with the word before it."""
    text = "".join(one.words for one in word.fragments)
    return len(text) <= _LONGEST_SIGN and not any(map(str.isalpha, text))


def _broken(words: Sequence[Word], width: float, first: float) -> tuple[Line, ...]:
    if not words:
        return ()
    whole = _line(words)
    if whole.width <= width - first + 0.01:
        return (whole,)
    best: list[tuple[float, int]] = [(0.0, 0)] + [(float("inf"), 0)] * len(words)
    behind = [_BEHIND if number and _hangs(word) else 0.0 for number, word in enumerate(words)]
    for end in range(1, len(words) + 1):
        natural = words[end - 1].hyphen
        for start in range(end - 1, -1, -1):
            natural += words[start].width + (words[start].space if start < end - 1 else 0.0)
            room = width - (first if start == 0 else 0.0)
            if natural > room + 0.01 and start < end - 1:
                break
            cost = best[start][0] + _cost(natural, room, is_last=end == len(words), is_only=start == 0)
            cost += _PARTING if words[end - 1].hyphen else 0.0
            cost += behind[start]
            if cost < best[end][0]:
                best[end] = (cost, start)
    breaks = [len(words)]
    while breaks[0] > 0:
        breaks.insert(0, best[breaks[0]][1])
    return tuple(_line(words[start:end]) for start, end in pairwise(breaks))


@lru_cache(maxsize=8192)
def title_lines(title: str, look: Look, width: float, *, strong: bool = False) -> tuple[Line, ...]:
    """A title, without any markup, as lines: at least one, which may be empty."""
    lines = lines_of(words_of([Span(one_line(title), strong=strong)], look), width, may_be_uneven=True)
    return lines or (Line((), 0.0),)


def _cost(natural: float, room: float, *, is_last: bool, is_only: bool) -> float:
    """How bad a line is: the square of what it leaves; a last line only if it is very short."""
    left = 1 - natural / room
    if not is_last:
        return 1 + 10 * left * left
    return 1 + (0.0 if is_only else 12 * max(0.0, left - 0.7))


def _line(words: Sequence[Word]) -> Line:
    """A line of words, with its hyphen where it ends in the middle of one."""
    width = sum(word.width + word.space for word in words) - words[-1].space
    last = words[-1]
    if not last.hyphen:
        return Line(tuple(words), width)
    end = replace(last.fragments[-1], words=f"{last.fragments[-1].words}{_HYPHEN}")
    return Line((*words[:-1], replace(last, fragments=(*last.fragments[:-1], end))), width + last.hyphen)


def _parted(word: Word) -> list[Word]:
    """A word in the parts that its language allows; only where it looks alike throughout."""
    if len(word.fragments) != 1:
        return [word]
    (whole,) = word.fragments
    *parts, end = (replace(whole, words=part) for part in syllables(whole.words, word.language))
    hyphen = width_of(_HYPHEN, whole.font, whole.size)
    return [
        *(Word((one,), one.width, 0.0, hyphen=0.0 if one.words.endswith(_HYPHEN) else hyphen) for one in parts),
        Word((end,), end.width, word.space),
    ]


def _cut(word: Word, width: float) -> list[Word]:
    """A word, or the parts of one that is wider than a line, cut where even those are."""
    if word.width <= width:
        return [word]
    parts = _parted(word)
    if len(parts) == 1:
        return _cut_anywhere(word, width)
    return [piece for part in parts for piece in _cut(part, width)]


def _cut_anywhere(word: Word, width: float) -> list[Word]:
    pieces: list[Word] = []
    for fragment in word.fragments:
        rest = fragment.words
        while rest:
            size = len(rest)
            while size > 1 and width_of(rest[:size], fragment.font, fragment.size) > width:
                size = max(1, min(size - 1, int(size * 0.9)))
            part = Fragment(rest[:size], fragment.font, fragment.size, fragment.ink, fragment.address)
            pieces.append(Word((part,), part.width, 0.0))
            rest = rest[size:]
    last = pieces.pop()
    return [*pieces, Word(last.fragments, last.width, word.space)]
