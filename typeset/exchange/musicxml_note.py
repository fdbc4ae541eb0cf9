"""The notes of a bar as MusicXML 4.0: heads, grace notes, tuplets, beams, marks, and which limb plays.

A limb's letter is a technical fingering, not a lyric: the standard's place for what plays a note, it
stands at each note of a chord, where a lyric would stand at the whole chord only, and nobody sings it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby, pairwise
from xml.etree.ElementTree import Element

from ..notation.symbol import Group, Kind, Symbol
from ..notation.voices import ALL_UP, GRACES, write_voice
from ..pattern.bar import Bar
from ..pattern.sound import Head, Sound
from ..pattern.stroke import Dynamic, Ornament, Slot, Stroke
from ..pattern.swell import Swell, loudness_at
from ..sound.strokes import velocity_of

TYPES = {
    Fraction(1): "whole",
    Fraction(1, 2): "half",
    Fraction(1, 4): "quarter",
    Fraction(1, 8): "eighth",
    Fraction(1, 16): "16th",
    Fraction(1, 32): "32nd",
    Fraction(1, 64): "64th",
}
"""What the standard calls a written value, by its part of a whole note."""

_HEADS = {
    Head.NORMAL: "normal",
    Head.CROSS: "x",
    Head.DIAMOND: "diamond",
    Head.TRIANGLE: "triangle",
    Head.SLASHED: "slashed",
    Head.CIRCLED_CROSS: "circle-x",
}

_STEPS = "CDEFGAB"
_MIDDLE_LINE = 4 * 7 + _STEPS.index("B")
"""B of octave 4, in steps from C of octave 0: a percussion clef is read like a treble clef."""

_FORTE = 90
"""The MIDI velocity that the standard counts dynamics in hundredths of."""


def element(tag: str, *content: Element | str | int, **attributes: str) -> Element:
    """An XML element; an underscore in an attribute's name stands for a hyphen."""
    made = Element(tag, {name.replace("_", "-"): value for name, value in attributes.items()})
    for part in content:
        if isinstance(part, Element):
            made.append(part)
        else:
            made.text = str(part)
    return made


def instrument_id(sound: Sound) -> str:
    """What a sound's instrument is called inside a score."""
    return f"P1-{sound.name}"


@dataclass(frozen=True, slots=True)
class _Place:
    """A symbol with what its surroundings say: its tuplet, its place in it, and its beams."""

    symbol: Symbol
    tuplet: tuple[int, int] | None
    bracket: str
    opens: bool
    closes: bool
    beams: tuple[str, ...]


def notes_of(bar: Bar, divisions: int, swells: tuple[Swell, ...] = ()) -> Iterator[Element]:
    """A bar's notes and rests in one voice, stems up; a quarter lasts `divisions`.

    `swells` are counted from its barline; each begins and ends at a note of this bar or of another.
    """
    groups = write_voice(bar, ALL_UP)
    slots = bar.slots
    for place in _places(groups):
        if place.symbol.kind is Kind.NOTE:
            moment = place.symbol.onset
            ends = [_wedge("stop") for swell in swells if swell.end == moment]
            begins = [
                _wedge("crescendo" if swell.louder else "diminuendo") for swell in swells if swell.start == moment
            ]
            # A hairpin takes in its last note, unless the next one begins there.
            yield from (*ends, *begins) if begins else ()
            yield from _chord(place, slots[place.symbol.slot], divisions, loudness_at(swells, moment))
            yield from () if begins else ends
        else:
            yield _rest(place, bar, divisions)


def _wedge(kind: str) -> Element:
    return element("direction", element("direction-type", element("wedge", type=kind)), placement="above")


def _places(groups: Sequence[Group]) -> Iterator[_Place]:
    symbols = [symbol for group in groups for symbol in group.symbols]
    beams = _beams(symbols)
    for group in groups:
        last = len(group.symbols) - 1
        bracket = "no" if _under_one_beam(group) else "yes"
        for index, symbol in enumerate(group.symbols):
            opens, closes = index == 0, index == last
            yield _Place(symbol, group.tuplet, bracket, opens, closes, beams.get(symbol.onset, ()))


def _under_one_beam(group: Group) -> bool:
    first, last = group.symbols[0], group.symbols[-1]
    return first.starts_beam and last.ends_beam


def _beams(symbols: Sequence[Symbol]) -> Mapping[Fraction, tuple[str, ...]]:
    """For each beamed note what its first, second ... beam does there."""
    notes = [symbol for symbol in symbols if symbol.beams]
    joints = [min((left.beams or (0, 0))[1], (right.beams or (0, 0))[0]) for left, right in pairwise(notes)]
    found: dict[Fraction, tuple[str, ...]] = {}
    for note, before, after in zip(notes, [0, *joints], [*joints, 0], strict=False):
        left, right = note.beams or (0, 0)
        found[note.onset] = tuple(
            _beam(level <= before, level <= after, hooks_forward=level <= right)
            for level in range(1, max(left, right) + 1)
        )
    return found


def _beam(comes: bool, goes: bool, hooks_forward: bool) -> str:
    if comes and goes:
        return "continue"
    if comes or goes:
        return "end" if comes else "begin"
    return "forward hook" if hooks_forward else "backward hook"


def _rest(place: _Place, bar: Bar, divisions: int) -> Element:
    symbol = place.symbol
    whole_bar = symbol.length == bar.meter.length
    note = element("note", element("rest", **({"measure": "yes"} if whole_bar else {})))
    note.append(_duration(symbol, divisions))
    note.append(element("voice", 1))
    if not whole_bar:
        note.extend(_value(symbol.base, symbol.written))
    note.extend(_time_modification(place))
    if place.tuplet:
        note.extend(_notations(_tuplet(place)))
    return note


def _chord(place: _Place, slot: Slot, divisions: int, loudness: Fraction) -> Iterator[Element]:
    """The grace notes before a slot, then its heads from the lowest up, one for each sound."""
    heads = [_played_alike(group) for group in _by_sound(slot)]
    yield from _graces(heads)
    for index, strokes in enumerate(heads):
        yield _note(place, strokes, divisions, loudness, is_first=index == 0)


def _by_sound(slot: Slot) -> Iterator[list[Stroke]]:
    ordered = sorted(slot, key=lambda stroke: (stroke.sound.place, stroke.sound.name, stroke.limb.rank))
    for _, group in groupby(ordered, key=lambda stroke: stroke.sound.name):
        yield list(group)


def _played_alike(strokes: Sequence[Stroke]) -> list[Stroke]:
    """Two hands on one sound share a head, which shows the louder stroke and either's ornament."""
    dynamic = max((stroke.dynamic for stroke in strokes), key=velocity_of)
    ornament = next((stroke.ornament for stroke in strokes if stroke.ornament), None)
    return [replace(stroke, dynamic=dynamic, ornament=ornament) for stroke in strokes]


def _graces(heads: Sequence[Sequence[Stroke]]) -> Iterator[Element]:
    """Grace notes by the other hand; a single one has a slash, two stand under a beam."""
    for strokes in heads:
        stroke = strokes[0]
        values = GRACES.get(stroke.ornament, ()) if stroke.ornament else ()
        for index, (value, limb) in enumerate(zip(values, stroke.graces, strict=True)):
            single = len(values) == 1
            note = element("note", element("grace", slash="yes" if single else "no"))
            note.extend((_unpitched(stroke.sound), _instrument(stroke.sound), element("voice", 1)))
            note.append(element("type", TYPES[value]))
            note.extend((element("stem", "up"), *_head(stroke.sound, parentheses=False)))
            if not single:
                does = "begin" if index == 0 else "end"
                note.extend(element("beam", does, number=str(level)) for level in (1, 2))
            note.extend(_notations(_technical(replace(stroke, limb=limb))))
            yield note


def _note(place: _Place, strokes: Sequence[Stroke], divisions: int, loudness: Fraction, is_first: bool) -> Element:
    stroke = strokes[0]
    symbol, is_ghost = place.symbol, stroke.dynamic is Dynamic.GHOST
    note = element("note", dynamics=f"{100 * velocity_of(stroke.dynamic, loudness) / _FORTE:.2f}")
    if not is_first:
        note.append(element("chord"))
    note.extend((_unpitched(stroke.sound), _duration(symbol, divisions), _instrument(stroke.sound)))
    note.append(element("voice", 1))
    note.extend(_value(symbol.base, symbol.written))
    note.extend(_time_modification(place))
    note.extend((element("stem", "up"), *_head(stroke.sound, is_ghost)))
    if is_first:
        note.extend(element("beam", does, number=str(level)) for level, does in enumerate(place.beams, start=1))
    tuplet = _tuplet(place) if is_first else []
    note.extend(_notations([*tuplet, *_ornaments(stroke), *_technical(*strokes), *_articulations(stroke)]))
    return note


def _unpitched(sound: Sound) -> Element:
    octave, step = divmod(_MIDDLE_LINE + sound.place, 7)
    return element("unpitched", element("display-step", _STEPS[step]), element("display-octave", octave))


def _instrument(sound: Sound) -> Element:
    return element("instrument", id=instrument_id(sound))


def _head(sound: Sound, parentheses: bool) -> list[Element]:
    if sound.head is Head.NORMAL and not parentheses:
        return []
    attributes = {"parentheses": "yes"} if parentheses else {}
    return [element("notehead", _HEADS[sound.head], **attributes)]


def _duration(symbol: Symbol, divisions: int) -> Element:
    return element("duration", int(symbol.length * 4 * divisions))


def _value(base: Fraction, written: Fraction) -> list[Element]:
    return [element("type", TYPES[base]), *([element("dot")] if written != base else [])]


def _time_modification(place: _Place) -> list[Element]:
    if not place.tuplet:
        return []
    actual, normal = place.tuplet
    return [element("time-modification", element("actual-notes", actual), element("normal-notes", normal))]


def _tuplet(place: _Place) -> list[Element]:
    """The beginning or the end of a tuplet's number."""
    if not place.tuplet or place.opens == place.closes:
        return []
    if place.closes:
        return [element("tuplet", type="stop")]
    return [element("tuplet", type="start", bracket=place.bracket, placement="above")]


def _ornaments(stroke: Stroke) -> list[Element]:
    """A diddle is one slash on the stem, which halves the value once; a buzz is the sign of its own."""
    if stroke.ornament is Ornament.DIDDLE:
        return [element("ornaments", element("tremolo", 1, type="single"))]
    if stroke.ornament is Ornament.BUZZ:
        return [element("ornaments", element("tremolo", 0, type="unmeasured"))]
    return []


def _technical(*strokes: Stroke) -> list[Element]:
    marks = [element("fingering", stroke.limb.value, placement="below") for stroke in strokes]
    if strokes[0].sound.open:
        marks.append(element("open", placement="above"))
    return [element("technical", *marks)]


def _articulations(stroke: Stroke) -> list[Element]:
    if stroke.dynamic is not Dynamic.ACCENT:
        return []
    return [element("articulations", element("accent", placement="above"))]


def _notations(marks: Sequence[Element]) -> list[Element]:
    return [element("notations", *marks)] if marks else []
