"""The files that a book is made of, told before anything of it is read.

A build is found again by what they hold, and a watched book is set again when one of them changes. Whoever reads
a file of the author's reads one of these: those beside the book, in `kits/` and in `sequences/`, the chapters and
the styles that its file names, and the styles that those are based on. Rather one too many than one too few.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from contextlib import suppress
from itertools import chain, islice
from pathlib import Path

from .text_file import beginning_of

BOOK_FILE, CURRICULUM_FILE = "book.yaml", "curriculum.yaml"
ENDINGS = (".yaml", ".yml")

_FOLDERS = ("", "kits", "sequences")

_LONGEST_NAME = 300
"""The most characters of a name; a key that is one line holds no more (`manuscript.plain.LONGEST_LINE`)."""

_MOST_VALUES = 60_000
"""More than the most chapters could seem to be, were every character of their names one that means something."""

# What may stand before a value in YAML: white, a hyphen, a tag, an anchor.
_BEFORE = r"[ \t\n]*(?:(?:-|[&!][^ \t\n,\[\]{}]{0,99})[ \t\n]+)*"
_CHAPTERS = re.compile(r"chapters[\"']?\s*(?=:)")
_KEY_OF_BOOK = re.compile(r"^[\"']?[a-z-]+[\"']?[ \t]*:(?=\s)", re.MULTILINE)
_VALUE = re.compile(r"(?:^|[\[{,:?])" + _BEFORE, re.MULTILINE)
_STYLE = re.compile(r"(?:style|based-on)[\"']?\s*:" + _BEFORE)

_ANCHOR = re.compile(r"&[^ \t\n,\[\]{}]{1,99}[ \t\n]+")

# A small letter as a number, by which a key can be written too.
_LETTER = re.compile(r"\\(?:x|u00|U000000)(6[1-9a-fA-F]|7[0-9aA])")

_IN_QUOTES = re.compile(r'"((?:[^"\\]|\\.)*)"|' + r"'((?:[^']|'')*)'", re.DOTALL)
_SIGN_IN_BLOCK = re.compile(r"[ \t]+#|:(?=\s)")
_ENDS_IN_FLOW = re.compile(r"\s+#|:(?=\s)|[,\[\]{}]|\s*$")
_LINE_END = re.compile(r"[ \t]*\n\s*")
_ESCAPED = re.compile(r"\\(?:x(\w{2})|u(\w{4})|U(\w{8})|\n[ \t]*|(.))", re.DOTALL)


def book_file(path: Path) -> Path:
    """The file that is read first of a book, which is its folder, or that file; it stands in the book's folder."""
    return path / BOOK_FILE if path.is_dir() else path


def files_of(path: Path) -> tuple[Path, ...]:
    """Every file of the author's that a build of a book may read, those beside the book first."""
    return tuple(file for file in places_of(path) if _is_file(file))


def _is_file(place: Path) -> bool:
    """Whether a file is there; nothing is under a name that is longer than any can be."""
    try:
        return place.is_file()
    except (OSError, ValueError):
        return False


def places_of(path: Path) -> tuple[Path, ...]:
    """Where the files of a book stand, also those that it names and that are not there yet."""
    book, *beside = files_beside(path)
    text = _text_of(book, b"chapters")
    chapters = (book.parent / name for name in _names(text, chain(_chapters_in(text), _anchored_in(text))))
    bases = (base for file in (book, *beside) for base in styles_under(file))
    return tuple(dict.fromkeys((book, *beside, *chapters, *bases)))


def files_beside(path: Path) -> Iterator[Path]:
    """The book's own file, and those in its folder, in `kits/` and in `sequences/`."""
    book = book_file(path)
    yield book
    for name in _FOLDERS:
        with suppress(OSError), os.scandir(book.parent / name) as entries:
            files = sorted(entry.name for entry in entries if entry.name.endswith(ENDINGS))
            yield from (book.parent / name / file for file in files)


def styles_under(style: Path) -> tuple[Path, ...]:
    """The places of the styles that a style is based on, or that a book names, and of those under them."""
    found: dict[Path, None] = {}
    left = [style]
    while left:
        above = left.pop()
        text = _text_of(above, b"style", b"based-on")
        names = _names(text, chain((key.end() for key in _STYLE.finditer(text)), _anchored_in(text)))
        files = (name if name.endswith(ENDINGS) else f"{name}.yaml" for name in names)
        new = [place for file in files if (place := above.parent / file) not in found]
        found.update(dict.fromkeys(new))
        left += new
    return tuple(found)


def _text_of(file: Path, *words: bytes) -> str:
    """What a file holds; empty where it has none of these words, or cannot be read."""
    try:
        raw = beginning_of(file)
    except (OSError, ValueError):
        return ""
    if b"\\" not in raw and not any(word in raw for word in words):
        return ""
    text = raw.decode("utf-8-sig", "replace").replace("\r\n", "\n").replace("\r", "\n")
    return _LETTER.sub(lambda sign: chr(int(sign[1], 16)), text)


def _chapters_in(text: str) -> Iterator[int]:
    """Where the names of chapters may begin: anywhere until the book's next key."""
    key = _CHAPTERS.search(text)
    while key:
        after = _KEY_OF_BOOK.search(text, key.end())
        end = after.start() if after else len(text)
        yield from (value.end() for value in _VALUE.finditer(text, key.end(), end))
        key = _CHAPTERS.search(text, end)


def _anchored_in(text: str) -> Iterator[int]:
    """Where values begin that may stand elsewhere too, by their anchors."""
    return (anchor.end() for anchor in _ANCHOR.finditer(text))


def _names(text: str, starts: Iterator[int]) -> Iterator[str]:
    """The values at these places as names of files in a folder, or in one below it; some several times."""
    for start in islice(starts, _MOST_VALUES):
        for value in _values_at(text, start):
            if not (value.startswith("/") or {"\0", "\\", ":"} & set(value) or ".." in value.split("/")):
                yield value


def _values_at(text: str, start: int) -> Iterator[str]:
    """The values that may stand here in YAML, on one line, as far as they are short enough for a name."""
    quoted = _IN_QUOTES.match(text, start)
    if quoted:
        double, single = quoted.groups()
        yield from _on_one_line(single.replace("''", "'") if double is None else _unescaped(double))
    most = text[start : start + 2 * _LONGEST_NAME]
    in_flow = _ENDS_IN_FLOW.search(most)
    yield from _on_one_line(most[: in_flow.start()] if in_flow else "")
    near = max(0, start - 2 * _LONGEST_NAME)
    before = text[max(near, text.rfind("\n", near, start) + 1) : start]
    indent = len(before) - len(before.lstrip()) + bool(before.strip())
    sign = _SIGN_IN_BLOCK.search(most)
    yield from _on_one_line(most[: sign.start()] if sign else "")
    for end in _LINE_END.finditer(most):
        yield from _on_one_line(most[: end.start()])
        if len(end[0].rpartition("\n")[2]) < max(indent, 1):
            return
    yield from _on_one_line(most.rstrip())


def _on_one_line(value: str) -> Iterator[str]:
    """A value as YAML reads one that goes over several lines; none that is too long."""
    line = _LINE_END.sub(" ", value)
    if 0 < len(line) <= _LONGEST_NAME:
        yield line


def _unescaped(quoted: str) -> str:
    """What stands between double quotes, with the characters that its signs mean."""

    def meant(sign: re.Match[str]) -> str:
        code = sign[1] or sign[2] or sign[3]
        try:
            return chr(int(code, 16)) if code else sign[4] or ""
        except (ValueError, OverflowError):
            return ""

    return _ESCAPED.sub(meant, quoted)
