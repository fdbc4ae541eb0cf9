"""What a book shows outside its exercises: a note for each sound, tempo and way to play."""

from __future__ import annotations

from collections.abc import Iterable

from ..pattern.sound import SOUNDS
from ..pattern.stroke import Dynamic
from .book import Exercise
from .engraving import Engraving, NoteSpecimen, SoundSpecimen, StrokeSpecimen


def specimens_of(exercises: Iterable[Exercise]) -> tuple[Engraving, ...]:
    """Only what these exercises use, each once, sounds and kinds of strokes in the order of their tables."""
    exercises = tuple(exercises)
    strokes = {stroke for exercise in exercises for stroke in exercise.pattern.strokes}
    sounds = {stroke.sound.name for stroke in strokes}
    kinds = {stroke.dynamic.value for stroke in strokes} | {
        stroke.ornament.value for stroke in strokes if stroke.ornament
    }
    units = sorted({exercise.tempo_unit for exercise in exercises if exercise.tempo})
    known = [*(dynamic.value for dynamic in Dynamic), "flam", "drag", "buzz", "diddle"]
    return (
        *(SoundSpecimen(sound) for name, sound in SOUNDS.items() if name in sounds),
        *(StrokeSpecimen(kind) for kind in known if kind in kinds),
        *(NoteSpecimen(unit) for unit in units),
    )
