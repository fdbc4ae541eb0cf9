"""What YAML would silently eat or change, and the remedy for each."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from .lines import Lines
from .written import UNREADABLE, Event, Written

MOST_REPEATED = 20_000
"""The most values that aliases may repeat in one file."""

_COMMENT = re.compile(r"[ \t]+#")


def cut_by_comment(rest: str) -> bool:
    """True where what follows a value on its line is a comment."""
    return _COMMENT.match(rest) is not None


def after_key(key: str, value: str, rest: str) -> str:
    """The message for running text that a comment cuts short."""
    whole = f"{value}{rest}".strip()
    quoted = whole.replace("\\", "\\\\").replace('"', '\\"')
    shown = f'{key}: "{quoted}"' if len(quoted) <= 60 else f'{key}: "..."'
    return f"YAML drops what follows ' #' as a comment; if it belongs to the text, put quotes round it: {shown}"


def tag_trap(event: Event, lines: Lines) -> str:
    """The message for a word that begins with an exclamation mark."""
    word = re.split(r"[\s,\]}]", lines.at(event.start_mark), maxsplit=1)[0]
    return f"'{word}': text that begins with ! needs quotes; YAML takes it for a tag and drops it"


def lacks_space(key: Event) -> bool:
    """True for a key that most likely is a key and its value: `R:hi-hat`."""
    return ":" in key.value and not key.style


def empty_value(key: Event, in_flow: bool, lines: Lines) -> str:
    """The message for a key without a value."""
    word = key.value
    if in_flow and lacks_space(key):
        name, value = word.split(":", 1)
        return f"a space is missing after the colon: write {name}: {value.strip()}"
    if in_flow:
        return f"the key '{word}' has no value; write {word}: and its value"
    rest = lines.rest(key.end_mark)
    if re.match(r"\s*:[ \t]+#", rest):
        return f"the key '{word}' has no value: YAML drops what follows # as a comment; put text in quotes"
    return f"the key '{word}' has no value; give it one, or take the key out"


class Anchor:
    """A value that has a name, and how many values are in it once it is complete."""

    def __init__(self, event: Event, value: Any, begun: int) -> None:
        self.event = event
        self.value = value
        self.begun = begun
        self.size = 0 if isinstance(value, Written) else 1
        self.used = False


class Anchors:
    """The anchors of a file and the aliases that repeat their values; `count` counts all values read."""

    def __init__(self, report: Callable[[Event, str], None]) -> None:
        self.report = report
        self.count = 0
        self.repeated = 0
        self.all: list[Anchor] = []
        self.by_name: dict[str, Anchor] = {}
        self.unfinished: dict[int, Anchor] = {}

    def open(self, event: Event, value: Any) -> None:
        """Enter a value that carries an anchor."""
        anchor = Anchor(event, value, self.count)
        self.all.append(anchor)
        self.by_name[event.anchor] = anchor
        if not anchor.size:
            self.unfinished[id(value)] = anchor

    def close(self, value: Written) -> None:
        """Note that a mapping or list is complete."""
        anchor = self.unfinished.pop(id(value), None)
        if anchor is not None:
            anchor.size = self.count - anchor.begun + 1

    def value_of(self, event: Event) -> Any:
        """The value that an alias repeats; reports what cannot be repeated."""
        anchor = self.by_name.get(event.anchor)
        if anchor is None:
            self.report(
                event, f"'*{event.anchor}': text that begins with * needs quotes; YAML takes it for an alias"
            )
            return UNREADABLE
        anchor.used = True
        if not anchor.size:
            self.report(event, f"'*{event.anchor}' would repeat what it stands in; write it out")
            return UNREADABLE
        if self.repeated > MOST_REPEATED:
            return UNREADABLE
        self.repeated += anchor.size
        if self.repeated > MOST_REPEATED:
            self.report(event, f"aliases repeat more than {MOST_REPEATED:,} values here; write them out")
            return UNREADABLE
        self.count += anchor.size - 1
        return anchor.value

    def report_unused(self) -> None:
        """Report each anchor that no alias names: most likely it was meant as text."""
        for anchor in self.all:
            if not anchor.used:
                name = anchor.event.anchor
                self.report(
                    anchor.event,
                    f"'&{name}': text that begins with & needs quotes; YAML takes it for an anchor",
                )
