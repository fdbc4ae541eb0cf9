"""An exercise as plain text, made to be read aloud: a line for each beat."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from ..compose.book import Exercise
from ..pattern.bar import Bar
from ..pattern.counts import Count, counts_of
from ..pattern.stroke import Dynamic, Slot, Stroke
from ..pattern.swell import Swell
from ..wording import wording
from ..wording.sentences import limb_name, sound_word

_UNITS = {Fraction(1, 2): "halves", Fraction(3, 8): "dotted quarters", Fraction(1, 8): "eighths"}
_FEELS = {"swing-8ths": " with swung eighths", "swing-16ths": " with swung sixteenths"}


@dataclass(frozen=True, slots=True)
class Told:
    """What is said of a stroke: which limb, which sound and how it is played, and on which count."""

    limbs: bool = True
    sounds: bool = True
    counts: bool = True


EVERYTHING = Told()


def exercise_text(exercise: Exercise, language: str = "en") -> str:
    """One exercise: number, title, instruction, tempo, then every stroke by bar and count."""
    lines = [f"{exercise.number} {exercise.title}"]
    if exercise.parent_number:
        lines.append(f"Grows out of {exercise.parent_number}.")
    lines += exercise.instruction
    lines.append(_how_played(exercise))
    if exercise.recording:
        lines.append(wording(language).say("exercise.recording", address=exercise.recording))
    if exercise.pattern.pickup:
        lines += ["", f"Pickup into bar 1, {exercise.pattern.pickup.meter}"]
        lines += beat_lines(exercise.pattern.pickup, language)
    endings = dict(_ending_names(exercise))
    for number, bar in enumerate(exercise.pattern.bars, start=1):
        lines += ["", f"{endings.get(number, '')}Bar {number}, {bar.meter}"]
        lines += beat_lines(bar, language, swells=exercise.pattern.swells_over(number - 1))
    return "\n".join(lines) + "\n"


def _how_played(exercise: Exercise) -> str:
    played = "Played again and again" if exercise.plays_on else "Played once"
    if exercise.times or exercise.pattern.endings:
        times = exercise.times or len(exercise.pattern.endings)
        played = "Played once" if times == 1 else f"Played {times} times"
    played += _FEELS.get(exercise.feel, "")
    tempo, unit = exercise.tempo, _UNITS.get(exercise.tempo_unit, "beats")
    if tempo and tempo.start != tempo.goal:
        played += f", from {tempo.start} to {tempo.goal} {unit} a minute"
    elif tempo:
        played += f", at {tempo.start} {unit} a minute"
    return f"{played}. Level {exercise.level}; playable up to {exercise.ceiling}."


def _ending_names(exercise: Exercise) -> Iterator[tuple[int, str]]:
    """What is said before the first bar of each ending, by its number."""
    pattern = exercise.pattern
    bar = pattern.body + 1
    for size, turns in zip(pattern.endings, pattern.turns(exercise.times), strict=True):
        said = f"time {turns[0]}" if len(turns) == 1 else f"times {turns[0]} to {turns[-1]}"
        yield bar, f"Ending for {said}: "
        bar += size


def beat_lines(
    bar: Bar, language: str, told: Told = EVERYTHING, swells: tuple[Swell, ...] = ()
) -> Iterator[str]:
    """For each printed number what is played on it and after it; silence after it is not said.

    `swells` are counted from the barline.
    """
    slots = zip(counts_of(bar), bar.slots, bar.onsets, strict=True)
    for number, counted in groupby(slots, lambda each: each[0].number):
        said = [
            (_word(count), _slot(slot, language, told) + (_swelling(swells, onset) if told.sounds else ""))
            for count, slot, onset in counted
            if slot or count.nth == 1
        ]
        if said:
            words = "; ".join(": ".join(filter(None, pair if told.counts else pair[1:])) for pair in said)
            first = ": " if told.counts and not said[0][0] else " "
            yield f"beat {number}{first}{words}" if told.counts else words


def _swelling(swells: tuple[Swell, ...], moment: Fraction) -> str:
    """What is said of the swells that end and begin at a moment."""
    ends = [", to here" for swell in swells if swell.end == moment]
    begins = [f", {'louder' if swell.louder else 'softer'} from here" for swell in swells if swell.start == moment]
    return "".join((*ends, *begins))


def _word(count: Count) -> str:
    """What is said for a slot after its number; nothing for the number itself."""
    return "" if count.nth == 1 else count.syllable or str(count.nth)


def _slot(slot: Slot, language: str, told: Told) -> str:
    return " with ".join(_stroke(stroke, language, told) for stroke in slot) or "silence"


def _stroke(stroke: Stroke, language: str, told: Told) -> str:
    said = [limb_name(stroke.limb, language)] if told.limbs else []
    if told.sounds:
        said.append(sound_word(stroke.sound, language))
    if stroke.dynamic is not Dynamic.PLAIN and told.sounds:
        said.append(stroke.dynamic.value)
    if stroke.ornament and told.sounds:
        said.append(stroke.ornament.value)
    return ", ".join(said)
