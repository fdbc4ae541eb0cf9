"""What hands cost: the judge's own figures for every way from stroke to stroke, and the least of all stickings."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise, product

import pytest

from tests.taking.made import piece
from typeset.judge.ceiling import ceiling, time_needed
from typeset.judge.timeline import timeline
from typeset.manuscript.figures import standard_figures
from typeset.pattern.bar import Pattern, empty_bar
from typeset.pattern.stroke import Slot
from typeset.taking.hands import NOTHING, Hands, microseconds
from typeset.taking.limbs import with_limbs
from typeset.taking.path import Moments, shortest
from typeset.taking.piece import Piece
from typeset.taking.playable import choices_of

FIGURES = standard_figures()
PLAYER = FIGURES.players["advanced"]
TEMPO = 90


def hands_of(made: Piece) -> tuple[Hands, list[tuple[Slot, ...]]]:
    """The hands that play a piece of one bar, and what can be chosen at each of its moments."""
    choices = [choices_of(notes).slots for notes in made.bars[0].slots]
    frame = empty_bar(made.bars[0].meter, made.bars[0].grid)
    patterns = [Pattern((frame.with_slots([one[which] for one in choices]),)) for which in (0, -1)]
    lines = [timeline(pattern) for pattern in patterns]
    unit = made.bars[0].meter.tempo_unit
    hands = Hands(lines, TEMPO, unit, PLAYER, FIGURES.kit, frozenset())
    return hands, [one for one in choices if one[0]]


PIECES = {
    "one drum": piece("s s s . s . s s", meter="2/4"),
    "a groove": piece("h h s h h . s s", meter="2/4"),
    "down the drums": piece("s s 1 1 2 2 3 3", meter="2/4"),
    "two at once": piece("hs . h h hs h s h", meter="2/4"),
    "far apart": piece("h 3 r s c 3 h s", meter="2/4"),
}


def moving(slots: list[Slot], made: Piece, loops: bool) -> tuple[int, int]:
    """What the hands move for, in microseconds, and the least part of its time that any way has to spare, in
    thousandths: from the judge's timeline alone."""
    bar = made.bars[0]
    frame = empty_bar(bar.meter, bar.grid)
    filled = iter(slots)
    pattern = Pattern((frame.with_slots([next(filled) if notes else () for notes in bar.slots]),))
    line = timeline(pattern)
    tick = Fraction(60_000_000, TEMPO) / (bar.meter.tempo_unit * line.whole)
    total, least = 0, 1000
    for hand in (0, 1):
        hits, others = list(line.hits[hand]), [hit.tick for hit in line.hits[1 - hand]]
        if loops and hits:
            hits = [*hits, hits[0]._replace(tick=hits[0].tick + line.length)]
            others += [tick + line.length for tick in others]
        before, free = 0, True
        if loops and len(hits) > 1:
            before = hits[-1].tick - hits[-2].tick
            free = any(hits[-2].tick < other < hits[-1].tick for other in others)
        for start, end in pairwise(hits):
            crossed = any(start.tick < other < end.tick for other in others)
            ticks = end.tick - start.tick
            rested = free or before >= 2 * ticks
            _, needs, moved = time_needed(start, end, crossed, rested, PLAYER.hand, PLAYER, FIGURES.kit)
            total += moved
            least = min(least, int(1000 * (1 - needs / (ticks * tick))))
            before, free = ticks, crossed
    return total, least


@pytest.mark.parametrize("name", PIECES)
@pytest.mark.parametrize("loops", [False, True])
def test_the_way_found_is_the_cheapest_of_all_stickings(name: str, loops: bool) -> None:
    hands, choices = hands_of(PIECES[name])
    counts = [range(len(one)) for one in choices]
    found = shortest(Moments(counts, hands.step, hands.wrapped), NOTHING, loops)
    costs = []
    for way in product(*counts):
        only = Moments([(choice,) for choice in way], hands.step, hands.wrapped)
        costs.append(shortest(only, NOTHING, loops).cost)
    assert found.cost == min(costs)


@pytest.mark.parametrize("name", PIECES)
def test_moving_counts_as_the_judge_counts_it(name: str) -> None:
    made = PIECES[name]
    hands, choices = hands_of(made)
    for way in product(*(range(len(one)) for one in choices)):
        only = Moments([(choice,) for choice in way], hands.step, hands.wrapped)
        cost = microseconds(shortest(only, NOTHING, loops=True).cost)
        slots = [one[choice] for one, choice in zip(choices, way, strict=True)]
        moved, spare = moving(slots, made, loops=True)
        assert cost >= moved
        # Where every stroke has twice the time it needs, and no hand plays twice, nothing else is paid.
        if spare >= 500 and name == "one drum" and cost < 60_000:
            assert cost == moved


@pytest.mark.parametrize("tempo", [60, 90, 120, 140])
@pytest.mark.parametrize("bar", ["h h h h s h h h h h h h s h h h", "s s s s 1 1 1 1 2 2 2 2 3 3 3 3"])
def test_what_is_found_can_be_played_at_the_files_tempo(tempo: int, bar: str) -> None:
    pattern = with_limbs(piece(bar, tempo=tempo), PLAYER, FIGURES.kit).pattern
    assert ceiling(pattern, True, PLAYER, FIGURES.kit).tempo >= tempo
