"""A part of a MusicXML score, measure by measure: notes at their times, and what is written between them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction
from xml.etree.ElementTree import Element

from ..pattern.grid import QUARTER
from ..pattern.meter import COMMON_TIME, Meter
from ..pattern.stroke import Ornament
from .instruments import Instruments
from .marks import dynamic_of, limbs_of, number_in, ornament_of, tuplet_of
from .meters import meter_of
from .piece import Measure, Note, Remark
from .swells import Hairpin
from .tree import Document
from .words import Words, words_in

_NOT_FOLLOWED = {
    "segno": "a segno", "coda": "a coda", "dynamics": "dynamics under the staff",
    "octave-shift": "an octave shift", "percussion": "a picture of a drum",
}  # fmt: skip


_BEFORE = Fraction(-1, 1024)
"""Just before a barline: the end of a hairpin that ends there."""


@dataclass(frozen=True)
class Written:
    """A measure as written: its music, its length, what is said at it, how it repeats.

    `ends_repeat` is how often what it ends is played, None where it ends nothing; 0 where that is not said.
    `only_on` are the passes it is played on, all of them where it is empty; `hairpins` what begins and ends
    there. `repeats_last` is how many
    measures before it are meant again.
    """

    measure: Measure
    length: Fraction
    words: Words
    is_pickup: bool
    begins_repeat: bool = False
    ends_repeat: int | None = None
    only_on: tuple[int, ...] = ()
    hairpins: tuple[Hairpin, ...] = ()
    repeats_last: int = 0


@dataclass
class Staff:
    """Reads a part's measures in order; what holds from one to the next is kept here."""

    document: Document
    instruments: Instruments
    divisions: Fraction = Fraction(1)
    meter: Meter | None = COMMON_TIME
    passes: tuple[int, ...] = ()
    again: int = 0
    remarks: list[Remark] = field(default_factory=list)
    doubts: list[str] = field(default_factory=list)

    def read(self, part: list[Element]) -> list[Written]:
        """The measures of the part; those in a meter that is not offered are left out."""
        return [written for element in part if (written := self._measure(element))]

    def _measure(self, element: Element) -> Written | None:
        begins, ends, closes = False, None, False
        cursor = _Cursor()
        for child in element:
            match child.tag:
                case "attributes":
                    self._attributes(child)
                case "note":
                    self._note(child, cursor)
                case "backup" | "forward":
                    cursor.move(self._duration(child) * (-1 if child.tag == "backup" else 1))
                case "barline":
                    self._ending(child)
                    closes = closes or _closes_ending(child)
                    repeat = child.find("repeat")
                    if repeat is not None and repeat.get("direction") == "forward":
                        begins = True
                    elif repeat is not None:
                        ends = _number(repeat.get("times"), 0)
                case "direction":
                    self._note_what_is_not_followed(child)
                    for wedge in child.iterfind("direction-type/wedge"):
                        cursor.hairpin(wedge.get("type", ""))
        passes = self.passes
        if closes:
            self.passes = ()
        if self.meter is None:
            self._remark(element, "a measure in a meter that is not offered is left out")
            return None
        return self._written(element, cursor, Written(
            Measure(self.meter), cursor.longest, words_in(element, self.meter), element.get("implicit") == "yes",
            begins, ends, passes, tuple(cursor.hairpins), self.again,
        ))  # fmt: skip

    def _written(self, element: Element, cursor: _Cursor, written: Written) -> Written:
        meter = written.measure.meter
        kept = [note for note in cursor.notes if note.onset < meter.length]
        if len(kept) < len(cursor.notes):
            self._remark(element, f"what is longer than a bar of {meter} is left out")
        grids = {quarter: name for quarter, name in cursor.grids.items() if quarter * QUARTER < meter.length}
        is_pickup = written.is_pickup or element.get("number") == "0"
        return replace(written, measure=Measure(meter, tuple(kept), grids), is_pickup=is_pickup)

    def _attributes(self, attributes: Element) -> None:
        self.divisions = number_in(attributes.findtext("divisions")) or self.divisions
        time = attributes.find("time")
        if time is not None:
            self._time(time)
        repeat = attributes.find("measure-style/measure-repeat")
        if repeat is not None:
            self.again = _number(repeat.text, 1) if repeat.get("type") == "start" else 0

    def _time(self, time: Element) -> None:
        """Take in a meter. Composite ones, such as 3/8 + 2/4, are none of ours."""
        tops = [(beats.text or "").strip() for beats in time.iterfind("beats")]
        bottoms = [(beats.text or "").strip() for beats in time.iterfind("beat-type")]
        doubt = None
        self.meter = None
        if len(set(bottoms)) == 1:
            self.meter, doubt = meter_of("+".join(tops), bottoms[0])
        if self.meter is None:
            said = " + ".join(f"{top}/{bottom}" for top, bottom in zip(tops, bottoms, strict=False))
            self._remark(time, f"{said or 'music without a meter'} is not offered")
        if doubt:
            self.doubts.append(doubt)

    def _note(self, note: Element, cursor: _Cursor) -> None:
        if note.find("cue") is not None:
            return
        is_grace = note.find("grace") is not None
        onset = cursor.last if note.find("chord") is not None else cursor.now
        name = tuplet_of(note)
        if name and not is_grace:
            cursor.grids[int(onset / QUARTER)] = name
        if not is_grace and note.find("chord") is None:
            cursor.step(self._duration(note))
        is_held = any(tie.get("type") == "stop" for tie in note.iterfind("tie"))
        if note.find("rest") is not None or is_held:
            return
        sound = self.instruments.sound(note)
        if sound is None:
            self._remark(note, f"no sound of ours stands for {self.instruments.name(note)}; left out")
        elif is_grace:
            cursor.graces.append(sound.name)
        else:
            ornament, doubt = ornament_of(note)
            if doubt:
                self.doubts.append(doubt)
            graced = cursor.graces.count(sound.name)
            if graced:
                self._graced(note, graced)
                ornament = Ornament.FLAM if graced == 1 else Ornament.DRAG
                cursor.graces = [name for name in cursor.graces if name != sound.name]
            cursor.notes.append(Note(onset, sound, dynamic_of(note), ornament, limbs_of(note)))

    def _graced(self, note: Element, graces: int) -> None:
        if graces > 2:
            self._remark(note, f"{graces} grace notes are read as a drag, which has two")

    def _duration(self, element: Element) -> Fraction:
        return (number_in(element.findtext("duration")) or Fraction(0)) / (4 * self.divisions)

    def _ending(self, barline: Element) -> None:
        ending = barline.find("ending")
        if ending is not None and ending.get("type") == "start":
            numbers = (number_in(number) for number in ending.get("number", "").split(","))
            self.passes = tuple(int(number) for number in numbers if number)

    def _note_what_is_not_followed(self, direction: Element) -> None:
        for kind in direction.iterfind("direction-type/*"):
            if kind.tag in _NOT_FOLLOWED:
                self._remark(direction, f"{_NOT_FOLLOWED[kind.tag]} cannot be said; left out")
        sound = direction.find("sound")
        if sound is not None and {"dacapo", "dalsegno", "tocoda", "fine"} & set(sound.keys()):
            self._remark(direction, "jumps (da capo, dal segno, coda) are not followed; write them out")

    def _remark(self, element: Element, what: str) -> None:
        if all(remark.what != what for remark in self.remarks):
            self.remarks.append(Remark(what, self.document.line(element)))


@dataclass
class _Cursor:
    """Where in a measure reading stands, in whole notes, and what was found there."""

    now: Fraction = Fraction(0)
    last: Fraction = Fraction(0)
    longest: Fraction = Fraction(0)
    notes: list[Note] = field(default_factory=list)
    graces: list[str] = field(default_factory=list)
    stopped_at: tuple[Fraction, int] | None = None
    grids: dict[int, str] = field(default_factory=dict)
    hairpins: list[Hairpin] = field(default_factory=list)

    def hairpin(self, kind: str) -> None:
        """A hairpin's beginning or end: it takes in the last note before its end, unless the next begins there."""
        if kind in ("crescendo", "diminuendo"):
            if self.hairpins and self.hairpins[-1][1] == "stop" and self.stopped_at == (self.now, len(self.notes)):
                self.hairpins[-1] = (self.now, "stop")
            self.hairpins.append((self.now, kind))
        elif kind == "stop":
            self.stopped_at = (self.now, len(self.notes))
            last = max((note.onset for note in self.notes if note.onset < self.now), default=_BEFORE)
            self.hairpins.append((last, "stop"))

    def step(self, length: Fraction) -> None:
        """Go on by a note or a rest."""
        self.last = self.now
        self.move(length)

    def move(self, length: Fraction) -> None:
        """Go forward, or back for another voice."""
        self.now = max(self.now + length, Fraction(0))
        self.longest = max(self.longest, self.now)


def _closes_ending(barline: Element) -> bool:
    ending = barline.find("ending")
    return ending is not None and ending.get("type") in ("stop", "discontinue")


def _number(text: str | None, otherwise: int) -> int:
    found = number_in(text)
    return otherwise if found is None else int(found)


def struck_in(part: list[Element]) -> Iterator[Element]:
    """The notes of a part that are struck on something without a pitch."""
    return (note for measure in part for note in measure.iterfind("note") if note.find("unpitched") is not None)
