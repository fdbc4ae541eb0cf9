"""How a reader finds the way: links, the outline, the labels of pages."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from urllib.parse import quote

from pypdf import PageObject, PdfWriter
from pypdf.generic import (
    ArrayObject,
    ByteStringObject,
    DictionaryObject,
    Fit,
    FloatObject,
    IndirectObject,
    NameObject,
    NullObject,
    NumberObject,
    PdfObject,
    TextStringObject,
)

from ..page.pages import Crossing, Heading, Place

_PRINTABLE = "".join(map(chr, range(0x21, 0x7F)))


def add_links(
    writer: PdfWriter, pages: Sequence[PageObject], links: Sequence[Crossing]
) -> dict[int, list[tuple[IndirectObject, int]]]:
    """Boxes to click on, which lead to a place in the book or to an address on the web.

    Gives those of each page, each with the section that it belongs to.
    """
    made: dict[int, list[tuple[IndirectObject, int]]] = defaultdict(list)
    for link in links:
        annotation = DictionaryObject(
            {
                NameObject("/Type"): NameObject("/Annot"),
                NameObject("/Subtype"): NameObject("/Link"),
                NameObject("/Rect"): ArrayObject(FloatObject(round(side, 3)) for side in link.box),
                NameObject("/Border"): ArrayObject([NumberObject(0)] * 3),
                NameObject("/F"): NumberObject(4),  # it is printed, which is to say: nothing is hidden
                **_leading(link.to, pages),
            }
        )
        made[link.page].append((writer._add_object(annotation), link.section))
    for number, on_page in made.items():
        pages[number][NameObject("/Annots")] = ArrayObject(reference for reference, _ in on_page)
    return made


def _leading(to: Place | str, pages: Sequence[PageObject]) -> dict[PdfObject, PdfObject]:
    if isinstance(to, Place):
        return {NameObject("/Dest"): _destination(to, pages)}
    address = ByteStringObject(quote(to, safe=_PRINTABLE).encode("ascii"))
    action = {NameObject("/S"): NameObject("/URI"), NameObject("/URI"): address}
    return {NameObject("/A"): DictionaryObject(action)}


def _destination(place: Place, pages: Sequence[PageObject]) -> ArrayObject:
    page = pages[place.page].indirect_reference
    assert page is not None  # pages of a writer are its objects
    height = FloatObject(round(place.y, 3))
    return ArrayObject([page, NameObject("/XYZ"), NumberObject(0), height, NullObject()])


def add_outline(writer: PdfWriter, headings: Sequence[Heading]) -> None:
    """Chapters and the parts of front and back, with the exercises under their chapters."""
    above = None
    for heading in headings:
        item = writer.add_outline_item(
            title=heading.words,
            page_number=heading.page,
            parent=above if heading.depth else None,
            fit=Fit.xyz(left=0, top=heading.y),
            is_open=False,
        )
        if heading.depth == 0:
            above = item


def label_pages(writer: PdfWriter, labels: Sequence[str]) -> None:
    """Page labels: decimal numbers that run on are one range, everything else is a range of its own."""
    numbers = ArrayObject()
    for page, label in _ranges(labels):
        kind = DictionaryObject()
        if label.isdecimal():
            kind[NameObject("/S")] = NameObject("/D")
            kind[NameObject("/St")] = NumberObject(int(label))
        else:
            kind[NameObject("/P")] = TextStringObject(label)
        numbers += [NumberObject(page), kind]
    writer.root_object[NameObject("/PageLabels")] = DictionaryObject({NameObject("/Nums"): numbers})


def _ranges(labels: Sequence[str]) -> Iterator[tuple[int, str]]:
    """The pages at which labels stop running on by one, and the label there."""
    for page, label in enumerate(labels):
        before = labels[page - 1] if page else ""
        runs_on = label.isdecimal() and before.isdecimal() and int(label) == int(before) + 1
        if not runs_on:
            yield page, label
