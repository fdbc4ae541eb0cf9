"""What an author wrote, as text in mappings and lists, with the place of everything in it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any, NamedTuple

from yaml import ScalarEvent

from ..problem import Mark
from ..text_file import short

Step = str | int
"""One step down into what was written: a mapping's key, or a number in a list, from 0."""

Event = Any
"""An event of the YAML parser: it knows its start and its end (which PyYAML's stubs leave open)."""

KEY = "[key]"
"""As the last step of a path: the key itself instead of its value (pydantic writes it so)."""


class Unreadable:
    """Stands where a value could not be read and a problem has been reported already."""

    def __repr__(self) -> str:
        """For a debugger."""
        return "UNREADABLE"


UNREADABLE = Unreadable()


class WrittenMap(dict[str, Any]):
    """A mapping as written.

    `keys_at` and `values_at` hold the event of each key and value. `broken` says that a problem with the YAML
    was reported inside it, `cut` that a part of it is lost, so that keys may be missing. `known` are
    the keys that it may have, noted by the model that reads it.
    """

    __slots__ = ("broken", "cut", "event", "file", "keys_at", "known", "values_at")

    def __init__(self, file: Path, event: Event) -> None:
        super().__init__()
        self.file = file
        self.event = event
        self.keys_at: dict[str, Event] = {}
        self.values_at: dict[str, Event] = {}
        self.broken = False
        self.cut = False
        self.known: tuple[str, ...] = ()

    def put(self, key: str, value: Any, key_at: Event, value_at: Event) -> None:
        """Enter a value and where it and its key stand."""
        self[key] = value
        self.keys_at[key] = key_at
        self.values_at[key] = value_at

    @property
    def mark(self) -> Mark:
        """Where the mapping begins."""
        return mark_of(self.file, self.event)


class WrittenList(list[Any]):
    """A list as written; `values_at` holds the event of each value."""

    __slots__ = ("broken", "cut", "event", "file", "values_at")

    def __init__(self, file: Path, event: Event) -> None:
        super().__init__()
        self.file = file
        self.event = event
        self.values_at: list[Event] = []
        self.broken = False
        self.cut = False

    def put(self, value: Any, value_at: Event) -> None:
        """Add a value and where it stands."""
        self.append(value)
        self.values_at.append(value_at)


Written = WrittenMap | WrittenList


def mark_of(file: Path, event: Event, offset: int = 0) -> Mark:
    """Where an event begins; `offset` characters on where it is a scalar written as it reads, on one line."""
    start, end = event.start_mark, event.end_mark
    column = start.column + 1
    if offset and isinstance(event, ScalarEvent) and start.line == end.line:
        quotes = 1 if event.style in ("'", '"') else 0
        if end.column - start.column == len(event.value) + 2 * quotes:
            column += offset + quotes
    return Mark(file, start.line + 1, column)


class Found(NamedTuple):
    """What a path leads to: its event, and the mapping that it stands in (or is)."""

    event: Event
    inside: WrittenMap | None


def find(root: Written, path: Iterable[Step]) -> Found:
    """Follow a path as far as what was written goes; steps that are not there are passed over.

    So a path works as well where one value stands alone for a list or for a step's only parameter.
    """
    here: Any = root
    event = root.event
    key_event = root.event
    inside = root if isinstance(root, WrittenMap) else None
    for step in path:
        if step == KEY:
            event = key_event
        elif isinstance(here, WrittenMap) and isinstance(step, str) and step in here:
            inside, event, key_event = here, here.values_at[step], here.keys_at[step]
            here = here[step]
        elif isinstance(here, WrittenList) and isinstance(step, int) and step < len(here):
            event = key_event = here.values_at[step]
            here = here[step]
        if isinstance(here, WrittenMap):
            inside = here
    return Found(event, inside)


def mark_in(root: Written, path: Iterable[Step], offset: int = 0) -> Mark:
    """Where the value stands that a path leads to, or the nearest thing around it."""
    return mark_of(root.file, find(root, path).event, offset)


def shown(value: Any) -> str:
    """A value as a message names it."""
    if isinstance(value, WrittenMap):
        return "a mapping"
    if isinstance(value, list):
        return "a list"
    return f"'{short(str(value))}'"
