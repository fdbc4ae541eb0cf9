"""Binding: engraved blocks go into the pages, and the pages into one PDF that finds its way."""

from __future__ import annotations

import hashlib
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby
from typing import cast

from pypdf import PdfReader, PdfWriter
from pypdf.generic import (
    ArrayObject,
    BooleanObject,
    ByteStringObject,
    DecodedStreamObject,
    DictionaryObject,
    Fit,
    NameObject,
    NumberObject,
    RectangleObject,
    StreamObject,
    TextStringObject,
)

from .. import __version__
from ..compose.book import Engraving
from ..engrave.block import Block
from ..page.pages import Pages, Placement
from .forms import Form, FormShelf

_VERSION = "%PDF-1.7"
_DAY = re.compile(r"^(\d{4})-(\d{2})-(\d{2})$")


def bind(pages: Pages, blocks: Mapping[Engraving, Block]) -> bytes:
    """The finished PDF: blocks placed by reference, outline, page labels, page boxes, title and language.

    The same pages and blocks give the same bytes.
    """
    writer = PdfWriter(clone_from=PdfReader(io.BytesIO(pages.pdf)))
    _place(writer, pages.placements, blocks)
    for page in writer.pages:
        page.mediabox = page.cropbox = page.trimbox = page.bleedbox = RectangleObject(
            (0, 0, round(pages.width, 3), round(pages.height, 3))
        )
    _outline(writer, pages)
    _label(writer, pages.labels)
    _describe(writer, pages)
    _identify(writer, pages, blocks)
    writer.pdf_header = _VERSION
    bound = io.BytesIO()
    writer.write(bound)
    return bound.getvalue()


def _place(writer: PdfWriter, placements: Sequence[Placement], blocks: Mapping[Engraving, Block]) -> None:
    """Put each block on the shelf once, and show it wherever it is placed."""
    shelf = FormShelf(writer)
    in_order = sorted(placements, key=lambda placement: placement.page)
    for number, on_page in groupby(in_order, key=lambda placement: placement.page):
        page = writer.pages[number]
        shown = [(shelf.form(blocks[placement.engraving].pdf), placement) for placement in on_page]
        _name(page, [form for form, _ in shown])
        _append(writer, page, "".join(_show(form, placement) for form, placement in shown))


def _show(form: Form, placement: Placement) -> str:
    scale = f"{placement.scale:.5f}".rstrip("0").rstrip(".")
    return f"q {scale} 0 0 {scale} {placement.x:.3f} {placement.y:.3f} cm {form.name} Do Q\n"


def _name(page: DictionaryObject, forms: Sequence[Form]) -> None:
    """Name forms in a page's resources, which pages share until then."""
    resources = DictionaryObject(cast(DictionaryObject, page["/Resources"]))
    named = {NameObject(form.name): form.reference for form in forms}
    resources[NameObject("/XObject")] = DictionaryObject(named)
    page[NameObject("/Resources")] = resources


def _append(writer: PdfWriter, page: DictionaryObject, operators: str) -> None:
    """Add to what a page draws."""
    before = cast(StreamObject, page["/Contents"].get_object())
    stream = DecodedStreamObject()
    stream.set_data(b"q\n" + before.get_data() + b"\nQ\n" + operators.encode("ascii"))
    page[NameObject("/Contents")] = writer._add_object(stream.flate_encode())


def _outline(writer: PdfWriter, pages: Pages) -> None:
    """Chapters and the parts of front and back, with the exercises under their chapters."""
    above = None
    for heading in pages.headings:
        parent = above if heading.depth else None
        item = writer.add_outline_item(
            title=heading.words,
            page_number=heading.page,
            parent=parent,
            fit=Fit.xyz(left=0, top=heading.y),
            is_open=False,
        )
        if heading.depth == 0:
            above = item


def _label(writer: PdfWriter, labels: Sequence[str]) -> None:
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


def _describe(writer: PdfWriter, pages: Pages) -> None:
    """What a reader's program is told: title, author, language, and to show the title."""
    facts = {"/Title": pages.title, "/Creator": f"shedbook {__version__}", "/Producer": "shedbook"}
    if pages.author:
        facts["/Author"] = pages.author
    day = _DAY.match(pages.date or "")
    if day:
        facts["/CreationDate"] = facts["/ModDate"] = f"D:{day[1]}{day[2]}{day[3]}000000Z"
    writer.metadata = facts
    root = writer.root_object
    root[NameObject("/Lang")] = TextStringObject(pages.language)
    root[NameObject("/ViewerPreferences")] = DictionaryObject(
        {NameObject("/DisplayDocTitle"): BooleanObject(True)}
    )


def _identify(writer: PdfWriter, pages: Pages, blocks: Mapping[Engraving, Block]) -> None:
    """An identifier made from what is in the book, so that it is the same for the same book."""
    digest = hashlib.md5(pages.pdf, usedforsecurity=False)
    for placement in pages.placements:
        digest.update(repr((placement.page, placement.x, placement.y, placement.scale)).encode())
        digest.update(blocks[placement.engraving].pdf)
    name = ByteStringObject(digest.digest())
    writer._ID = ArrayObject((name, name))
