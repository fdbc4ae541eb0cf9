"""From the measures of a part to pieces: cut at rehearsal marks, repeats written out or kept as loops."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from ..pattern.bar import empty_bar
from ..pattern.grid import Grid
from ..pattern.tempo import Tempo
from .grids import choose_grids, lay
from .piece import Laid, Measure, Piece, Remark
from .repeats import played
from .staff import Written
from .swells import swells_in


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
        pieces += _pieces(section, name, tempo, feel, remarks)
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


def _pieces(
    section: list[Written], title: str, tempo: Tempo | None, feel: str, remarks: list[Remark]
) -> Iterator[Piece]:
    """The piece that a section is; none where it is silent."""
    pickup, section = _pickup(section)
    if not any(one.measure.notes for one in section):
        return
    music = played(section, remarks)
    measures = [one.measure for one in music.measures]
    grids = choose_grids([pickup, *measures] if pickup else measures, _exact)[-len(measures) :]
    bars = lay(measures, grids, loops=False)
    before = _before(pickup, grids[0]) if pickup else None
    swells = swells_in([one.hairpins for one in music.measures], bars)
    yield Piece(title, tuple(bars), tempo, feel, music.loops, music.times, before, music.endings, swells)


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


def _before(pickup: Measure, grid: Grid) -> Laid:
    """A pickup on a grid: the slots of its bar from where it begins."""
    (laid,) = lay([pickup], [grid], loops=False)
    skipped = sum(onset < pickup.lead for onset in empty_bar(pickup.meter, grid).onsets)
    return replace(laid, slots=laid.slots[skipped:])
