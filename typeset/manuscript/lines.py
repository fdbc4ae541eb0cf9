"""The lines of a file, and where in them reading can begin again."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

_KEY_LINE = re.compile(r"""["'\w][^#]*:(\s|$)""")


class Lines:
    """A file's lines, as the YAML parser counts them."""

    def __init__(self, text: str) -> None:
        self.text = text
        self._lines = re.split(r"\r\n|\r|\n", text)

    def __len__(self) -> int:
        """How many there are."""
        return len(self._lines)

    def __iter__(self) -> Iterator[str]:
        """Each in order, without its end."""
        return iter(self._lines)

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
            is_key = _KEY_LINE.match(self._lines[number])
            if is_key or (column is not None and self.has_entry(number, column)):
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

    def has_entry(self, number: int, column: int) -> bool:
        """True where an entry of a list begins at this column of a line, both from 0."""
        line = self.line(number)
        return not line[:column].strip() and (line[column : column + 2] == "- " or line[column:] == "-")
