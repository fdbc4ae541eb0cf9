"""Plain values: text, numbers, yes and no, names, one of a few words, and what is said of those that are none.

A reader takes what an author wrote and gives the value, or raises Wrong.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import Any

from ..nearest import meant
from .written import Step, shown

_NUMBER = re.compile(r"[+-]?\d{1,9}")
_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]*")
LONGEST_LINE = 300
"""The most characters of a title, or of anything else that is one line in its file."""

LONGEST_TEXT = 20_000
"""The most characters of a text of paragraphs: some seven pages."""

LONGEST_NAME = 100
"""The most characters of an id, or of the name of a sequence or an edition."""

_YES, _NO = ("yes", "true", "on"), ("no", "false", "off")


class Wrong(ValueError):
    """A value that is wrong; `path` leads from what is being read to the part at fault."""

    def __init__(self, what: str, *path: Step) -> None:
        super().__init__(what)
        self.path = path


class Missing(Wrong):
    """Something that should be said and is not; no news where the YAML broke off."""


class Told(ValueError):
    """A value that cannot be read, about which a problem has been reported already."""


def read_text(value: Any) -> str:
    """Text as it stands."""
    text = _text(value)
    if len(text) > LONGEST_TEXT:
        raise Wrong(f"this has {len(text):,} characters, and a text has {LONGEST_TEXT:,} at most; divide it")
    return text


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise Wrong(f"text is expected here, not {shown(value)}; put it in quotes")
    return value


def read_line(value: Any, longest: int = LONGEST_LINE) -> str:
    """Text on one line, with something in it."""
    text = " ".join(_text(value).split())
    if len(text) > longest:
        raise Wrong(f"this has {len(text):,} characters; {longest:,} is the most that stands here")
    if not text:
        raise Wrong("this is empty; write something, or take the key out")
    return text


def read_music(value: Any) -> str:
    """The name of something to play, or an order written out, which may be long."""
    return read_line(value, LONGEST_TEXT)


def read_number(value: Any) -> int:
    """A whole number."""
    if not isinstance(value, str) or not _NUMBER.fullmatch(value.strip()):
        raise Wrong(f"{shown(value)} is no whole number")
    return int(value)


def read_from_one(value: Any) -> int:
    """A whole number from 1 on."""
    number = read_number(value)
    if number < 1:
        raise Wrong(f"{number} is too small; this is counted from 1")
    return number


def read_yes_no(value: Any) -> bool:
    """Yes or no."""
    word = value.strip().lower() if isinstance(value, str) else ""
    if word not in (*_YES, *_NO):
        raise Wrong(f"{shown(value)} is neither yes nor no")
    return word in _YES


def read_name(value: Any) -> str:
    """An id, or the name of a sequence or an edition."""
    if isinstance(value, str) and len(value) > LONGEST_NAME:
        raise Wrong(f"{shown(value)} has {len(value):,} characters; a name has {LONGEST_NAME} at most")
    if not isinstance(value, str) or not _NAME.fullmatch(value):
        raise Wrong(
            f"{shown(value)} is no name; a name is made of letters from a to z, digits, - and _, "
            "and begins with a letter or digit"
        )
    return value


def one_of(choices: Iterable[str], what: str = "") -> Callable[[Any], str]:
    """A reader for one of these words; `what` says what they are, where there is a word for it."""
    known = tuple(choices)
    refusal = f"is no {what}" if what else "cannot stand here"
    listed = f"{', '.join(known[:-1])} or {known[-1]}" if len(known) > 1 else known[0]

    def read(value: Any) -> str:
        if isinstance(value, str) and value in known:
            return value
        found = meant(value, known) if isinstance(value, str) else ""
        raise Wrong(f"{shown(value)} {refusal}{found or f'; write {listed}'}")

    return read


def as_list(value: Any) -> Any:
    """One value may stand where a list is expected."""
    return value if isinstance(value, list) else [value]
