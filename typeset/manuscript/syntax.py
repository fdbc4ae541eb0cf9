"""Errors of YAML's syntax in plain words."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml

from ..problem import Mark
from .lines import Lines
from .written import Event, mark_of

Finding = tuple[Mark, str]

DEEPEST = 24
"""How deep mappings and lists may stand inside each other; the format needs eight."""

TOO_DEEP = f"mappings and lists stand inside each other more than {DEEPEST} deep"

_ODD = "cannot follow what stands before it; put quotes round the whole text"


@dataclass(frozen=True)
class _Break:
    """Where the YAML broke off: at a place, while something was being read that began elsewhere."""

    file: Path
    lines: Lines
    error: yaml.MarkedYAMLError
    last: Event | None

    @property
    def at(self) -> Any:
        return self.error.problem_mark

    @property
    def here(self) -> Mark:
        last = len(self.lines)
        if self.at.line >= last:  # the parser ends a file's last line for it
            return Mark(self.file, last, len(self.lines.line(last - 1)) + 1)
        return Mark(self.file, self.at.line + 1, self.at.column + 1)

    @property
    def opened(self) -> Mark:
        begun = self.error.context_mark or self.at
        return Mark(self.file, begun.line + 1, begun.column + 1)

    @property
    def line(self) -> str:
        return self.lines.line(self.at.line)

    @property
    def before(self) -> str:
        return self.line[: self.at.column]

    @property
    def letter(self) -> str:
        return self.line[self.at.column : self.at.column + 1]


def explain(error: yaml.YAMLError, file: Path, lines: Lines, last: Event | None) -> Finding:
    """Where the YAML went wrong, and how, in plain words; `last` is the last scalar that was read."""
    if not isinstance(error, yaml.MarkedYAMLError) or error.problem_mark is None:
        return Mark(file), f"this is no YAML: {error}"
    found = _Break(file, lines, error, last)
    tab = re.match(r" *\t", found.line)
    if tab:
        return Mark(file, found.here.line, tab.end()), "this line is indented with a tab; use spaces"
    said = f"{error.context or ''} | {error.problem or ''}"
    return next((rule(found) for sign, rule in _RULES if sign in said), (found.here, f"this is no YAML: {said}"))


def _colon(found: _Break) -> Finding:
    key = re.match(r"(\s*(?:- )?\s*)[\w-]+$", found.before)
    if key:
        return Mark(found.file, found.here.line, len(key[1]) + 1), (
            "this key does not go with the lines above: check how far it is indented, "
            "and that the line above has a space after its colon"
        )
    return found.here, "': ' inside text ends a key; put the text in quotes"


def _no_key(found: _Break) -> Finding:
    line = found.lines.line(found.opened.line - 1)
    glued = re.match(r"\s*(?:- )*([\w-]+):\S", line)
    if glued:
        return found.opened, f"a space is missing after the colon: write {glued[1]}: and the value"
    return found.opened, "this is neither a key with a value nor part of the line above"


def _flow(found: _Break) -> Finding:
    bracket = found.lines.line(found.opened.line - 1)[found.opened.column - 1 :][:1]
    closing = {"[": "]", "{": "}"}.get(bracket, "")
    if not closing:
        return found.here, f"a value is missing before this {found.letter}"
    if found.here.line != found.opened.line:
        return found.opened, f"this {bracket} has no {closing}"
    if found.before.endswith(":"):
        return found.here, "a space is missing after the colon"
    return found.here, f"a comma or {closing} is missing before this"


def _block(found: _Break) -> Finding:
    last = found.last
    if last is not None and last.style in ("'", '"') and last.start_mark.line != last.end_mark.line:
        line = last.end_mark.line + 1
        return mark_of(found.file, last), f"this quote ends only on line {line}; is one missing before that?"
    if not found.before.strip():
        return found.here, "this line is not indented like those above it that it belongs to"
    return found.here, f"this {_ODD}"


_RULES: tuple[tuple[str, Callable[[_Break], Finding]], ...] = (
    ("maximum nesting", lambda found: (found.here, TOO_DEEP)),
    ("mapping values are not allowed", _colon),
    ("simple key", _no_key),
    (
        "sequence entries are not allowed",
        lambda found: (
            found.here,
            "a list begins on a line of its own; text that begins with - needs quotes",
        ),
    ),
    (
        "cannot start any token",
        lambda found: (found.here, f"a value cannot begin with {found.letter}; put the text in quotes"),
    ),
    (
        "an alias",
        lambda found: (found.opened, "text that begins with * needs quotes; YAML takes it for an alias"),
    ),
    (
        "an anchor",
        lambda found: (found.opened, "text that begins with & needs quotes; YAML takes it for an anchor"),
    ),
    ("undefined tag", lambda found: (found.here, "text that begins with ! needs quotes; YAML takes it for a tag")),
    ("a tag", lambda found: (found.opened, "text that begins with ! needs quotes; YAML takes it for a tag")),
    ("unexpected end of stream", lambda found: (found.opened, "this quote is never closed")),
    ("unexpected document indicator", lambda found: (found.opened, "this quote is never closed")),
    (
        "hexdecimal",
        lambda found: (found.here, "after \\x, \\u or \\U in double quotes come the digits of a character's code"),
    ),
    (
        "escape",
        lambda found: (found.here, "in double quotes a backslash begins a special sign; use single quotes"),
    ),
    (
        "directive",
        lambda found: (found.opened, "a line that begins with % is for YAML alone; put the text in quotes"),
    ),
    (
        "block scalar",
        lambda found: (found.here, "after | or > the line ends, and the text follows below, indented"),
    ),
    ("plain scalar", lambda found: (found.here, "a space is missing after the colon")),
    ("mapping keys", lambda found: (found.here, "text that begins with ? needs quotes")),
    ("flow", _flow),
    ("block", _block),
    ("node content", _block),
    (
        "document start",
        lambda found: (found.here, "this does not go with the lines above; is it indented too little?"),
    ),
)
