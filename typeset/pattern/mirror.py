"""A left-handed copy: the hands change places, the feet, the sounds and the time stay."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from functools import lru_cache
from typing import Any, TypeVar

from .limb import Limb
from .sound import Sound
from .stroke import Slot, Stroke, slot_of

Value = TypeVar("Value")


def mirrored(value: Value) -> Value:
    """The same value with right and left hands exchanged wherever it names a limb.

    Takes any value of the music: a stroke, a slot, a pattern, a step.
    """
    return _mirrored(value)  # type: ignore[no-any-return]


def _mirrored(value: Any) -> Any:
    if isinstance(value, Limb):
        return value.mirrored
    if isinstance(value, Sound):
        return value
    if isinstance(value, tuple):
        return _mirrored_slot(value) if _is_slot(value) else tuple(_mirrored(part) for part in value)
    if is_dataclass(value) and not isinstance(value, type):
        return replace(value, **{part.name: _mirrored(getattr(value, part.name)) for part in fields(value)})
    return value


def _is_slot(parts: tuple[Any, ...]) -> bool:
    """True for strokes of one moment, which are kept in the order of limbs."""
    return bool(parts) and all(isinstance(part, Stroke) for part in parts)


@lru_cache(maxsize=4096)
def _mirrored_slot(slot: Slot) -> Slot:
    """The strokes of one moment; a book has few different ones, again and again."""
    return slot_of(replace(stroke, limb=stroke.limb.mirrored) for stroke in slot)
