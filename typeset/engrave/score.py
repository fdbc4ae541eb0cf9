"""A system as an Abjad score, and that as LilyPond's text.

Everything here comes from numbers and from our own tables: no text of an author's reaches LilyPond.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from ..compose.engraving import Ending, System
from ..notation.symbol import Group, Symbol
from ..notation.symbol import Kind as SymbolKind
from ..notation.voices import FEET, GRACES, Voice, graces_of, voices_of, write_voice
from ..pattern.bar import Bar
from ..pattern.stroke import Dynamic, Ornament, Slot, Stroke
from ..style.music import Staff
from .leaves import Head, Kind, Leaf, Tuplet, score_text, skip
from .places import Places, meter_room

# What a meter inside a system may take, in staff spaces.
_INNER_METER = 3.0

_BARLINES = {Ending.BAR: "|", Ending.REPEAT: ":|.", Ending.FINAL: "|."}

Content = Leaf | Tuplet


def system_text(system: System, staff: Staff, places: Places, *, closed: bool = True) -> str:
    """LilyPond's text of one system, with the details that staff.ily places it by.

    Without `closed` the staff ends without a barline.
    """
    barline = _BARLINES[system.ending] if closed else ""
    voices = [_voice(system, voice, staff, barline) for voice in voices_of(staff)]
    if system.hairpins and not system.blank:
        voices.append(_hairpins(system, places))
    return f"\\score {{ \\drummode {{\n{score_text(voices, _details(system, places))}\n}} }}"


def _voice(system: System, voice: Voice, staff: Staff, barline: str) -> list[Content]:
    made: list[Content] = []
    for index, bar in enumerate(system.every_bar):
        is_same = staff.repeated_bars and index - _upbeats(system) in system.same
        content = _content(bar, voice, is_blank=system.blank, is_same=is_same)
        if bar.lead:
            # Inside a tuplet it would be counted in the tuplet's time.
            content[0] = replace(content[0], at_bar=(f"\\partial 1*{bar.length}",))
        waits = () if is_same else tuple(map(skip, voice.waits(bar)))
        _change_first(content, tuple(_at_bar(system, index, voice, staff)), waits)
        made += content
    _change_last(made, (f'\\bar "{barline}"', *_endings(system, len(system.bars), voice)))
    return made


def _upbeats(system: System) -> int:
    """How many bars stand before the first."""
    return 1 if system.pickup else 0


def _at_bar(system: System, index: int, voice: Voice, staff: Staff) -> Iterator[str]:
    """LilyPond's text at the beginning of a bar, the pickup counted."""
    number = index - _upbeats(system)
    if index == 0:
        yield voice.command
    if system.opens_repeat and number == 0:
        yield '\\bar ".|:"'
    if number in system.closings:
        yield '\\bar ":|."'
    if number >= 0:
        yield from _endings(system, number, voice)
    bars = system.every_bar
    if index == 0 or bars[index].meter != bars[index - 1].meter:
        yield _meter_text(system, max(number, 0), staff)


def _change_first(content: list[Content], at_bar: tuple[str, ...], waits: tuple[Leaf, ...]) -> None:
    """Put LilyPond's text before the first leaf of a bar, and what it waits for."""
    first = content[0].leaves[0] if isinstance(content[0], Tuplet) else content[0]
    changed = replace(first, at_bar=(*at_bar, *first.at_bar), graces=waits or first.graces)
    content[0] = _with_leaf(content[0], 0, changed)


def _change_last(content: list[Content], after: tuple[str, ...]) -> None:
    """Put LilyPond's text behind the last leaf of a voice."""
    last = content[-1].leaves[-1] if isinstance(content[-1], Tuplet) else content[-1]
    content[-1] = _with_leaf(content[-1], -1, replace(last, after=after))


def _with_leaf(content: Content, place: int, leaf: Leaf) -> Content:
    if isinstance(content, Leaf):
        return leaf
    leaves = list(content.leaves)
    leaves[place] = leaf
    return replace(content, leaves=tuple(leaves))


def _hairpins(system: System, places: Places) -> list[Content]:
    """A voice that prints nothing but the hairpins.

    Each ends in the middle of its time, for it is drawn by its places, and needs a moment of its own to end.
    """
    made: list[Content] = []
    now = Fraction(0)
    upbeat = system.pickup.length if system.pickup else Fraction(0)
    for hairpin, (left, right) in zip(system.hairpins, places.hairpins, strict=True):
        start, half = upbeat + hairpin.start, (hairpin.end - hairpin.start) / 2
        if start > now:
            made.append(skip(start - now))
        sides = f"{float(hairpin.left):.4f} {float(hairpin.right):.4f}"
        drawn = f"\\once \\override Hairpin.stencil = #(shed-hairpin {left:.4f} {right:.4f} {sides})"
        made += [skip(half, before=(drawn,), after=(r"\<",)), skip(half, after=(r"\!",))]
        now = upbeat + hairpin.end
    return made


def _endings(system: System, number: int, voice: Voice) -> Iterator[str]:
    """What ends and begins the brackets over endings that end or begin before a bar; one voice says it for all."""
    if voice is FEET:
        return
    ends = any(volta.first + volta.bars == number for volta in system.voltas)
    begins = [volta for volta in system.voltas if volta.first == number]
    commands = "(volta #f) " * ends + "".join(f',(shed-volta "{volta.label}")' for volta in begins)
    for volta in begins:
        edges = f"{2.0 if volta.label else 0} . {2.0 if volta.repeats else 0}"
        yield f"\\once \\override Score.VoltaBracket.edge-height = #'({edges})"
    if commands:
        yield f"\\set Score.repeatCommands = #`({commands})"


def _content(bar: Bar, voice: Voice, *, is_blank: bool, is_same: bool) -> list[Content]:
    """A bar's leaves and tuplets; a blank bar has none that shows, one like the bar before the sign for that."""
    if is_blank:
        return [skip(bar.length)]
    if is_same:
        return [skip(bar.meter.length, before=() if voice is FEET else ("\\shedSameBar",))]
    return list(_bar(bar, voice))


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


def _bar(bar: Bar, voice: Voice) -> Iterator[Content]:
    """A bar's leaves and tuplets."""
    slots = bar.slots
    for group in write_voice(bar, voice):
        leaves = [_leaf(symbol, voice.strokes(slots[symbol.slot]), bar) for symbol in group.symbols]
        if group.tuplet:
            yield _tuplet(group, leaves)
        else:
            yield from leaves


def _tuplet(group: Group, leaves: list[Leaf]) -> Tuplet:
    first = leaves[0]
    if not group.is_numbered:
        first = replace(first, before=(*first.before, r"\shedNoNumber"))
    elif any(symbol.kind is SymbolKind.GAP for symbol in group.symbols):
        first = replace(first, before=(*first.before, r"\shedBracket"))
    elif group.symbols[0].starts_beam and group.symbols[-1].ends_beam:
        # A grace note before it would make LilyPond draw a bracket over the beam.
        first = replace(first, at_bar=(r"\shedNoBracket",))
    return Tuplet(group.tuplet or (1, 1), (first, *leaves[1:]))


def _leaf(symbol: Symbol, strokes: Slot, bar: Bar) -> Leaf:
    if symbol.kind is SymbolKind.GAP:
        return skip(symbol.written)
    if symbol.kind is SymbolKind.REST:
        is_whole = symbol.length == bar.meter.length
        return Leaf(Kind.BAR_REST, symbol.length) if is_whole else Leaf(Kind.REST, symbol.written)
    ornaments = {stroke.ornament for stroke in strokes}
    is_buzzed = Ornament.BUZZ in ornaments
    return Leaf(
        Kind.CHORD,
        symbol.written,
        heads=tuple(map(_head, strokes)),
        before=(*_beam_counts(symbol), *((r"\shedBuzz",) if is_buzzed else ())),
        graces=_graces(strokes),
        beam="[" if symbol.starts_beam else "]" if symbol.ends_beam else "",
        # A slash on the stem halves the value once.
        tremolo=8 << symbol.flags if is_buzzed or Ornament.DIDDLE in ornaments else 0,
        is_accented=any(stroke.dynamic is Dynamic.ACCENT for stroke in strokes),
    )


def _head(stroke: Stroke) -> Head:
    is_ghost = stroke.dynamic is Dynamic.GHOST
    return Head(stroke.sound.drum, r"\tweak stencil #shed-ghost-head" if is_ghost else "")


def _graces(strokes: Slot) -> tuple[Leaf, ...]:
    """The grace notes before some strokes, neither accented nor ghosts."""
    heads = tuple(Head(stroke.sound.drum) for stroke in strokes if stroke.ornament in GRACES)
    return tuple(Leaf(Kind.CHORD, value, heads) for value in graces_of(strokes))


def _beam_counts(symbol: Symbol) -> tuple[str, ...]:
    """How many beams go to the left and the right, where that is not as LilyPond would have it."""
    if symbol.beams is None or symbol.has_full_beams:
        return ()
    left, right = symbol.beams
    return (f"\\set stemLeftBeamCount = {left} \\set stemRightBeamCount = {right}",)


def _details(system: System, places: Places) -> str:
    opening = "#f" if places.opening is None else f"{places.opening:.4f}"
    return (
        f"#'((width . {places.width:.4f}) (opening . {opening}) (quarter . {system.quarter:.6f})"
        f" (bars . ({_pairs(places.bars)})) (barlines . ({_pairs(places.barlines)}))"
        f" (meters . ({_pairs(places.meters)})))"
    )


def _pairs(places: Sequence[tuple[Fraction, float]]) -> str:
    return " ".join(f"({moment} . {x:.4f})" for moment, x in places)
