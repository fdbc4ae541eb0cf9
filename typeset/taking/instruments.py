"""Which sound a note of a MusicXML part is: by its instrument's MIDI key or name, else by its place and head."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from ..pattern.sound import SOUNDS, Head, Sound
from .keys import doubts_on, key_name, sounds_of
from .marks import number_in

_STEPS = "CDEFGAB"
_MIDDLE_LINE = 4 * 7 + _STEPS.index("B")
"""B of octave 4, in steps from C of octave 0: a percussion clef is read like a treble clef."""

_HEADS = {
    "normal": Head.NORMAL, "x": Head.CROSS, "cross": Head.CROSS, "diamond": Head.DIAMOND,
    "triangle": Head.TRIANGLE, "slashed": Head.SLASHED, "slash": Head.SLASHED, "back slashed": Head.SLASHED,
    "circle-x": Head.CIRCLED_CROSS, "circled": Head.CIRCLED_CROSS, "inverted triangle": Head.TRIANGLE,
}  # fmt: skip
"""What the standard calls our heads, and heads that are drawn much like them."""

# What names of instruments hold, the telling words first. Common practice, no source.
_WORDS = (
    ("pedal hi-hat", "hi-hat-foot"), ("foot hi-hat", "hi-hat-foot"), ("hi-hat foot", "hi-hat-foot"),
    ("hi-hat pedal", "hi-hat-foot"), ("open hi-hat", "open-hi-hat"), ("hi-hat open", "open-hi-hat"),
    ("half open", "open-hi-hat"), ("hi-hat", "hi-hat"), ("ride bell", "ride-bell"), ("bell of ride", "ride-bell"),
    ("ride", "ride"), ("splash", "splash"), ("china", "china"), ("chinese", "china"), ("crash", "crash"),
    ("cowbell", "cowbell"), ("cross stick", "cross-stick"), ("side stick", "cross-stick"),
    ("rim shot", "rim-shot"), ("rimshot", "rim-shot"), ("snare", "snare"), ("floor tom", "floor-tom"),
    ("low tom", "floor-tom"), ("mid tom", "mid-tom"), ("middle tom", "mid-tom"), ("high tom", "high-tom"),
    ("hi tom", "high-tom"), ("bass drum", "kick"), ("kick", "kick"),
)  # fmt: skip


@dataclass(frozen=True)
class Instruments:
    """The instruments of a part by their ids. `keys` are General MIDI's, `names` in small letters.

    `says_places` is true where one instrument stands for a whole kit, so that only the staff says what is
    meant.
    """

    keys: Mapping[str, int]
    names: Mapping[str, str]
    says_places: bool

    @classmethod
    def of(cls, entry: Element, notes: Iterator[Element]) -> Instruments:
        """A part's instruments by its entry in the part list, and its notes."""
        keys: dict[str, int] = {}
        for midi in entry.iterfind("midi-instrument"):
            key = number_in(midi.findtext("midi-unpitched"))
            if key is not None:
                keys[midi.get("id", "")] = int(key) - 1  # the standard counts them from 1
        names = {
            one.get("id", ""): _plain(one.findtext("instrument-name") or "")
            for one in entry.iterfind("score-instrument")
        }
        places = {_place_and_head(note) for note in notes}
        return cls(keys, names, says_places=len(names) <= 1 < len(places))

    def sound(self, note: Element) -> Sound | None:
        """What a note sounds; None where nothing of ours stands for it."""
        found = self._named(note) or self._placed(note)
        is_open = note.find("notations/technical/open") is not None
        return SOUNDS["open-hi-hat"] if is_open and found == SOUNDS["hi-hat"] else found

    def name(self, note: Element) -> str:
        """What a note that nothing stands for is called in a message."""
        instrument = self._instrument(note)
        if instrument in self.keys and not self.says_places:
            return key_name(self.keys[instrument])
        step, octave = note.findtext("unpitched/display-step"), note.findtext("unpitched/display-octave")
        return self.names.get(instrument) or f"a head on {step}{octave}"

    def doubts(self) -> Iterator[str]:
        """What could also be meant."""
        if not self.says_places:
            yield from doubts_on(set(self.keys.values()))

    def _named(self, note: Element) -> Sound | None:
        instrument = self._instrument(note)
        if self.says_places:
            return None
        if instrument in self.keys:
            return sounds_of(set(self.keys.values())).get(self.keys[instrument])
        name = self.names.get(instrument, "")
        return next((SOUNDS[sound] for words, sound in _WORDS if words in name), None)

    def _placed(self, note: Element) -> Sound | None:
        """The sound that stands at the note's place with its head; with another head, the drum there."""
        if self._instrument(note) in self.keys and not self.says_places:
            return None
        place, head = _place_and_head(note)
        there = [sound for sound in SOUNDS.values() if sound.place == place and not sound.open]
        return next((sound for sound in there if sound.head is head), there[0] if there else None)

    def _instrument(self, note: Element) -> str:
        named = note.find("instrument")
        only = next(iter(self.names)) if len(self.names) == 1 else ""
        return named.get("id", "") if named is not None else only


def _plain(name: str) -> str:
    """An instrument's name in small letters, with the one spelling of the hi-hat that we look for."""
    words = " ".join(name.lower().replace("-", " ").replace("_", " ").split())
    return words.replace("hi hat", "hi-hat").replace("hihat", "hi-hat").replace("high hat", "hi-hat")


def _place_and_head(note: Element) -> tuple[int | None, Head]:
    """Where a note stands, in steps from the middle line, and its head."""
    head = _HEADS.get(note.findtext("notehead") or "normal", Head.NORMAL)
    step, octave = note.findtext("unpitched/display-step"), number_in(note.findtext("unpitched/display-octave"))
    if not step or step not in _STEPS or octave is None:
        return None, head
    return int(octave) * 7 + _STEPS.index(step) - _MIDDLE_LINE, head
