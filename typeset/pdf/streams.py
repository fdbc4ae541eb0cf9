"""Streams, and writing a whole PDF small: compressed, with its small objects packed together."""

from __future__ import annotations

import io
import zlib
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import accumulate, islice
from struct import Struct

from pypdf import PdfWriter
from pypdf.generic import (
    ArrayObject,
    DictionaryObject,
    IndirectObject,
    NameObject,
    NumberObject,
    PdfObject,
    StreamObject,
)

from .ready import Ready, array

_LEVEL = 6
"""Of compression. 9 makes a book two hundredths smaller and takes half as long again."""
_HEAD = b"%%PDF-%s\n%%\xe2\xe3\xcf\xd3\n"
_PACKED_TOGETHER = 200
_FREE, _AT, _PACKED = 0, 1, 2
"""The kinds of entries in a cross-reference stream (ISO 32000-1, table 18)."""

Entry = tuple[int, int, int]
"""A kind, and where: a place in the file, or an object stream and a position in it."""


def stream_of(data: bytes) -> StreamObject:
    """A compressed stream."""
    stream = StreamObject()
    stream._data = zlib.compress(data, _LEVEL)
    stream[NameObject("/Filter")] = NameObject("/FlateDecode")
    return stream


def plain(objects: Sequence[bytes]) -> bytes:
    """A small file of objects as `bytes_of` writes them, numbered from 1; the first is its catalog."""
    out = io.BytesIO()
    out.write(_HEAD % b"1.7")
    table = b"0000000000 65535 f \n"
    for number, written_object in enumerate(objects, start=1):
        table += b"%010d 00000 n \n" % out.tell()
        out.write(b"%d 0 obj\n%s\nendobj\n" % (number, written_object))
    start = out.tell()
    size = len(objects) + 1
    out.write(b"xref\n0 %d\n%strailer\n<< /Size %d /Root 1 0 R >>\n" % (size, table, size))
    out.write(b"startxref\n%d\n%%%%EOF\n" % start)
    return out.getvalue()


def written(writer: PdfWriter, version: str) -> bytes:
    """The file of everything that a writer's catalog leads to, `version` as `1.7`.

    What is no stream itself goes into object streams (ISO 32000-1, 7.5.7), and so does the table of where
    everything is: a book has thousands of small objects, which take a third of its file otherwise.
    """
    things = _reached(writer)
    out = io.BytesIO()
    out.write(_HEAD % version.encode())
    entries: dict[int, Entry] = {}
    small = []
    for number, thing in sorted(things.items()):
        if isinstance(thing, StreamObject):
            entries[number] = _write(out, number, thing)
        else:
            small.append((number, thing))
    last = len(writer._objects)
    parts = iter(small)
    while together := list(islice(parts, _PACKED_TOGETHER)):
        last += 1
        entries[last] = _write(out, last, _pack(together))
        entries |= {number: (_PACKED, last, index) for index, (number, _) in enumerate(together)}
    table_at = out.tell()
    entries[last + 1] = (_AT, table_at, 0)
    _write(out, last + 1, _table(writer, entries))
    out.write(f"startxref\n{table_at}\n%%EOF\n".encode())
    return out.getvalue()


def _reached(writer: PdfWriter) -> dict[int, PdfObject]:
    """The objects that the catalog and the information dictionary lead to, and those that are ready, by number."""
    found: dict[int, PdfObject] = {
        number: thing for number, thing in enumerate(writer._objects, start=1) if isinstance(thing, Ready)
    }
    waiting: list[PdfObject] = list(_beginnings(writer).values())
    while waiting:
        thing = waiting.pop()
        if isinstance(thing, IndirectObject):
            target = writer._objects[thing.idnum - 1] if thing.idnum not in found else None
            if target is not None:
                found[thing.idnum] = target
                waiting.append(target)
        elif isinstance(thing, DictionaryObject):
            waiting += dict.values(thing)
        elif isinstance(thing, ArrayObject):
            waiting += list.__iter__(thing)
    return found


def _beginnings(writer: PdfWriter) -> dict[PdfObject, PdfObject]:
    """What a trailer refers to: the catalog, and the information dictionary where there is one."""
    things = {"/Root": writer.root_object, "/Info": writer._info}
    references = {name: thing.indirect_reference for name, thing in things.items() if thing is not None}
    return {NameObject(name): one for name, one in references.items() if one is not None}


def _write(out: io.BytesIO, number: int, thing: PdfObject) -> Entry:
    entry = (_AT, out.tell(), 0)
    out.write(b"%d 0 obj\n%s\nendobj\n" % (number, bytes_of(thing)))
    return entry


def _pack(things: list[tuple[int, PdfObject]]) -> StreamObject:
    """An object stream: numbers and places first, then the objects themselves."""
    body = [bytes_of(thing) for _, thing in things]
    starts = accumulate((len(one) + 1 for one in body), initial=0)
    head = b" ".join(b"%d %d" % (number, start) for (number, _), start in zip(things, starts, strict=False)) + b"\n"
    stream = stream_of(head + b"\n".join(body))
    stream[NameObject("/Type")] = NameObject("/ObjStm")
    stream[NameObject("/N")] = NumberObject(len(things))
    stream[NameObject("/First")] = NumberObject(len(head))
    return stream


def bytes_of(thing: PdfObject) -> bytes:
    """An object as it is written; pypdf's own way is slow at names, of which there are few and many times."""
    if isinstance(thing, Ready):
        return thing.data
    if isinstance(thing, StreamObject):
        size = len(thing._data)
        return b"<<%s /Length %d>>\nstream\n%s\nendstream" % (_entries(thing), size, thing._data)
    if isinstance(thing, DictionaryObject):
        return b"<<%s>>" % _entries(thing)
    if isinstance(thing, ArrayObject):
        return array(map(bytes_of, list.__iter__(thing)))
    if isinstance(thing, IndirectObject):
        return b"%d 0 R" % thing.idnum
    return _name(thing) if isinstance(thing, NameObject) else _serial(thing)


def _entries(thing: DictionaryObject) -> bytes:
    return b" ".join(_name(name) + b" " + bytes_of(value) for name, value in dict.items(thing))


@lru_cache(maxsize=4096)
def _name(name: NameObject) -> bytes:
    return _serial(name)


def _serial(thing: PdfObject) -> bytes:
    """An object as pypdf writes it."""
    out = io.BytesIO()
    thing.write_to_stream(out)
    return out.getvalue()


def _table(writer: PdfWriter, entries: Mapping[int, Entry]) -> StreamObject:
    """The cross-reference stream, which is the trailer too."""
    stream = stream_of(b"".join(_rows(entries)))
    stream[NameObject("/Type")] = NameObject("/XRef")
    stream[NameObject("/Size")] = NumberObject(max(entries) + 1)
    stream[NameObject("/W")] = ArrayObject(NumberObject(width) for width in (1, 4, 2))
    stream.update(_beginnings(writer))
    if writer._ID is not None:
        stream[NameObject("/ID")] = writer._ID
    return stream


def _rows(entries: Mapping[int, Entry]) -> Iterator[bytes]:
    row = Struct(">BIH")
    for number in range(max(entries) + 1):
        yield row.pack(*entries.get(number, (_FREE, 0, 0xFFFF)))
