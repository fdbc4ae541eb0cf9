"""YAML to what was written: every scalar stays text, and what YAML would silently eat is a problem."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import yaml

from ..problem import Mark, Problem
from ..text_file import unseen
from .lines import Lines
from .syntax import DEEPEST, TOO_DEEP, explain
from .traps import Anchors, after_key, cut_by_comment, empty_value, lacks_space, tag_trap
from .written import UNREADABLE, Event, Written, WrittenList, WrittenMap, mark_of

ITEMS = "exercises"
"""The key whose list can be taken up again after an error of syntax."""

_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_NO_KEYS = "a file begins with keys, such as title: or chapter:"
_MOST_BREAKS = 50
_ID = re.compile(r"id:\s+([\w-]+)\s*$")


class Broken(Exception):
    """The YAML cannot be read on from here."""

    def __init__(self, event: Event, what: str) -> None:
        super().__init__(what)
        self.event = event


class Over(Broken):
    """There is no reading on from anywhere else either."""


class Parsed(NamedTuple):
    """What a file says (None where it holds no mapping), what is wrong with its YAML, and the lines, from 1,
    that no YAML can be read from, so that nothing more should be said about them."""

    root: WrittenMap | None
    problems: list[Problem]
    broken_lines: frozenset[int]


def parse(text: str, file: Path, prose: frozenset[str]) -> Parsed:
    """Read a file's YAML.

    `prose` names the keys whose values are running text, which a comment would cut short. After an
    error of syntax reading goes on at the next exercise or key.
    """
    grower = _Grower(file, Lines(text), prose)
    grower.grow_all()
    trapped = {problem.mark.line for problem in grower.problems}
    breaks = [problem for problem in grower.breaks if problem.mark.line not in trapped]
    problems = list(dict.fromkeys([*grower.problems, *breaks]))
    root = grower.root
    if root is None and not problems:
        problems = [Problem(Mark(file), "this file is empty")]
    if isinstance(root, WrittenList):
        problems.append(Problem(mark_of(file, root.event), _NO_KEYS))
        root = None
    return Parsed(root, problems, frozenset(problem.mark.line for problem in grower.breaks))


class _Grower:
    """Grows mappings and lists from the events of the YAML parser."""

    def __init__(self, file: Path, lines: Lines, prose: frozenset[str]) -> None:
        self.file = file
        self.lines = lines
        self.prose = prose
        # Only where a line has such a character, or writes one by its number, can a value have one.
        self.may_hide = any("\\" in line or not line.isprintable() for line in lines)
        self.problems: list[Problem] = []
        self.breaks: list[Problem] = []
        self.last: Event | None = None
        self.root: Any = None
        self.anchors = Anchors(self.report)
        self.stack: list[Written] = []
        self.keys: list[Event] = []

    def report(self, event: Event, what: str) -> None:
        """Note a problem at an event; everything around it is broken."""
        self.problems.append(Problem(mark_of(self.file, event), what))
        self._break_all()

    def _break_all(self) -> None:
        for container in self.stack:
            container.broken = True

    def grow_all(self) -> None:
        """Read the file, beginning again after each error of syntax."""
        begin: int | None = 0
        for _ in range(_MOST_BREAKS):
            if begin is None:
                break
            begin = self._grow_from(begin)
        self.anchors.report_unused()

    def _grow_from(self, begin: int) -> int | None:
        """Read from a line on; the line to begin again at, if there is more to read."""
        self.stack, self.keys = [], []
        end = self.lines.end_of_items(begin) if begin else len(self.lines)
        try:
            self._grow(yaml.parse(self.lines.fragment(begin, end), Loader=_LOADER))
        except yaml.YAMLError as error:
            self.breaks.append(Problem(*explain(error, self.file, self.lines, self.last)))
        except Broken as error:
            self.breaks.append(Problem(mark_of(self.file, error.event), str(error)))
            if isinstance(error, Over):
                return None
        else:
            return end if end < len(self.lines) else None
        self._cut()
        return self._next_start(begin)

    def _cut(self) -> None:
        """Note what is incomplete; an exercise keeps its id even so."""
        for container in self.stack:
            container.broken = container.cut = True
        items = self._open_items()
        if items is None or not items.values_at:
            return
        item, at = items[-1], items.values_at[-1]
        line, column = self.breaks[-1].mark.line - 1, items.event.start_mark.column
        is_next = line > at.start_mark.line and self.lines.has_entry(line, column)
        if is_next or not isinstance(item, WrittenMap):
            return
        item.broken = item.cut = True
        if not item:
            found = _ID.match(self.lines.at(at.start_mark))
            if found:
                item.put("id", found[1], at, at)

    def _open_items(self) -> WrittenList | None:
        """The list of exercises, where the YAML broke off inside it."""
        items = self.root.get(ITEMS) if isinstance(self.root, WrittenMap) else None
        is_open = isinstance(items, WrittenList) and any(items is container for container in self.stack)
        return items if is_open else None

    def _next_start(self, begin: int) -> int | None:
        """The line after a broken item or key where reading can begin again."""
        items = self._open_items()
        if items is not None:
            last = (items.values_at[-1] if items else items.event).start_mark.line
            return self.lines.next_start(max(begin, last), items.event.start_mark.column)
        last = max((at.start_mark.line for at in getattr(self.root, "keys_at", {}).values()), default=begin)
        return self.lines.next_start(max(begin, last), None)

    def _grow(self, events: Iterator[Event]) -> None:
        documents = 0
        for event in events:
            kind = type(event)
            if kind is yaml.ScalarEvent:
                self._scalar(event)
            elif kind is yaml.MappingStartEvent or kind is yaml.SequenceStartEvent:
                self._open(event)
            elif kind is yaml.MappingEndEvent or kind is yaml.SequenceEndEvent:
                self.anchors.close(self.stack.pop())
                self.keys.pop()
            elif kind is yaml.AliasEvent:
                self._alias(event)
            elif kind is yaml.DocumentStartEvent:
                documents += 1
                if documents > 1:
                    raise Over(event, "a second document begins here; a file holds one: take the --- out")

    def _scalar(self, event: Event) -> None:
        keys = self.keys
        if keys and keys[-1] is None and type(self.stack[-1]) is WrittenMap:
            self._key(event)
            return
        self.last = event
        value: Any = event.value
        if event.tag is not None:
            self.report(event, tag_trap(event, self.lines))
            value = UNREADABLE
        elif self.may_hide and self._has_unseen(event):
            value = UNREADABLE
        elif not value and not event.style:
            self._nothing(event)
            return
        elif not event.style and keys and keys[-1] is not None and keys[-1].value in self.prose:
            rest = self.lines.rest(event.end_mark)
            if cut_by_comment(rest):
                self.report(event, after_key(keys[-1].value, value, rest))
        if event.anchor:
            self.anchors.open(event, value)
        self._attach(value, event)

    def _has_unseen(self, event: Event) -> bool:
        """True where a character stands in a value that nobody would see, which is reported."""
        found = unseen(event.value)
        if found is not None:
            offset, name = found
            what = f"an invisible character ({name}) stands in this text; take it out"
            self.problems.append(Problem(mark_of(self.file, event, offset), what))
            self._break_all()
        return found is not None

    def _key(self, event: Event) -> None:
        if self.may_hide:
            self._has_unseen(event)
        if event.tag is not None:
            self.report(event, tag_trap(event, self.lines))
        if event.anchor:
            self.anchors.open(event, event.value)
        self.keys[-1] = event

    def _nothing(self, event: Event) -> None:
        """Report a key or an entry without a value, and enter it as unreadable."""
        key = self.keys[-1] if self.keys else None
        if not self.stack:
            return
        if key is None:
            self.report(event, "this entry is empty; write a value after the - or take it out")
            self._attach(UNREADABLE, event)
            return
        in_flow = bool(self.stack[-1].event.flow_style)
        around = self._key_around()
        if in_flow and around in self.prose:
            self.report(self.stack[-1].event, f'text that begins with {{ needs quotes: {around}: "..."')
            self.stack[-2][around] = UNREADABLE
        else:
            self.report(key, empty_value(key, in_flow, self.lines))
        if in_flow and lacks_space(key):
            self.keys[-1] = None
            self.stack[-1].cut = True
        else:
            self._attach(UNREADABLE, event)

    def _key_around(self) -> Any:
        """The key whose value is the mapping that is being read."""
        around = self.stack[-2] if len(self.stack) > 1 else None
        return next(reversed(around)) if isinstance(around, WrittenMap) and around else None

    def _open(self, event: Event) -> None:
        if self.keys and self.keys[-1] is None and type(self.stack[-1]) is WrittenMap:
            raise Broken(event, "a key has to be a word; text that begins with { or [ belongs in quotes")
        if len(self.stack) >= DEEPEST:
            raise Broken(event, TOO_DEEP)
        if event.tag is not None:
            self.report(event, tag_trap(event, self.lines))
        is_map = type(event) is yaml.MappingStartEvent
        value: Written = WrittenMap(self.file, event) if is_map else WrittenList(self.file, event)
        if not self.stack and self.root is not None:
            value = self._taken_up(event, is_map)
        if event.anchor:
            self.anchors.open(event, value)
        if self.stack:
            self._attach(value, event)
        elif self.root is None:
            self.root = value
        self.stack.append(value)
        self.keys.append(None)

    def _taken_up(self, event: Event, is_map: bool) -> Written:
        """The mapping or list that goes on here after an error of syntax."""
        value = self.root if is_map else self.root.get(ITEMS) if isinstance(self.root, WrittenMap) else None
        if isinstance(value, WrittenMap if is_map else WrittenList):
            return value
        raise Over(event, _NO_KEYS)

    def _alias(self, event: Event) -> None:
        if self.keys and self.keys[-1] is None and type(self.stack[-1]) is WrittenMap:
            raise Broken(event, "a key has to be a word; text that begins with * belongs in quotes")
        self._attach(self.anchors.value_of(event), event)

    def _attach(self, value: Any, event: Event) -> None:
        """Put a value where it belongs."""
        if not self.stack:
            raise Broken(event, _NO_KEYS)
        self.anchors.count += 1
        top = self.stack[-1]
        if type(top) is WrittenList:
            top.put(value, event)
            return
        assert isinstance(top, WrittenMap)
        key = self.keys[-1]
        assert key is not None
        self.keys[-1] = None
        word = key.value
        if word == "<<" and not key.style:
            self.report(key, "<< is not offered; write the keys out")
        elif word in top:
            first = top.keys_at[word].start_mark.line + 1
            self.report(key, f"the key '{word}' stands here a second time; the first is on line {first}")
        else:
            top.put(word, value, key, event)
