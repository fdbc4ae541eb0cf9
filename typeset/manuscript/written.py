"""What an author wrote, as text in mappings and lists, with the place of everything in it."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from pathlib import Path
from typing import Any, NamedTuple

import yaml

from ..problem import Mark

Step = str | int
"""One step down into what was written: a mapping's key, or a number in a list, from 0."""

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

    `keys_at` and `values_at` hold the YAML event of each key and value. `broken` says that a problem was
    reported inside it, `cut` that the YAML broke off there, so that keys may be missing. `readers`
    are the keys that it may have, noted by the model that reads it.
    """

    __slots__ = ("broken", "cut", "event", "file", "keys_at", "readers", "values_at")

    def __init__(self, file: Path, event: yaml.Event) -> None:
        super().__init__()
        self.file = file
        self.event = event
        self.keys_at: dict[str, yaml.Event] = {}
        self.values_at: dict[str, yaml.Event] = {}
        self.broken = False
        self.cut = False
        self.readers: tuple[str, ...] = ()

    def put(self, key: str, value: Any, key_at: yaml.Event, value_at: yaml.Event) -> None:
        """Enter a value and where it and its key stand."""
        self[key] = value
        self.keys_at[key] = key_at
        self.values_at[key] = value_at

    @property
    def mark(self) -> Mark:
        """Where the mapping begins."""
        return mark_of(self.file, self.event)


class WrittenList(list[Any]):
    """A list as written; `values_at` holds the YAML event of each value."""

    __slots__ = ("broken", "cut", "event", "file", "values_at")

    def __init__(self, file: Path, event: yaml.Event) -> None:
        super().__init__()
        self.file = file
        self.event = event
        self.values_at: list[yaml.Event] = []
        self.broken = False
        self.cut = False

    def put(self, value: Any, value_at: yaml.Event) -> None:
        """Add a value and where it stands."""
        self.append(value)
        self.values_at.append(value_at)

    def wrapped(self, index: int, key: str) -> WrittenMap:
        """A value of the list as if it had been written as a mapping with this one key."""
        at = self.values_at[index]
        made = WrittenMap(self.file, at)
        made.put(key, self[index], at, at)
        return made


Written = WrittenMap | WrittenList


def mark_of(file: Path, event: yaml.Event, offset: int = 0) -> Mark:
    """Where an event begins; `offset` characters on where it is a scalar written as it reads, on one line."""
    start, end = event.start_mark, event.end_mark
    column = start.column + 1
    if offset and isinstance(event, yaml.ScalarEvent) and start.line == end.line:
        quotes = 1 if event.style in ("'", '"') else 0
        if end.column - start.column == len(event.value) + 2 * quotes:
            column += offset + quotes
    return Mark(file, start.line + 1, column)


class Found(NamedTuple):
    """What a path leads to: its event, and the mapping that it stands in (or is)."""

    event: yaml.Event
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
    text = str(value)
    return f"'{text[:57]}...'" if len(text) > 60 else f"'{text}'"


def meant(word: str, words: Iterable[str]) -> str:
    """`; did you mean 'x'?` where a word is near one of these, else nothing."""
    by_small = {known.lower(): known for known in words}
    near = difflib.get_close_matches(word.lower(), by_small, n=1, cutoff=0.6)
    return f"; did you mean '{by_small[near[0]]}'?" if near else ""
