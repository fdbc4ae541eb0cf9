"""Where pages break, and how what stands on one is spread down it. Pure: heights in, heights out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from .marks import Mark
from .refusals import DoesNotFit

_PAGE = 100.0
_KEPT = 1e6
_TIED = 1e8
_HOLE = 20.0
_LACK = 24.0
_NEARLY_EMPTY = 0.4
_ALONE = 0.85
_FULL_ENOUGH = 0.8


@dataclass(frozen=True, slots=True)
class Piece:
    """What no page break goes through, in points.

    `after` is the white under it and `stretch` how much that may grow; `keeps` holds it together with
    the next piece if any way of breaking allows it, `tied` even before that, and `reluctance` says how bad
    it is to part them; `starts_page` begins a new page before it. One that
    `goes_on` is a further line of the paragraph before it.
    """

    height: float
    marks: tuple[Mark, ...]
    after: float = 0.0
    stretch: float = 0.0
    keeps: bool = False
    tied: bool = False
    reluctance: float = 0.0
    starts_page: bool = False
    goes_on: bool = False


def break_pages(pieces: Sequence[Piece], depth: float) -> tuple[tuple[Piece, ...], ...]:
    """Part pieces into pages `depth` points deep.

    As few pages as there can be, and among those ways the one that fills them best without a last page that
    holds next to nothing, or one thing alone. Raises DoesNotFit for a piece taller than a page.
    """
    pages: list[tuple[Piece, ...]] = []
    run: list[Piece] = []
    for piece in pieces:
        if piece.starts_page and run:
            pages += _break_run(run, depth)
            run = []
        run.append(piece)
    return (*pages, *_break_run(run, depth)) if run else tuple(pages)


def _break_run(pieces: Sequence[Piece], depth: float) -> list[tuple[Piece, ...]]:
    shapes = tuple(
        _Shape(one.height, one.after, one.stretch, _parting(one), one.keeps or one.tied) for one in pieces
    )
    return [tuple(pieces[start:end]) for start, end in pairwise(_breaks(shapes, depth))]


class _Shape(NamedTuple):
    """What of a piece decides where pages break; `parting` says how bad it is to break after it."""

    height: float
    after: float
    stretch: float
    parting: float
    is_held: bool


@lru_cache(maxsize=64)
def _breaks(shapes: tuple[_Shape, ...], depth: float) -> tuple[int, ...]:
    """The first piece of each of the cheapest pages, and behind them the number of pieces.

    For each end in turn the best beginning of the page that ends there is found. Contents come several times: their
    page numbers change, and their shape does not.
    """
    count = len(shapes)
    costs = [0.0] + [float("inf")] * count
    begins = [0] * (count + 1)
    for end in range(1, count + 1):
        is_last = end == count
        parting = 0.0 if is_last else shapes[end - 1].parting
        # The fullest page comes first, for it is mostly the best, and those that cannot be better are not weighed.
        for start, height, stretch, alone in reversed(_pages_until(end, shapes, depth)):
            if costs[start] + (_PAGE + parting) > costs[end] or costs[start] == float("inf"):
                continue
            page = (
                _last_cost(height, depth, alone=alone and start > 0)
                if is_last
                else _cost(height, stretch, depth) + parting
            )
            if costs[start] + page <= costs[end]:
                costs[end], begins[end] = costs[start] + page, start
    if costs[count] == float("inf"):
        raise DoesNotFit(_too_tall(shapes, depth))
    breaks = [count]
    while breaks[0] > 0:
        breaks.insert(0, begins[breaks[0]])
    return tuple(breaks)


def _pages_until(end: int, shapes: Sequence[_Shape], depth: float) -> list[tuple[int, float, float, bool]]:
    """Every page that ends before piece `end` and is not too full, the emptiest first.

    Of each its first piece, its height, how far its white may stretch, and whether it is to be kept together.
    """
    height, stretch, alone = shapes[end - 1].height, 0.0, True
    found: list[tuple[int, float, float, bool]] = []
    start = end - 1
    while height <= depth + 0.01:
        found.append((start, height, stretch, alone))
        start -= 1
        if start < 0:
            break
        own, after, more, _, is_held = shapes[start]
        height += own
        height += after
        stretch += more
        alone = alone and is_held
    return found


def _too_tall(shapes: Sequence[_Shape], depth: float) -> str:
    tallest = max(shape.height for shape in shapes)
    return (
        f"something {tallest / 72 * 25.4:.0f} mm tall does not fit a text block of {depth / 72 * 25.4:.0f} mm; "
        "use fewer words there, or a style with smaller type"
    )


def _parting(piece: Piece) -> float:
    """How bad it is to break after a piece: worse than any number of pages where it should be kept."""
    return piece.reluctance + (_TIED if piece.tied else _KEPT if piece.keeps else 0.0)


def _cost(height: float, stretch: float, depth: float) -> float:
    """How bad a page is whose white may stretch so far: full pages are good.

    A large hole costs little more than two of half its size: a page takes what it can, and the last is short.
    """
    free = depth - height
    filled = min(free, stretch)
    strain = filled / stretch if stretch else 0.0
    left = (free - filled) / depth
    return _PAGE + strain * strain + _HOLE * left * (1 + left)


def _last_cost(height: float, depth: float, *, alone: bool) -> float:
    """How bad a last page is, which need not be full: next to nothing on it is bad, or one thing alone."""
    enough = _ALONE if alone else _NEARLY_EMPTY
    lack = max(0.0, enough - height / depth) / enough
    return _PAGE + _LACK * lack * lack


def stretch_to_fill(pieces: Sequence[Piece], depth: float) -> float:
    """How much of its stretch the white between pieces needs to fill a page: 0 none of it, 1 all."""
    natural = sum(piece.height for piece in pieces) + sum(piece.after for piece in pieces[:-1])
    stretch = sum(piece.stretch for piece in pieces[:-1])
    return min(1.0, max(0.0, depth - natural) / stretch) if stretch else 0.0


def shares_of(pages: Sequence[Sequence[Piece]], depth: float) -> tuple[float, ...]:
    """How much of its stretch each page takes.

    One that cannot be filled takes all of it, and its foot is free. One that ends a run is not pulled apart
    farther than those before it, unless it is nearly full.
    """
    shares: list[float] = []
    run: list[float] = []
    for number, pieces in enumerate(pages):
        share = stretch_to_fill(pieces, depth)
        ends_run = number == len(pages) - 1 or pages[number + 1][0].starts_page
        height = sum(piece.height + piece.after for piece in pieces)
        if ends_run and height < _FULL_ENOUGH * depth:
            share = min(share, sum(run) / len(run)) if run else 0.0
        run = [] if ends_run else [*run, share]
        shares.append(share)
    return tuple(shares)


def spread(pieces: Sequence[Piece], share: float, unit: float) -> tuple[float, ...]:
    """How far down each piece begins when white takes that share of its stretch, in whole steps of `unit`."""
    tops: list[float] = []
    top = added = 0.0
    for piece in pieces:
        tops.append(top + added // unit * unit)
        top += piece.height + piece.after
        added += piece.stretch * share + 1e-9
    return tuple(tops)
