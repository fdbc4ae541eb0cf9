"""From the measures of a part to pieces: cut at rehearsal marks, repeats written out or kept as loops."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from ..pattern.draft import MOST_BARS
from ..pattern.order import LONGEST
from ..pattern.tempo import Tempo
from .grids import choose_grids, lay
from .piece import Laid, Measure, Piece, Remark
from .staff import Written

_MOST_PLAYED = 4096
"""More measures than that are not written out, however the repeats are nested."""

_MOST_TIMES = 99
"""How often an exercise can be said to be played."""

CUT_AFTER = 32
"""Bars of a part of a piece that is too long for one exercise."""


def pieces_of(written: Sequence[Written], title: str, remarks: list[Remark]) -> list[Piece]:
    """The pieces of a part; `title` is that of a piece without a heading of its own."""
    pieces: list[Piece] = []
    tempo: Tempo | None = None
    feel = "straight"
    for section in _sections(_said_again(written)):
        words = section[0].words
        tempo = next((one.words.tempo for one in section if one.words.tempo), tempo)
        feel = words.feel or feel
        name = words.title or (f"{title} {words.mark}".strip() if words.mark else title)
        pieces += _piece(section, name, tempo, feel, remarks)
    return pieces


def _said_again(written: Sequence[Written]) -> list[Written]:
    """The measures, with those that only repeat the ones before them filled in."""
    filled: list[Written] = []
    for one in written:
        back = one.repeats_last
        if 0 < back <= len(filled) and not one.measure.notes:
            one = replace(one, measure=replace(filled[-back].measure, meter=one.measure.meter))
        filled.append(one)
    return filled


def _sections(written: Sequence[Written]) -> Iterator[list[Written]]:
    """Measures from one rehearsal mark to the next."""
    section: list[Written] = []
    for one in written:
        if one.words.mark is not None and section:
            yield section
            section = []
        section.append(one)
    if section:
        yield section


def _piece(
    section: list[Written], title: str, tempo: Tempo | None, feel: str, remarks: list[Remark]
) -> Iterator[Piece]:
    pickup, section = _pickup(section)
    if not any(one.measure.notes for one in section):
        return
    loops, times = _loop(section)
    played = [one.measure for one in (section if loops else _played(section, remarks))]
    measures = [pickup, *played] if pickup else played
    grids = choose_grids(measures, _exact)
    laid = lay(measures, grids if not pickup else [grids[1], *grids[1:]], loops=False)
    before = _last_slots(laid[0], pickup.lead) if pickup else None
    bars = laid[1:] if pickup else laid
    if len(bars) <= MOST_BARS and sum(len(bar.slots) for bar in bars) <= LONGEST:
        yield Piece(title, tuple(bars), tempo, feel, loops, times, before)
        return
    for start in range(0, len(bars), CUT_AFTER):
        part = bars[start : start + CUT_AFTER]
        if any(notes for bar in part for notes in bar.slots):
            name = f"{title}, bars {start + 1} to {start + len(part)}"
            yield Piece(name, tuple(part), tempo, feel, False, None, before if start == 0 else None)


def _exact(off: Fraction) -> float:
    """A file that writes values means them: a note that no grid has costs more than any grid."""
    return 1000.0 if off else 0.0


def _pickup(section: list[Written]) -> tuple[Measure | None, list[Written]]:
    """A short first measure, moved to the end of a whole one, and the measures after it."""
    first, *others = section
    meter = first.measure.meter
    lead = meter.length - first.length
    if not others or not 0 < lead < meter.length or not (first.is_pickup or first.measure.notes):
        return None, section
    notes = tuple(replace(note, onset=note.onset + lead) for note in first.measure.notes)
    moved = int(lead * 4) if (lead * 4).denominator == 1 else None
    written = first.measure.written or {}
    grids = {} if moved is None else {quarter + moved: name for quarter, name in written.items()}
    # What is said at the pickup is said of the piece.
    others[0] = replace(others[0], begins_repeat=others[0].begins_repeat or first.begins_repeat)
    return Measure(meter, notes, grids, lead), others


def _last_slots(laid: Laid, lead: Fraction) -> Laid:
    """A whole bar without what stands before a pickup."""
    skipped = round(lead / laid.meter.length * len(laid.slots))
    return replace(laid, slots=laid.slots[skipped:])


def _loop(section: Sequence[Written]) -> tuple[bool, int | None]:
    """Whether all of it stands between repeat signs, and how often it is said to be played."""
    inside = [one.begins_repeat or one.ends_repeat is not None for one in section]
    ends = section[-1].ends_repeat
    is_loop = ends is not None and not any(inside[1:-1]) and not any(one.only_on for one in section)
    if len(section) > 1 and (section[0].ends_repeat is not None or section[-1].begins_repeat):
        is_loop = False
    return is_loop, ends if is_loop and ends and ends <= _MOST_TIMES else None


def _played(section: Sequence[Written], remarks: list[Remark]) -> list[Written]:
    """The measures in the order in which they are played, repeats and their endings written out."""
    played: list[Written] = []
    start, turn, at, is_over = 0, 1, 0, False
    while at < len(section) and len(played) <= _MOST_PLAYED:
        one = section[at]
        if (one.begins_repeat and at != start) or (is_over and not one.only_on):
            start, turn, is_over = at, 1, False
        is_played = not one.only_on or turn in one.only_on
        if is_played:
            played.append(one)
        wanted = 0 if one.ends_repeat is None else max(one.ends_repeat or 2, _passes(section, start))
        goes_back = turn < wanted and is_played
        is_over = is_over or (0 < wanted <= turn)
        at, turn = (start, turn + 1) if goes_back else (at + 1, turn)
    if at < len(section):
        remarks.append(Remark(f"with its repeats this is longer than {_MOST_PLAYED} bars; the rest is left out"))
    return played


def _passes(section: Sequence[Written], start: int) -> int:
    """How many passes the endings after a repeat's beginning count."""
    return max((number for one in section[start:] for number in one.only_on if number < 10), default=0)
