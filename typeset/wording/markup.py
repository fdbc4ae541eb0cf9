"""An author's text: paragraphs, `*emphasis*`, `**strong**`, `- ` lists, `[words](address)`; nothing else.

The marks are read here into spans and never reach a library's own markup, so everything else an author
writes prints as itself.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

_INLINE = re.compile(
    r"\*\*(?=[^\s*])(?P<strong>[^*]+?)(?<=\S)\*\*"
    r"|\*(?=[^\s*])(?P<emphasis>(?:[^*]|\*\*[^*]+\*\*)+?)(?<=\S)\*(?!\*)"
    r"|\[(?P<words>[^\[\]]+)\]\((?P<address>[^()\s]+)\)"
)
_BLANK = re.compile(r"\n[ \t]*\n")
_ITEM = "- "
_CONTROL = re.compile(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\ud800-\udfff]")


@dataclass(frozen=True, slots=True)
class Span:
    """Words that look alike; `address` is where they lead."""

    words: str
    strong: bool = False
    emphasis: bool = False
    address: str | None = None


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A paragraph, or an item of a list."""

    spans: tuple[Span, ...]
    is_item: bool = False


def paragraphs(text: str, values: Mapping[str, str] | None = None) -> tuple[Paragraph, ...]:
    """Read a text. `{name}` becomes the value of that name where there is one, as plain words."""
    return tuple(
        Paragraph(tuple(_spans(" ".join(chunk.split("\n")), values or {})), is_item)
        for is_item, chunk in _chunks(_clean(text))
    )


def spans(text: str, values: Mapping[str, str] | None = None) -> tuple[Span, ...]:
    """Read a text as one paragraph."""
    together: list[Span] = []
    for paragraph in paragraphs(text, values):
        together += [Span(" ")] if together else []
        together += paragraph.spans
    return tuple(together)


def plain(text: str) -> tuple[Span, ...]:
    """Words without any markup."""
    return (Span(" ".join(_clean(text).split("\n"))),)


def unmarked(text: str) -> str:
    """A text as one paragraph without its marks: what they make stand out is read as any other word, and a link's
    address comes after its words."""
    return "".join(f"{span.words} ({span.address})" if span.address else span.words for span in spans(text))


def one_line(text: str) -> str:
    """Words on one line, without any markup, as a title is."""
    return " ".join(_clean(text).split())


def _clean(text: str) -> str:
    """Control characters are no letters; they become spaces. Letters and their accents become one character."""
    text = unicodedata.normalize("NFC", text).replace("\r\n", "\n")
    return _CONTROL.sub(" ", text)


def _chunks(text: str) -> Iterator[tuple[bool, str]]:
    """The paragraphs and list items of a text, and whether each is an item."""
    for block in _BLANK.split(text):
        lines: list[str] = []
        is_item = False
        for line in filter(None, (line.strip() for line in block.split("\n"))):
            if line.startswith(_ITEM):
                if lines:
                    yield is_item, "\n".join(lines)
                lines, is_item = [line.removeprefix(_ITEM).strip()], True
            else:
                lines.append(line)
        if lines:
            yield is_item, "\n".join(lines)


def _spans(text: str, values: Mapping[str, str]) -> Iterator[Span]:
    at = 0
    for found in _INLINE.finditer(text):
        if found.start() > at:
            yield Span(_filled(text[at : found.start()], values))
        at = found.end()
        if found["strong"]:
            yield from (replace(span, strong=True) for span in _spans(found["strong"], values))
        elif found["emphasis"]:
            yield from (replace(span, emphasis=True) for span in _spans(found["emphasis"], values))
        else:
            yield Span(_filled(found["words"], values), address=found["address"])
    if at < len(text):
        yield Span(_filled(text[at:], values))


def _filled(text: str, values: Mapping[str, str]) -> str:
    return re.sub(r"\{(\w[\w-]*)\}", lambda found: values.get(found[1], found[0]), text)
