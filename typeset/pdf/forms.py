"""Engraved blocks as grey forms, with the music font kept once in a book.

LilyPond's cairo back end writes black as RGB inside a transparency group. `finish` turns a block into
plain DeviceGray before it is stored; `FormShelf` puts finished blocks into a book.
"""

from __future__ import annotations

import hashlib
import io
import json
import re
import threading
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from pypdf import PageObject, PdfReader, PdfWriter
from pypdf.generic import (
    ArrayObject,
    DictionaryObject,
    FloatObject,
    IndirectObject,
    NameObject,
    NullObject,
    PdfObject,
    StreamObject,
)

from .streams import bytes_of, plain, stream_of

_COLOUR = re.compile(rb"\s(rg|RG)(?!\S)")
_RGB = re.compile(rb"([\d.]+)\s+([\d.]+)\s+([\d.]+)$")
_LONGEST_RGB = 64
_OPACITY = re.compile(rb"/\S+\s+gs(?!\S)\s?")
_UNWELCOME = frozenset(b"rg RG k K cs CS sc SC scn SCN sh gs Do BI".split())

# How bright red, green and blue look (ITU-R BT.709, 1990).
_BRIGHTNESS = (0.2126, 0.7152, 0.0722)

# Two decimals of a point are 3.5 micrometres, finer than any printer. A step from glyph to glyph is counted
# in sizes of the font, twenty times as large, and such steps add up.
_FINE = re.compile(rb"(?<![\w.])(-?\d*\.\d{3,}(?:(?:\s+-?[\d.]+)?\s+Td)?)")
_DECIMALS, _STEP_DECIMALS = 2, 5

# A finished block's last line, a comment to any reader of PDF: where the shelf finds everything.
_INDEX = b"\n%shedbook form "


class FormError(ValueError):
    """A block's PDF that is not what LilyPond's cairo back end writes, or not as `finish` leaves it."""


def finish(pdf: bytes, page: int, size: tuple[float, float]) -> bytes:
    """A page of LilyPond's PDF, so large from its lower left corner, as a PDF of its own: DeviceGray, opaque.

    Pages are counted from 0; -1 is the last. Raises FormError when something stands on it that is neither line,
    shape nor letter.
    """
    whole = _OWN.taken_apart(pdf)
    found = whole.pages[page]
    contents = found.get_contents()
    content = stream_of(rounded(grey(contents.get_data() if contents is not None else b"")))
    fonts = whole.fonts_of(found)
    box = f"0 0 {size[0]:g} {size[1]:g}"
    leaf = f"<< /Type /Page /Parent 2 0 R /MediaBox [{box}] /Resources {fonts.resources} /Contents 4 0 R >>"
    before = (b"<< /Type /Catalog /Pages 2 0 R >>", b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>", leaf.encode())
    kept = plain((*before, bytes_of(content), *fonts.objects))
    index = {
        "box": [0.0, 0.0, *map(float, size)],
        "content": [kept.index(content._data), len(content._data)],
        "fonts": fonts.digests,
    }
    return kept + _INDEX.lstrip() + json.dumps(index).encode() + b"\n"


_BEFORE_FONTS = 4
"""Objects of a finished block that are numbered before its fonts."""


@dataclass(frozen=True, slots=True)
class _Fonts:
    """Fonts as a finished block holds them: their objects, what names them, and a hash of each."""

    objects: tuple[bytes, ...]
    resources: str
    digests: Mapping[str, str]


class _Whole:
    """A PDF of LilyPond's, many pages of which become blocks: read once, its fonts copied once."""

    def __init__(self, pdf: bytes) -> None:
        self.pages = list(PdfReader(io.BytesIO(pdf)).pages)
        self._copied: dict[tuple[str, ...], _Fonts] = {}

    def fonts_of(self, page: PageObject) -> _Fonts:
        """The fonts of a page; pages that refer to the same ones share a copy."""
        found = _fonts(page)
        key = tuple(f"{name} {font!r}" for name, font in found.items())
        if key not in self._copied:
            self._copied[key] = _copied(found)
        return self._copied[key]


class _Own(threading.local):
    """The PDF that a thread took apart last: it finishes the blocks of a batch one after the other.

    Each has its own, for pypdf's readers are not for several threads, and two batches may be the same, such as a
    snare's sample and a plain stroke's.
    """

    pdf = b""
    whole: _Whole

    def taken_apart(self, pdf: bytes) -> _Whole:
        """A PDF, taken apart by this thread, now or the last time it asked."""
        if self.pdf != pdf:
            self.whole = _Whole(pdf)
            self.pdf = pdf
        return self.whole


_OWN = _Own()


def _copied(found: Mapping[str, PdfObject]) -> _Fonts:
    writer = PdfWriter()
    while len(writer._objects) < _BEFORE_FONTS:
        writer._add_object(NullObject())
    references = {name: _copy(font, writer) for name, font in found.items()}
    return _Fonts(
        objects=tuple(bytes_of(thing) for thing in writer._objects[_BEFORE_FONTS:] if thing is not None),
        resources=bytes_of(_resources(references)).decode("latin-1"),
        digests={name: _digest(font).hex() for name, font in found.items()},
    )


def grey(content: bytes) -> bytes:
    """A content stream with its RGB colours as greys and its opacity left out. Raises FormError."""
    content = _OPACITY.sub(b"", b"".join(_greyed(content)))
    unwelcome = _UNWELCOME.intersection(content.split())
    if unwelcome:
        raise FormError(f"an engraved block has an operator '{min(unwelcome).decode()}' that cannot be made grey")
    return content


def _greyed(content: bytes) -> Iterator[bytes]:
    """A content stream in pieces. Its few colours are found by what ends them, for it is full of numbers."""
    start = 0
    for operator in _COLOUR.finditer(content):
        end = operator.start()
        rgb = _RGB.search(content, max(start, end - _LONGEST_RGB), end)
        if rgb:
            yield content[start : rgb.start()]
            level = sum(share * float(one) for share, one in zip(_BRIGHTNESS, rgb.groups(), strict=True))
            yield b"%s %s" % (f"{level:.4g}".encode(), b"g" if operator[1] == b"rg" else b"G")
            start = operator.end()
    yield content[start:]


def rounded(content: bytes) -> bytes:
    """A content stream with its numbers as fine as they can be printed, and no finer."""
    pieces = _FINE.split(content)
    pieces[1::2] = map(_SHORTER.__getitem__, pieces[1::2])
    return b"".join(pieces)


class _Shorter(dict[bytes, bytes]):
    """Numbers, and steps from glyph to glyph, no finer than they can be printed: a block has the same ones again
    and again."""

    def __missing__(self, written: bytes) -> bytes:
        if len(self) >= _MOST_KNOWN:
            self.clear()
        *numbers, last = written.split()
        if last == b"Td":
            shorter = b" ".join((*(_decimal(number, _STEP_DECIMALS) for number in numbers), last))
        else:
            shorter = _decimal(last, _DECIMALS)
        self[written] = shorter
        return shorter


_SHORTER = _Shorter()
_MOST_KNOWN = 1 << 16


def _decimal(number: bytes, decimals: int) -> bytes:
    shorter = f"{float(number):.{decimals}f}".rstrip("0").rstrip(".")
    return b"0" if shorter in ("-0", "") else shorter.encode()


@dataclass(frozen=True, slots=True)
class Form:
    """A block inside a book: the name to draw it by, and the object to list under that name."""

    name: str
    reference: IndirectObject


class FormShelf:
    """Finished blocks put into one book as Form XObjects, each once, sharing their fonts.

    Fonts are shared by a hash of everything that belongs to them, program, widths and encoding,
    never by name: two programs of one name may number their glyphs differently.
    """

    def __init__(self, writer: PdfWriter) -> None:
        self._writer = writer
        self._forms: dict[bytes, Form] = {}
        self._fonts: dict[str, IndirectObject] = {}

    def form(self, pdf: bytes) -> Form:
        """The form of a finished block: its box is the block's page, its unit the point."""
        if pdf not in self._forms:
            self._forms[pdf] = Form(f"/Block{len(self._forms)}", self._add(pdf))
        return self._forms[pdf]

    def _add(self, pdf: bytes) -> IndirectObject:
        index = _index_of(pdf)
        start, size = index["content"]
        form = StreamObject()
        form._data = pdf[start : start + size]
        form.update(
            {
                NameObject("/Type"): NameObject("/XObject"),
                NameObject("/Subtype"): NameObject("/Form"),
                NameObject("/BBox"): ArrayObject(FloatObject(side) for side in index["box"]),
                NameObject("/Resources"): _resources(self._shared(index["fonts"], pdf)),
                NameObject("/Filter"): NameObject("/FlateDecode"),
            }
        )
        return self._writer._add_object(form)

    def _shared(self, wanted: dict[str, str], pdf: bytes) -> dict[str, IndirectObject]:
        """A block's fonts by their names in it. The block is taken apart only for one that is new."""
        if not self._fonts.keys() >= set(wanted.values()):
            own = _fonts(PdfReader(io.BytesIO(pdf)).pages[0])
            for name, digest in wanted.items():
                if digest not in self._fonts:
                    self._fonts[digest] = _copy(own[name], self._writer)
        return {name: self._fonts[digest] for name, digest in wanted.items()}


def _index_of(pdf: bytes) -> dict[str, Any]:
    _, found, line = pdf.rpartition(_INDEX)
    if not found:
        raise FormError("an engraved block is not as `finish` leaves it: it does not end with its index")
    index: dict[str, Any] = json.loads(line)
    return index


def _fonts(page: PageObject) -> dict[str, PdfObject]:
    """A page's fonts by the names its content calls them by."""
    resources = page["/Resources"].get_object()
    fonts = resources.get("/Font") if isinstance(resources, DictionaryObject) else None
    listed = fonts.get_object() if fonts is not None else None
    return dict(listed.items()) if isinstance(listed, DictionaryObject) else {}


def _resources(fonts: dict[str, IndirectObject]) -> DictionaryObject:
    listed = DictionaryObject({NameObject(name): font for name, font in fonts.items()})
    return DictionaryObject({NameObject("/Font"): listed})


def _copy(thing: PdfObject, writer: PdfWriter) -> IndirectObject:
    """An object and everything it refers to, put into another file."""
    whole = thing.get_object()
    if whole is None:
        raise FormError("an engraved block refers to an object that it does not hold")
    copied = whole.clone(writer)
    if copied.indirect_reference is None:
        raise FormError("an engraved block has an object that cannot be referred to")
    return copied.indirect_reference


def _digest(thing: PdfObject | None) -> bytes:
    """A hash of an object and everything it refers to, however the objects are numbered."""
    whole = thing.get_object() if thing is not None else None
    digest = hashlib.sha256()
    if isinstance(whole, DictionaryObject):
        for name in sorted(whole):
            digest.update(name.encode() + b"\0" + _digest(whole.raw_get(name)))
        if isinstance(whole, StreamObject):
            digest.update(whole._data)
    elif isinstance(whole, ArrayObject):
        for part in whole:
            digest.update(_digest(part))
    else:
        digest.update(repr(whole).encode())
    return digest.digest()
