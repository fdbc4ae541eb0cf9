"""An exercise as plain text, made to be read aloud: a line for each beat."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache, partial
from itertools import groupby, repeat

from ..compose.book import Exercise
from ..pattern.bar import Bar
from ..pattern.counts import Count, counts_of
from ..pattern.stroke import Dynamic, Slot, Stroke
from ..pattern.swell import Swell
from ..wording import Wording, wording
from ..wording.lettering import AS_WRITTEN, Lettering
from ..wording.markup import unmarked
from ..wording.sentences import limb_name, sound_word

_UNITS = {
    Fraction(1, 2): "halves",
    Fraction(3, 8): "dotted-quarters",
    Fraction(1, 4): "quarters",
    Fraction(1, 8): "eighths",
}


@dataclass(frozen=True, slots=True)
class Told:
    """What is said of a stroke: which limb, which sound and how it is played, and on which count, by what
    syllables."""

    limbs: bool = True
    sounds: bool = True
    counts: bool = True
    lettering: Lettering = AS_WRITTEN


EVERYTHING = Told()


def exercise_text(exercise: Exercise, language: str = "en") -> str:
    """One exercise: number, title, instruction, tempo, then every stroke by bar and count."""
    words = wording(language)
    lines = [f"{exercise.number} {exercise.title}"]
    if exercise.parent_number:
        lines.append(words.say("spoken.lineage", number=exercise.parent_number))
    lines += map(unmarked, exercise.instruction) if exercise.said else exercise.instruction
    lines.append(_how_played(exercise, words))
    if exercise.recording:
        lines.append(words.say("exercise.recording", address=exercise.recording))
    if exercise.pattern.pickup:
        lines += ["", words.say("spoken.pickup-into", meter=exercise.pattern.pickup.meter)]
        lines += beat_lines(exercise.pattern.pickup, language)
    endings = dict(_ending_names(exercise, words))
    for number, bar in enumerate(exercise.pattern.bars, start=1):
        lines += ["", endings.get(number, "") + words.say("spoken.bar", number=number, meter=bar.meter)]
        lines += beat_lines(bar, language, swells=exercise.pattern.swells_over(number - 1))
    return "\n".join(lines) + "\n"


def _how_played(exercise: Exercise, words: Wording) -> str:
    """How often and how fast it is played, and how hard it is."""
    key = "spoken.played"
    times = exercise.times or len(exercise.pattern.endings)
    played = words[f"{key}.on"] if exercise.plays_on and not times else words.count(key, times or 1)
    if f"{key}.{exercise.feel}" in words:
        played += words[f"{key}.{exercise.feel}"]
    if exercise.tempo:
        start, goal = exercise.tempo.start, exercise.tempo.goal
        unit = words[f"spoken.units.{_UNITS[exercise.tempo_unit]}"]
        played += words.say(f"{key}.{'at' if start == goal else 'from'}", start=start, goal=goal, unit=unit)
    return words.say("spoken.how", played=played, level=exercise.level, ceiling=exercise.ceiling)


def _ending_names(exercise: Exercise, words: Wording) -> Iterator[tuple[int, str]]:
    """What is said before the first bar of each ending, by its number."""
    pattern = exercise.pattern
    bar = pattern.body + 1
    for size, turns in zip(pattern.endings, pattern.turns(exercise.times), strict=True):
        yield bar, words.count("spoken.ending-for", len(turns), first=turns[0], last=turns[-1])
        bar += size


def beat_lines(bar: Bar, language: str, told: Told = EVERYTHING, swells: tuple[Swell, ...] = ()) -> Iterator[str]:
    """For each printed number what is played on it and after it; silence after it is not said.

    `swells` are counted from the barline.
    """
    words = wording(language)
    colon, then = words["spoken.colon"], words["spoken.then"]
    slot_words = _slot_words(language, told)
    swelling = [_swelling(swells, onset, words, told) for onset in bar.onsets] if swells else repeat("")
    slots = zip(counts_of(bar), bar.slots, swelling, strict=False)
    for number, counted in groupby(slots, _number):
        said = [
            (_word(count, told), slot_words(slot) + swells_here)
            for count, slot, swells_here in counted
            if slot or count.nth == 1
        ]
        if said:
            strokes = then.join(colon.join(filter(None, pair if told.counts else pair[1:])) for pair in said)
            first = colon if told.counts and not said[0][0] else " "
            beat = words.say("spoken.beat", number=number)
            yield f"{beat}{first}{strokes}" if told.counts else strokes


def _number(counted: tuple[Count, Slot, str]) -> int:
    """The printed number that a slot follows."""
    return counted[0].number


def _swelling(swells: tuple[Swell, ...], moment: Fraction, words: Wording, told: Told) -> str:
    """What is said of the swells that end and begin at a moment, where sounds are told."""
    if not told.sounds:
        return ""
    ends = ["to-here" for swell in swells if swell.end == moment]
    begins = ["louder" if swell.louder else "softer" for swell in swells if swell.start == moment]
    return "".join(f", {words[f'spoken.{way}']}" for way in (*ends, *begins))


def _word(count: Count, told: Told) -> str:
    """What is said for a slot after its number; nothing for the number itself."""
    if count.nth == 1:
        return ""
    return told.lettering.syllable(count.syllable) if count.syllable else str(count.nth)


@lru_cache(maxsize=64)
def _slot_words(language: str, told: Told) -> Callable[[Slot], str]:
    """What is said of slots. Music is made of few that come again and again, so each is put into words once."""
    return lru_cache(maxsize=4096)(partial(_slot, words=wording(language), told=told))


def _slot(slot: Slot, words: Wording, told: Told) -> str:
    strokes = (_stroke(stroke, words, told) for stroke in slot)
    return words["spoken.together"].join(strokes) or words["spoken.silence"]


def _stroke(stroke: Stroke, words: Wording, told: Told) -> str:
    said = [limb_name(stroke.limb, words.language)] if told.limbs else []
    if told.sounds:
        said.append(sound_word(stroke.sound, words.language))
    if stroke.dynamic is not Dynamic.PLAIN and told.sounds:
        said.append(words[f"spoken.{stroke.dynamic.value}"])
    if stroke.ornament and told.sounds:
        said.append(words[f"spoken.{stroke.ornament.value}"])
    if stroke.graces and told.sounds and told.limbs:
        said.append(words.say("spoken.grace", limb=limb_name(stroke.graces[0], words.language)))
    return ", ".join(said)
