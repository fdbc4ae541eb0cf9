"""Steps and orders as an author writes them in YAML: by the steps' own declarations, as they are read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import MISSING, fields
from enum import Enum
from itertools import groupby
from typing import Any

from ..pattern.order import Order, write_order
from ..pattern.selection import Selection
from ..pattern.sound import Sound
from ..pattern.steps.step import Source, Step

WIDEST = 112
"""The longest line that is written before it goes on below."""


def step_text(step: Step) -> str:
    """A step as one line: `accent: [2, 4]`, `move: {at: 3, to: high-tom}`."""
    return f"{step.key}: {_value(step)}"


def selection_text(selection: Selection) -> str:
    """A selection as one line: a list of counts, or a mapping of what has to hold."""
    said = dict(_chosen(selection))
    return said["at"] if list(said) == ["at"] else _mapping(said)


def _value(step: Step) -> str:
    said = dict(_parameters(step))
    if list(said) == ["at"]:
        return said["at"]
    alone = next((field.name for field in fields(step) if field.metadata.get("alone")), None)
    if alone and list(said) == [_hyphened(alone)]:
        return said[_hyphened(alone)]
    return _mapping(said)


def _parameters(step: Step) -> Iterator[tuple[str, str]]:
    """Each parameter that says something, by its key."""
    for field in fields(step):
        value = getattr(step, field.name)
        if isinstance(value, Selection):
            yield from _chosen(value)
        elif field.default is MISSING or value != field.default or field.name == "by":
            yield _hyphened(field.name), _written(value)


def _chosen(selection: Selection) -> Iterator[tuple[str, str]]:
    for field in fields(selection):
        value = getattr(selection, field.name)
        if value != field.default:
            yield _hyphened(field.name), "yes" if value is True else _written(value)


def _hyphened(name: str) -> str:
    return name.rstrip("_").replace("_", "-")


def _mapping(said: dict[str, str]) -> str:
    return "{" + ", ".join(f"{key}: {value}" for key, value in said.items()) + "}"


def _written(value: Any) -> str:
    match value:
        case Sound():
            return value.name
        case Source():
            return value.name
        case Enum():
            return str(value.value)
        case tuple() if value and isinstance(value[0], tuple):
            return _mapping({_written(left): _written(right) for left, right in value})
        case tuple():
            return _written(value[0]) if len(value) == 1 else "[" + ", ".join(map(_written, value)) + "]"
        case _:
            return str(value)


def folded(text: str, indent: str) -> str:
    """A line that is broken after commas where it is too long; what follows is indented further."""
    lines = [""]
    for part in text.split(", "):
        joined = f"{lines[-1]}, {part}" if lines[-1] else part
        if len(joined) + len(indent) > WIDEST and lines[-1]:
            lines[-1] += ","
            lines.append(f"{indent}    {part}")
        else:
            lines[-1] = joined
    return "\n".join(lines)


def order_lines(order: Order, sizes: Sequence[int]) -> list[str]:
    """An order in lines of one bar each, of `sizes` slots, where it has several; bars that follow each other
    and are alike are one line that says how often."""
    if len(sizes) < 2 or sum(sizes) != len(order):
        return _wrapped(write_order(order))
    bars: list[str] = []
    start = 0
    for size in sizes:
        bars.append(write_order(order[start : start + size]))
        start += size
    counted = [(bar, len(list(same))) for bar, same in groupby(bars)]
    return [line for bar, count in counted for line in _wrapped(f"({bar})x{count}" if count > 1 else bar)]


def _wrapped(text: str) -> list[str]:
    lines = [""]
    for word in text.split(" "):
        joined = f"{lines[-1]} {word}".strip()
        if len(joined) > WIDEST - 8 and lines[-1]:
            lines.append(word)
        else:
            lines[-1] = joined
    return lines
