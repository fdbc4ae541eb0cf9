"""A step as plain data: what an author would have to write to say it."""

from __future__ import annotations

from dataclasses import MISSING, Field, fields
from enum import Enum
from typing import Any

from ..counts import Place
from ..grid import Grid
from ..meter import Meter
from ..selection import Selection
from ..sound import Sound
from .step import Source, Step


def as_data(step: Step) -> dict[str, Any]:
    """A mapping with one key, as it stands in a list of steps; text, numbers, lists and mappings alone.

    Read again, it gives an equal step. What the step leaves at its default is left out.
    """
    said: dict[str, Any] = {}
    for parameter in fields(step):
        value = getattr(step, parameter.name)
        if value == _default(parameter):
            continue
        if isinstance(value, Selection):
            said |= _selection(value)
        else:
            said[_written(parameter.name)] = _plain(value)
    alone = next((_written(one.name) for one in fields(step) if one.metadata.get("alone")), None)
    if alone is not None and (not said or list(said) == [alone]):
        return {step.key: said.get(alone, "yes")}
    return {step.key: said}


def _selection(selection: Selection) -> dict[str, Any]:
    """The keys of a selection, which stand among the step's own."""
    return {
        _written(key.name): _plain(getattr(selection, key.name))
        for key in fields(selection)
        if getattr(selection, key.name) != key.default
    }


def _plain(value: Any) -> Any:
    match value:
        case Enum():
            return value.value
        case Sound():
            return value.name
        case Place() | Meter():
            return str(value)
        case Grid():
            return list(value.names)
        case Source():
            return value.name
        case bool():
            return "yes" if value else "no"
        case tuple() if value and all(isinstance(pair, tuple) for pair in value):
            return {_plain(key): _plain(part) for key, part in value}
        case tuple():
            return [_plain(part) for part in value]
        case int() | str():
            return str(value)
    raise TypeError(f"a step's parameter of type {type(value).__name__} has no plain form")


def _written(name: str) -> str:
    return name.rstrip("_").replace("_", "-")


def _default(parameter: Field[Any]) -> Any:
    return parameter.default_factory() if parameter.default_factory is not MISSING else parameter.default
