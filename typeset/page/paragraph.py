"""Breaking spans into lines, ragged right, with the raggedness spread as evenly as it can be."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise, zip_longest
from typing import NamedTuple

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


class Manner(NamedTuple):
    """How words of a run look, and the address that they lead to."""

    font: str
    size: float
    ink: float
    address: str | None = None


@dataclass(frozen=True, slots=True)
class Fragment:
    """A part of a word that looks alike throughout, with its width in points."""

    words: str
    manner: Manner
    width: float


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
        marks: list[Mark] = []
        runs = self._runs(x)
        for run, following in zip_longest(runs, runs[1:]):
            words, (font, size, ink, address) = "".join(run.words), run.manner
            is_joined = following is not None and not following.is_spaced
            marks.append(Words(run.x, y, words, font, size, ink, is_joined))
            if address:
                outside = address.startswith(("http://", "https://", "mailto:"))
                right = run.x + width_of(words, font, size)
                marks.append(Link(run.x, y - size * 0.8, right, y + size * 0.25, address, outside))
        return tuple(marks)

    def _runs(self, x: float) -> list[_Run]:
        runs: list[_Run] = []
        is_spaced = False
        for word in self.words:
            for fragment in word.fragments:
                if runs and runs[-1].manner == fragment.manner:
                    runs[-1].words += [" ", fragment.words] if is_spaced else [fragment.words]
                else:
                    runs.append(_Run(x, fragment.manner, [fragment.words], is_spaced))
                x += fragment.width
                is_spaced = False
            x += word.space
            is_spaced = word.space > 0
        return runs


@dataclass(slots=True)
class _Run:
    """Words of a line that look alike, where they begin, and whether there is a space before them."""

    x: float
    manner: Manner
    words: list[str]
    is_spaced: bool


def words_of(spans: Iterable[Span], look: Look) -> tuple[Word, ...]:
    """The words of spans, each with the width of the space after it."""
    words: list[Word] = []
    open_: tuple[tuple[str, Manner], ...] = ()
    for span in spans:
        manner = Manner(look.font(span), look.size, look.ink, span.address)
        space = width_of(" ", manner.font, manner.size)
        for index, part in enumerate(_SPACES.split(span.words)):
            if index and open_:
                words.append(_word(open_, space, look.language))
                open_ = ()
            if part:
                open_ = (*open_, (part, manner))
    if open_:
        words.append(_word(open_, 0.0, look.language))
    return tuple(words)


@lru_cache(maxsize=32768)
def _word(parts: tuple[tuple[str, Manner], ...], space: float, language: str | None) -> Word:
    """A word of parts that look different. A book has few words, again and again."""
    fragments = tuple(_fragment(part, manner) for part, manner in parts)
    return Word(fragments, sum(one.width for one in fragments), space, language)


def _fragment(words: str, manner: Manner) -> Fragment:
    return Fragment(words, manner, width_of(words, manner.font, manner.size))


def lines_of(
    words: Sequence[Word], width: float, first: float = 0.0, *, may_be_uneven: bool = False
) -> tuple[Line, ...]:
    """Break words into lines no wider than `width`; the first one begins `first` points in.

    Among all ways to break, the one whose lines are most alike in length, whose last line is not one
    short word, and in which no line begins with a count. Words are parted only where lines would be very
    uneven without, which they may be in a title; a word wider than a line is parted, and cut where it has
    no parts.
    """
    lines = _broken(_fitting(words, width - first), width, first)
    if may_be_uneven or not _is_uneven(lines, width, first):
        return lines
    parts = [part for word in words for part in _parted(word)]
    if len(parts) == len(words):
        return lines
    return _broken(_fitting(parts, width - first), width, first)


def _is_uneven(lines: Sequence[Line], width: float, first: float) -> bool:
    """True when a line leaves too much of its room because the next word is too wide for it."""
    rooms = [width - first, *(width for _ in lines[1:])]
    return any(
        line.width < _LEAST_FULL * room < room < line.width + following.words[0].width
        for (line, following), room in zip(pairwise(lines), rooms, strict=False)
    )


def _hangs(word: Word) -> bool:
    """True for a count or a sign, such as `4.` or `&`, which is read with the word before it."""
    text = "".join([one.words for one in word.fragments])
    return len(text) <= _LONGEST_SIGN and not any(map(str.isalpha, text))


def _broken(words: Sequence[Word], width: float, first: float) -> tuple[Line, ...]:
    if not words:
        return ()
    whole = _line(words)
    if whole.width <= width - first + 0.01:
        return (whole,)
    begins = _best_begins(words, width, first)
    breaks = [len(words)]
    while breaks[0] > 0:
        breaks.insert(0, begins[breaks[0]])
    return tuple(_line(words[start:end]) for start, end in pairwise(breaks))


def _best_begins(words: Sequence[Word], width: float, first: float) -> list[int]:
    """For each end of a line, from 0, the word that the line begins with in the best way to break what is before.

    A line is as bad as the square of what it leaves of its room, the last one only if it is very short.
    """
    count = len(words)
    costs = [0.0] + [float("inf")] * count
    begins = [0] * (count + 1)
    spaced = [word.width + word.space for word in words]
    behind = [_BEHIND if number and _hangs(word) else 0.0 for number, word in enumerate(words)]
    for end, last in enumerate(words, start=1):
        natural = last.hyphen + last.width
        naturals = [natural]
        for start in range(end - 2, -1, -1):
            natural += spaced[start]
            if natural > (width if start else width - first) + 0.01:
                break
            naturals.append(natural)
        parting = _PARTING if last.hyphen else 0.0
        # The fullest line comes first, and the shorter ones are weighed as long as one of them could be better.
        longest = end - len(naturals)
        least = min(costs[longest:end])
        for start in range(longest, end):
            left = 1 - naturals[end - start - 1] / (width if start else width - first)
            uneven = 10 * left * left if end < count else 12 * (left - 0.7) if start and left > 0.7 else 0.0
            if least + (1 + uneven) > costs[end]:
                break
            cost = costs[start] + (1 + uneven) + parting + behind[start]
            if cost <= costs[end]:
                costs[end], begins[end] = cost, start
    return begins


@lru_cache(maxsize=8192)
def title_lines(title: str, look: Look, width: float, *, strong: bool = False) -> tuple[Line, ...]:
    """A title, without any markup, as lines: at least one, which may be empty."""
    lines = lines_of(words_of([Span(one_line(title), strong=strong)], look), width, may_be_uneven=True)
    return lines or (Line((), 0.0),)


def _line(words: Sequence[Word]) -> Line:
    """A line of words, with its hyphen where it ends in the middle of one."""
    width = sum([word.width + word.space for word in words]) - words[-1].space
    last = words[-1]
    if not last.hyphen:
        return Line(tuple(words), width)
    end = _fragment(f"{last.fragments[-1].words}{_HYPHEN}", last.fragments[-1].manner)
    return Line((*words[:-1], replace(last, fragments=(*last.fragments[:-1], end))), width + last.hyphen)


def _parted(word: Word) -> list[Word]:
    """A word in the parts that its language allows; only where it looks alike throughout."""
    if len(word.fragments) != 1:
        return [word]
    (whole,) = word.fragments
    *parts, end = (_fragment(part, whole.manner) for part in syllables(whole.words, word.language))
    hyphen = width_of(_HYPHEN, whole.manner.font, whole.manner.size)
    return [
        *(Word((one,), one.width, 0.0, hyphen=0.0 if one.words.endswith(_HYPHEN) else hyphen) for one in parts),
        Word((end,), end.width, word.space),
    ]


def _fitting(words: Sequence[Word], width: float) -> Sequence[Word]:
    """Words of which none is wider than a line."""
    if all(word.width <= width for word in words):
        return words
    return [piece for word in words for piece in _cut(word, width)]


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
            while size > 1 and _fragment(rest[:size], fragment.manner).width > width:
                size = max(1, min(size - 1, int(size * 0.9)))
            part = _fragment(rest[:size], fragment.manner)
            pieces.append(Word((part,), part.width, 0.0))
            rest = rest[size:]
    last = pieces.pop()
    return [*pieces, Word(last.fragments, last.width, word.space)]
