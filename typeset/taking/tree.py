"""Reading XML that may come from anywhere: the standard library's, with everything refused that expands.

A document type may be named, as MusicXML's is, and is never fetched. An entity declared in the file is refused,
so nothing grows and nothing outside is read.
"""

from __future__ import annotations

import io
import zipfile
import zlib
from dataclasses import dataclass, field
from xml.etree.ElementTree import Element, TreeBuilder
from xml.parsers import expat

from .piece import MOST_BYTES, NotRead

_DEEPEST = 64
_MOST_ELEMENTS = 800_000
_CONTAINER = "META-INF/container.xml"
_BROKEN = (zipfile.BadZipFile, zlib.error, EOFError, OSError, ValueError, NotImplementedError, RuntimeError)
"""What the standard library raises for a packed file that is damaged, locked, or packed in a rare way."""


@dataclass(frozen=True)
class Document:
    """A parsed file; `lines` say at which line an element begins."""

    root: Element
    lines: dict[Element, int]

    def line(self, element: Element) -> int:
        """The line that an element begins at."""
        return self.lines.get(element, 1)


def parse(content: bytes) -> Document:
    """Parse a file. Raises NotRead for what is no XML, is too large, or declares entities."""
    if len(content) > MOST_BYTES:
        raise NotRead(f"a file of more than {MOST_BYTES // 1024 // 1024} MB is not read; take a part of it")
    growing = _Growing()
    parser = expat.ParserCreate()
    parser.buffer_text = True
    parser.StartElementHandler = lambda tag, attributes: growing.start(tag, attributes, parser)
    parser.EndElementHandler = growing.end
    parser.CharacterDataHandler = growing.builder.data
    parser.EntityDeclHandler = lambda *_: _refuse(parser)
    parser.ExternalEntityRefHandler = lambda *_: _refuse(parser)
    try:
        parser.Parse(content, True)
    except expat.ExpatError as error:
        reason = expat.errors.messages.get(error.code, "it breaks off")
        raise NotRead(f"this is no sound XML: {reason}", error.lineno) from None
    except (LookupError, ValueError) as error:
        raise NotRead(f"this is no sound XML: {error}", parser.CurrentLineNumber) from None
    return Document(growing.builder.close(), growing.lines)


@dataclass
class _Growing:
    """A tree while it is being read."""

    builder: TreeBuilder = field(default_factory=TreeBuilder)
    lines: dict[Element, int] = field(default_factory=dict)
    depth: int = 0

    def start(self, tag: str, attributes: dict[str, str], parser: expat.XMLParserType) -> None:
        """Take in an element's beginning. Raises NotRead where there are too many."""
        self.depth += 1
        if self.depth > _DEEPEST or len(self.lines) >= _MOST_ELEMENTS:
            raise NotRead("this XML is deeper or larger than any score; it is not read", parser.CurrentLineNumber)
        self.lines[self.builder.start(tag, attributes)] = parser.CurrentLineNumber

    def end(self, tag: str) -> None:
        """Take in an element's end."""
        self.depth -= 1
        self.builder.end(tag)


def _refuse(parser: expat.XMLParserType) -> int:
    raise NotRead("this file declares XML entities, which no score needs; it is not read", parser.CurrentLineNumber)


def unpacked(content: bytes) -> bytes:
    """The score in a compressed MusicXML file (.mxl). Raises NotRead."""
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            container = parse(_entry(packed, _CONTAINER)).root
            names = [rootfile.get("full-path", "") for rootfile in container.iter("rootfile")]
            if not names:
                raise NotRead("this packed file does not say where its score is")
            return _entry(packed, names[0])
    except KeyError:
        raise NotRead("this packed file lacks the score that it names") from None
    except _BROKEN as error:
        raise NotRead(f"this packed file cannot be opened: {error}") from None


def _entry(packed: zipfile.ZipFile, name: str) -> bytes:
    """One file out of a packed one, as far as it may be large. Raises NotRead, KeyError or what zipfile raises."""
    with packed.open(name) as entry:
        content = entry.read(MOST_BYTES + 1)
    if len(content) > MOST_BYTES:
        raise NotRead(f"unpacked, this is more than {MOST_BYTES // 1024 // 1024} MB; it is not read")
    return content
