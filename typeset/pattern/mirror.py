"""A left-handed copy: the hands change places, the feet, the sounds and the time stay."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

from .limb import Limb
from .sound import Sound
from .stroke import Stroke, slot_of

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
        turned = tuple(_mirrored(part) for part in value)
        return slot_of(turned) if _is_slot(turned) else turned
    if is_dataclass(value) and not isinstance(value, type):
        return replace(value, **{part.name: _mirrored(getattr(value, part.name)) for part in fields(value)})
    return value


def _is_slot(parts: tuple[Any, ...]) -> bool:
    """True for strokes of one moment, which are kept in the order of limbs."""
    return len(parts) > 1 and all(isinstance(part, Stroke) for part in parts)
