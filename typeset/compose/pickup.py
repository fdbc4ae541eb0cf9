"""What is played before an exercise's first bar."""

from __future__ import annotations

from dataclasses import replace

from ..manuscript.exercise import ExerciseText
from ..pattern.bar import pickup_bar
from ..pattern.draft import Draft
from .ground import Refusal


def with_pickup(draft: Draft, text: ExerciseText) -> Draft:
    """A draft with what its author wants played before bar 1, on the sounds in force. Raises Refusal."""
    if text.pickup is None:
        return draft
    voices, meter = dict(draft.voices), draft.pattern.bars[0].meter
    slots = [tuple(stroke.on(voices.get(stroke.limb, stroke.sound)) for stroke in slot) for slot in text.pickup]
    try:
        pickup = pickup_bar(meter, draft.grid, slots)
    except ValueError as error:
        raise Refusal(text.marks("pickup"), str(error)) from None
    return replace(draft, pattern=replace(draft.pattern, pickup=pickup))
