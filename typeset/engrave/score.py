"""A system as an Abjad score, and that as LilyPond's text.

Everything here comes from numbers and from our own tables: no text of an author's reaches LilyPond.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Any

import abjad

from ..compose.book import Ending, System
from ..pattern.bar import Bar
from ..pattern.meter import Meter
from ..pattern.stroke import Dynamic, Ornament, Slot, Stroke
from ..style.model import Staff
from . import leaves
from .places import Places
from .rhythm import write_bar
from .symbol import Group, Kind, Line, Symbol

_BARLINES = {Ending.BAR: "|", Ending.REPEAT: ":|.", Ending.FINAL: "|."}


def system_text(system: System, staff: Staff, places: Places, *, closed: bool = True) -> str:
    """LilyPond's text of one system, with the details that staff.ily places it by.

    Without `closed` the staff ends without a barline.
    """
    barline = _BARLINES[system.ending] if closed else ""
    voices = [_voice(system, part, barline) for part in _voicing(staff)]
    drums = abjad.Staff(voices, lilypond_type="DrumStaff", simultaneous=True)
    score = abjad.Score([drums])
    abjad.override(score).System.details = _details(places)
    return f"\\score {{ \\drummode {{\n{abjad.lilypond(score)}\n}} }}"


class _Part:
    """What a voice takes of a slot, and how it is set."""

    def __init__(self, command: str, hands: bool, feet: bool) -> None:
        self.command = command
        self.hands = hands
        self.feet = feet

    def strokes(self, slot: Slot) -> Slot:
        """The strokes of a slot that this voice plays."""
        return tuple(stroke for stroke in slot if (self.hands if stroke.sound.by_hand else self.feet))

    def line(self, bar: Bar) -> Line:
        """Where it strikes in a bar; a diddle is over with its slot, so it is not held."""
        slots = {index: self.strokes(slot) for index, slot in enumerate(bar.slots)}
        brief = (index for index, slot in slots.items() if any(stroke.ornament is Ornament.DIDDLE for stroke in slot))
        return Line(frozenset(index for index, slot in slots.items() if slot), frozenset(brief))


_ALL_UP = _Part(r"\shedUp", hands=True, feet=True)
_HANDS = _Part(r"\shedHands", hands=True, feet=False)
_FEET = _Part(r"\shedFeet", hands=False, feet=True)


def _voicing(staff: Staff) -> tuple[_Part, ...]:
    return (_HANDS, _FEET) if staff.stems == "split" else (_ALL_UP,)


def _voice(system: System, part: _Part, barline: str) -> Any:
    voice = abjad.Voice([], lilypond_type="DrumVoice")
    meter: Meter | None = None
    for index, bar in enumerate(system.bars):
        content = list(_bar(bar, part))
        first = content[0][0] if isinstance(content[0], abjad.Tuplet) else content[0]
        if bar.meter != meter:
            leaves.before(first, _meter_text(bar.meter, index in system.meters_at))
            meter = bar.meter
        if index == 0:
            opening = ' \\bar ".|:"' if system.opens_repeat else ""
            leaves.before(first, part.command + opening)
        voice.extend(content)
    last = abjad.select.leaves(voice)[-1]
    leaves.after(last, f'\\bar "{barline}"')
    return voice


def _meter_text(meter: Meter, is_shown: bool) -> str:
    time = f"\\time {meter.top}/{meter.bottom}"
    if not is_shown:
        return f"\\once \\omit DrumStaff.TimeSignature {time}"
    if not meter.stated:
        return time
    groups = " ".join(map(str, meter.groups))
    return f"\\once \\override DrumStaff.TimeSignature.stencil = #(shed-additive '({groups}) {meter.bottom}) {time}"


def _bar(bar: Bar, part: _Part) -> Iterator[Any]:
    """A bar's leaves and tuplets."""
    line = part.line(bar)
    groups = write_bar(bar, line, *_other(bar, part))
    slots = bar.slots
    for group in groups:
        made = [_leaf(symbol, part.strokes(slots[symbol.slot]), bar) for symbol in group.symbols]
        if group.tuplet:
            yield abjad.Tuplet(f"{group.tuplet[0]}:{group.tuplet[1]}", made)
        else:
            yield from made


def _other(bar: Bar, part: _Part) -> tuple[Line, bool]:
    """What the other voice plays, and whether this one writes the rests of both."""
    if part is _HANDS:
        return _FEET.line(bar), True
    if part is _FEET:
        return _HANDS.line(bar), False
    return Line(frozenset()), True


def _leaf(symbol: Symbol, strokes: Slot, bar: Bar) -> Any:
    if symbol.kind is Kind.GAP:
        return leaves.skip(symbol.written)
    if symbol.kind is Kind.REST:
        return leaves.bar_rest(symbol.length) if symbol.length == bar.meter.length else leaves.rest(symbol.written)
    made = leaves.chord([_head(stroke) for stroke in strokes], symbol.written)
    _beam(made, symbol)
    if any(stroke.dynamic is Dynamic.ACCENT for stroke in strokes):
        abjad.attach(abjad.Articulation(">"), made)
    return made


def _head(stroke: Stroke) -> Any:
    head = abjad.DrumNoteHead(stroke.sound.drum)
    if stroke.dynamic is Dynamic.GHOST:
        abjad.tweak(head, r"\tweak stencil #shed-ghost-head")
    return head


def _beam(made: Any, symbol: Symbol) -> None:
    if symbol.beams is None:
        return
    left, right = symbol.beams
    leaves.before(made, f"\\set stemLeftBeamCount = {left} \\set stemRightBeamCount = {right}")
    if symbol.starts_beam:
        abjad.attach(abjad.StartBeam(), made)
    elif symbol.ends_beam:
        abjad.attach(abjad.StopBeam(), made)


def _details(places: Places) -> str:
    opening = "#f" if places.opening is None else f"{places.opening:.4f}"
    return (
        f'#\'((width . {places.width:.4f}) (opening . {opening})'
        f" (places . ({_pairs(places.moments)})) (barlines . ({_pairs(places.barlines)})))"
    )


def _pairs(places: Sequence[tuple[Fraction, float]]) -> str:
    return " ".join(f"({moment} . {x:.4f})" for moment, x in places)
