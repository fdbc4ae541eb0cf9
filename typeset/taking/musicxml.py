"""Reading a MusicXML score, plain or compressed: its drum parts as pieces."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from xml.etree.ElementTree import Element

from .instruments import Instruments
from .piece import Found, NotRead, Piece, Remark
from .sections import pieces_of
from .staff import Staff, struck_in
from .tree import Document, parse
from .words import plain


def read_musicxml(content: bytes, name: str) -> Found:
    """The pieces of a score's drum parts; `name` is its title where it has none of its own.

    Raises NotRead for what is no score, and for one without a drum part.
    """
    document = parse(content)
    root = document.root
    if root.tag not in ("score-partwise", "score-timewise"):
        raise NotRead(f"this is XML, but no MusicXML score: it begins with <{plain(root.tag)[:40]}>")
    title = plain(root.findtext("movement-title")) or plain(root.findtext("work/work-title")) or name
    parts = _parts(root)
    entries = {entry.get("id", ""): entry for entry in root.iterfind("part-list/score-part")}
    drums = [part for part, measures in parts.items() if next(struck_in(measures), None) is not None]
    remarks = [
        Remark(f"the part '{plain(entries[part].findtext('part-name')) or part}' is no drum part; left out")
        for part in parts
        if part not in drums and part in entries
    ]
    if not drums:
        raise NotRead("there is no drum part in this score: no note of it is struck on something without a pitch")
    pieces: list[Piece] = []
    for part in drums:
        entry = entries.get(part, Element("score-part"))
        heading = title if len(drums) == 1 else plain(entry.findtext("part-name")) or part
        pieces += _part(document, entry, parts[part], heading, remarks)
    if not pieces:
        raise NotRead("there is nothing to play in the drum parts of this score")
    return Found(title, tuple(pieces), tuple(remarks))


def _part(
    document: Document, entry: Element, measures: list[Element], title: str, remarks: list[Remark]
) -> Iterator[Piece]:
    instruments = Instruments.of(entry, struck_in(measures))
    staff = Staff(document, instruments)
    written = staff.read(measures)
    pieces = pieces_of(written, title, staff.remarks)
    remarks += staff.remarks
    doubts = tuple(dict.fromkeys((*instruments.doubts(), *staff.doubts)))
    return (replace(piece, doubts=doubts + piece.doubts) for piece in pieces)


def _parts(root: Element) -> dict[str, list[Element]]:
    """The measures of each part, by its id, whether the score goes by parts or by measures."""
    if root.tag == "score-partwise":
        return {part.get("id", ""): list(part.iterfind("measure")) for part in root.iterfind("part")}
    parts: dict[str, list[Element]] = {}
    for measure in root.iterfind("measure"):
        for part in measure.iterfind("part"):
            turned = Element("measure", measure.attrib)
            turned.extend(part)
            parts.setdefault(part.get("id", ""), []).append(turned)
    return parts
