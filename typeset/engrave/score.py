"""A system as an Abjad score, and that as LilyPond's text.

Everything here comes from numbers and from our own tables: no text of an author's reaches LilyPond.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

import abjad

from ..compose.book import Ending, System
from ..notation.symbol import Group, Kind, Symbol
from ..notation.voices import FEET, GRACES, Voice, graces_of, voices_of, write_voice
from ..pattern.bar import Bar
from ..pattern.stroke import Dynamic, Ornament, Slot, Stroke
from ..style.model import Staff
from . import leaves
from .places import Places, meter_room

# What a meter inside a system may take, in staff spaces.
_INNER_METER = 3.0

_BARLINES = {Ending.BAR: "|", Ending.REPEAT: ":|.", Ending.FINAL: "|."}


def system_text(system: System, staff: Staff, places: Places, *, closed: bool = True) -> str:
    """LilyPond's text of one system, with the details that staff.ily places it by.

    Without `closed` the staff ends without a barline.
    """
    barline = _BARLINES[system.ending] if closed else ""
    voices = [_voice(system, voice, staff, barline) for voice in voices_of(staff)]
    if system.hairpins and not system.blank:
        voices.append(_hairpins(system, places))
    drums = abjad.Staff(voices, lilypond_type="DrumStaff", simultaneous=True)
    score = abjad.Score([drums])
    abjad.override(score).System.details = _details(system, places)
    return f"\\score {{ \\drummode {{\n{abjad.lilypond(score)}\n}} }}"


def _voice(system: System, voice: Voice, staff: Staff, barline: str) -> Any:
    made = abjad.Voice([], lilypond_type="DrumVoice")
    bars = system.every_bar
    for index, bar in enumerate(bars):
        before = bars[index - 1] if index else None
        number = index - len(bars) + len(system.bars)
        is_same = staff.repeated_bars and number in system.same
        content = _content(bar, voice, is_blank=system.blank, is_same=is_same)
        first = content[0][0] if isinstance(content[0], abjad.Tuplet) else content[0]
        if before is None:
            leaves.at_bar(first, voice.command)
        if system.opens_repeat and number == 0:
            leaves.at_bar(first, '\\bar ".|:"')
        if number in system.closings:
            leaves.at_bar(first, '\\bar ":|."')
        if voice is not FEET and number >= 0:
            _mark_endings(system, number, first, leaves.at_bar)
        if before is None or bar.meter != before.meter:
            leaves.at_bar(first, _meter_text(system, max(number, 0), staff))
        if bar.lead:
            # Inside a tuplet it would be counted in the tuplet's time.
            leaves.at_bar(content[0], f"\\partial 1*{bar.length}")
        if voice.waits(bar) and not is_same:
            leaves.grace(first, [leaves.skip(value) for value in voice.waits(bar)])
        made.extend(content)
    last = abjad.select.leaves(made)[-1]
    leaves.after(last, f'\\bar "{barline}"')
    if voice is not FEET:
        _mark_endings(system, len(system.bars), last, leaves.after)
    return made


def _hairpins(system: System, places: Places) -> Any:
    """A voice that prints nothing but the hairpins.

    Each ends in the middle of its time, for it is drawn by its places, and needs a moment of its own to end.
    """
    made = abjad.Voice([], lilypond_type="DrumVoice")
    now = Fraction(0)
    upbeat = system.pickup.length if system.pickup else Fraction(0)
    for hairpin, (left, right) in zip(system.hairpins, places.hairpins, strict=True):
        start, half = upbeat + hairpin.start, (hairpin.end - hairpin.start) / 2
        if start > now:
            made.append(leaves.skip(start - now))
        first, second = leaves.skip(half), leaves.skip(half)
        sides = f"{float(hairpin.left):.4f} {float(hairpin.right):.4f}"
        leaves.before(first, f"\\once \\override Hairpin.stencil = #(shed-hairpin {left:.4f} {right:.4f} {sides})")
        leaves.after(first, r"\<")
        leaves.after(second, r"\!")
        made.extend([first, second])
        now = upbeat + hairpin.end
    return made


def _mark_endings(system: System, number: int, leaf: Any, put: Callable[[Any, str], None]) -> None:
    """End and begin the brackets over endings that end or begin before a bar of the system."""
    ends = any(volta.first + volta.bars == number for volta in system.voltas)
    begins = [volta for volta in system.voltas if volta.first == number]
    commands = "(volta #f) " * ends + "".join(f',(shed-volta "{volta.label}")' for volta in begins)
    for volta in begins:
        edges = f"{2.0 if volta.label else 0} . {2.0 if volta.repeats else 0}"
        put(leaf, f"\\once \\override Score.VoltaBracket.edge-height = #'({edges})")
    if commands:
        put(leaf, f"\\set Score.repeatCommands = #`({commands})")


def _content(bar: Bar, voice: Voice, *, is_blank: bool, is_same: bool) -> list[Any]:
    """A bar's leaves and tuplets; a blank bar has none that shows."""
    if is_blank:
        return [leaves.skip(bar.length)]
    return [_same_bar(bar, voice)] if is_same else list(_bar(bar, voice))


def _same_bar(bar: Bar, voice: Voice) -> Any:
    """The sign for the bar before once more, which one voice prints for all."""
    made = leaves.skip(bar.meter.length)
    if voice is not FEET:
        leaves.before(made, "\\shedSameBar")
    return made


def _meter_text(system: System, index: int, staff: Staff) -> str:
    meter = system.bars[index].meter
    time = f"\\time {meter.top}/{meter.bottom}"
    if index not in system.meters_at:
        return f"\\once \\omit DrumStaff.TimeSignature {time}"
    if not meter.stated:
        return time
    groups = " ".join(map(str, meter.groups))
    room = meter_room(system, staff.height / 4) if index == 0 else _INNER_METER
    stencil = f"#(shed-additive '({groups}) {meter.bottom} {room:.2f})"
    return f"\\once \\override DrumStaff.TimeSignature.stencil = {stencil} {time}"


def _bar(bar: Bar, voice: Voice) -> Iterator[Any]:
    """A bar's leaves and tuplets."""
    slots = bar.slots
    for group in write_voice(bar, voice):
        made = [_leaf(symbol, voice.strokes(slots[symbol.slot]), bar) for symbol in group.symbols]
        if group.tuplet:
            yield _tuplet(group, made)
        else:
            yield from made


def _tuplet(group: Group, made: list[Any]) -> Any:
    if not group.is_numbered:
        leaves.before(made[0], r"\shedNoNumber")
    elif any(symbol.kind is Kind.GAP for symbol in group.symbols):
        leaves.before(made[0], r"\shedBracket")
    elif group.symbols[0].starts_beam and group.symbols[-1].ends_beam:
        # A grace note before it would make LilyPond draw a bracket over the beam.
        leaves.at_bar(made[0], r"\shedNoBracket")
    number, normal = group.tuplet or (1, 1)
    return abjad.Tuplet(f"{number}:{normal}", made)


def _leaf(symbol: Symbol, strokes: Slot, bar: Bar) -> Any:
    if symbol.kind is Kind.GAP:
        return leaves.skip(symbol.written)
    if symbol.kind is Kind.REST:
        return leaves.bar_rest(symbol.length) if symbol.length == bar.meter.length else leaves.rest(symbol.written)
    made = leaves.chord([_head(stroke) for stroke in strokes], symbol.written)
    _beam(made, symbol)
    _ornament(made, symbol, strokes)
    if any(stroke.dynamic is Dynamic.ACCENT for stroke in strokes):
        abjad.attach(abjad.Articulation(">"), made)
    return made


def _head(stroke: Stroke) -> Any:
    head = abjad.DrumNoteHead(stroke.sound.drum)
    if stroke.dynamic is Dynamic.GHOST:
        abjad.tweak(head, r"\tweak stencil #shed-ghost-head")
    return head


def _ornament(made: Any, symbol: Symbol, strokes: Slot) -> None:
    """Grace notes before, or a mark on the stem; a slash there halves the value once."""
    values = graces_of(strokes)
    graced = [replace(stroke, dynamic=Dynamic.PLAIN) for stroke in strokes if stroke.ornament in GRACES]
    if values:
        leaves.grace(made, [leaves.chord([_head(stroke) for stroke in graced], value) for value in values])
    ornaments = {stroke.ornament for stroke in strokes}
    if Ornament.BUZZ in ornaments:
        leaves.before(made, r"\shedBuzz")
    if ornaments & {Ornament.BUZZ, Ornament.DIDDLE}:
        abjad.attach(abjad.StemTremolo(8 << symbol.flags), made)


def _beam(made: Any, symbol: Symbol) -> None:
    if symbol.beams is None:
        return
    if not symbol.has_full_beams:
        left, right = symbol.beams
        leaves.before(made, f"\\set stemLeftBeamCount = {left} \\set stemRightBeamCount = {right}")
    if symbol.starts_beam:
        abjad.attach(abjad.StartBeam(), made)
    elif symbol.ends_beam:
        abjad.attach(abjad.StopBeam(), made)


def _details(system: System, places: Places) -> str:
    opening = "#f" if places.opening is None else f"{places.opening:.4f}"
    return (
        f"#'((width . {places.width:.4f}) (opening . {opening}) (quarter . {system.quarter:.6f})"
        f" (bars . ({_pairs(places.bars)})) (barlines . ({_pairs(places.barlines)}))"
        f" (meters . ({_pairs(places.meters)})))"
    )


def _pairs(places: Sequence[tuple[Fraction, float]]) -> str:
    return " ".join(f"({moment} . {x:.4f})" for moment, x in places)
