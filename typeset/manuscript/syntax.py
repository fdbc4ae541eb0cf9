"""Lines of a file, and errors of YAML's syntax in plain words."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import yaml

from ..problem import Mark

_KEY_LINE = re.compile(r"""["'\w][^#]*:(\s|$)""")


class Lines:
    """A file's lines, as the YAML parser counts them."""

    def __init__(self, text: str) -> None:
        self.text = text
        self._lines = re.split(r"\r\n|\r|\n", text)

    def __len__(self) -> int:
        """How many there are."""
        return len(self._lines)

    def line(self, number: int) -> str:
        """A line by its number from 0; empty past the end."""
        return self._lines[number] if number < len(self._lines) else ""

    def at(self, mark: Any) -> str:
        """What stands from a mark to the end of its line."""
        return self.line(mark.line)[mark.column :]

    rest = at

    def fragment(self, begin: int, end: int) -> str:
        """The lines from `begin` up to `end`, with empty lines in place of those before."""
        if begin == 0 and end == len(self._lines):
            return self.text
        return "\n" * begin + "\n".join(self._lines[begin:end])

    def next_start(self, after: int, column: int | None) -> int | None:
        """The first line after this one with a key at its start, or a list's entry at a column."""
        for number in range(after + 1, len(self._lines)):
            line = self._lines[number]
            if _KEY_LINE.match(line) or (column is not None and _is_entry(line, column)):
                return number
        return None

    def end_of_items(self, begin: int) -> int:
        """Where the entries end that begin on this line: the next line with a key at its start.

        From a line that itself has a key at its start, the end of the file.
        """
        if _KEY_LINE.match(self._lines[begin]):
            return len(self._lines)
        after = self.next_start(begin, None)
        return len(self._lines) if after is None else after


def _is_entry(line: str, column: int) -> bool:
    return not line[:column].strip() and (line[column : column + 2] == "- " or line[column:] == "-")


def explain(error: yaml.YAMLError, file: Path, lines: Lines) -> tuple[Mark, str]:
    """Where the YAML went wrong, and how, in plain words."""
    if not isinstance(error, yaml.MarkedYAMLError) or error.problem_mark is None:
        return Mark(file), f"this is no YAML: {error}"
    at = error.problem_mark
    start = error.context_mark
    line = lines.line(at.line)
    here = Mark(file, at.line + 1, at.column + 1)
    problem = error.problem or ""
    tab = re.match(r" *\t", line)
    if tab:
        return Mark(file, at.line + 1, tab.end()), "this line is indented with a tab; use spaces"
    if "mapping values are not allowed" in problem:
        return _colon(here, line, at.column)
    if "sequence entries are not allowed" in problem:
        return here, "a list begins on a line of its own; if this is text, put it in quotes"
    if "cannot start any token" in problem:
        letter = line[at.column : at.column + 1]
        return here, f"a value cannot begin with {letter}; put the text in quotes"
    if "an alias" in (error.context or "") and start is not None:
        opened = Mark(file, start.line + 1, start.column + 1)
        return opened, "YAML takes * at the start of a value for an alias; put the text in quotes"
    if "an anchor" in (error.context or "") and start is not None:
        opened = Mark(file, start.line + 1, start.column + 1)
        return opened, "YAML takes & at the start of a value for an anchor; put the text in quotes"
    if "unexpected end of stream" in problem and start is not None:
        return Mark(file, start.line + 1, start.column + 1), "this quote is never closed"
    if "escape" in problem:
        return (
            here,
            'a backslash means something in "double quotes"; write \\\\ for one, or use single quotes',
        )
    if "flow" in (error.context or "") and start is not None:
        return _flow(Mark(file, start.line + 1, start.column + 1), here, lines.at(start)[:1], problem)
    if "maximum nesting" in problem:
        return here, "mappings and lists stand inside each other too deep"
    return here, _block(lines, at, problem)


def _colon(here: Mark, line: str, column: int) -> tuple[Mark, str]:
    before = line[:column]
    if re.match(r"\s*(- )?\s*[\w-]+$", before):
        return here, (
            "this key does not belong to the lines above: check its indentation, and that the line above "
            "has a space after its colon"
        )
    return here, "': ' inside text ends a key; put the text in quotes"


def _flow(opened: Mark, here: Mark, bracket: str, problem: str) -> tuple[Mark, str]:
    closing = {"[": "]", "{": "}"}.get(bracket)
    if closing is None:
        return here, "something is missing here between two commas or brackets"
    if here.line != opened.line:
        return opened, f"this {bracket} has no {closing}"
    return here, f"a comma or {closing} is missing before this"


def _block(lines: Lines, at: Any, problem: str) -> str:
    line = lines.line(at.line)
    if line[: at.column].strip():
        return "this cannot follow a closing quote or bracket; put quotes round the whole text"
    if "'-' indicator" in problem or "block sequence" in problem:
        return "this line is not indented like the entries above it"
    return "this line is not indented like the lines above it"
